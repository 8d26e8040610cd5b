//! The conditions of a manual, and whether one can hold at all.

use std::collections::{BTreeMap, BTreeSet};

use crate::model::{Manual, Settings};
use crate::resolve::{
    Configuration, ConfigurationRefusal, Facts, PlacedCondition, allowed, conditions, holds, in_words,
};
use crate::source::{Span, Spanned};
use crate::syntax::Condition;
use crate::units::{OptionName, VariantName};

/// All conditions of a manual, and which of them can never hold.
#[derive(Debug, Default)]
pub struct Conditions<'a> {
    all: Vec<PlacedCondition<'a>>,
    /// Indices into `all`.
    never: Vec<usize>,
    lost: BTreeSet<Span>,
}

impl<'a> Conditions<'a> {
    pub fn collect(manual: &'a Manual) -> Self {
        let settings = &manual.settings;
        let mut found = Self { all: conditions(manual), ..Self::default() };
        // The same few conditions stand in many places.
        let mut known: BTreeMap<String, bool> = BTreeMap::new();
        for (i, placed) in found.all.iter().enumerate() {
            let mut together = placed.around.clone();
            together.push(placed.condition);
            if !together.iter().all(|c| sound(settings, c)) {
                found.lost.insert(placed.span);
                continue;
            }
            let mut possible = |all: &[&Condition]| {
                let words = all.iter().map(|c| in_words(c)).collect::<Vec<_>>().join(" / ");
                *known.entry(words).or_insert_with(|| can_hold(settings, all))
            };
            // Under a condition that never holds, that one is to blame.
            if !possible(&together) {
                found.lost.insert(placed.span);
                if placed.around.is_empty() || possible(&placed.around) {
                    found.never.push(i);
                }
            }
        }
        found
    }

    pub fn all(&self) -> impl Iterator<Item = &PlacedCondition<'a>> {
        self.all.iter()
    }

    /// Those that can hold in no allowed configuration, where nothing around them is to blame.
    pub fn never(&self) -> impl Iterator<Item = &PlacedCondition<'a>> {
        self.never.iter().map(|&i| &self.all[i])
    }

    /// Whether what stands under a condition is in no document: it names nothing, or can't hold.
    pub fn loses(&self, only: Option<&Spanned<Condition>>) -> bool {
        only.is_some_and(|c| self.lost.contains(&c.span))
    }
}

/// Whether every name in a condition exists.
fn sound(settings: &Settings, condition: &Condition) -> bool {
    condition.names().into_iter().all(|(name, variant_only)| {
        settings.variants.contains_key(&VariantName::new(&name.value))
            || !variant_only && settings.options.contains_key(&OptionName::new(&name.value))
    })
}

/// Whether there is an allowed configuration, with any serial, in which all of `conditions` hold.
///
/// Tries each variant with each choice of the named options, completed by what these require, and each serial at
/// which a range begins or ends. Exponential in the number of different options named in the conditions; beyond
/// twelve of them it answers yes.
fn can_hold(settings: &Settings, conditions: &[&Condition]) -> bool {
    let mut named: BTreeSet<OptionName> = BTreeSet::new();
    let mut serials = BTreeSet::from([0]);
    for condition in conditions {
        let names = condition.names().into_iter().map(|(n, _)| OptionName::new(&n.value));
        named.extend(names.filter(|n| settings.options.contains_key(n)));
        for leaf in condition.leaves() {
            if let Condition::Serial { from, to, .. } = leaf {
                serials.extend([from.saturating_sub(1), *from, *to, to.saturating_add(1)]);
            }
        }
    }
    // Not converted, or from any of the variants.
    let converts = conditions.iter().any(|c| c.asks_conversion());
    let all: Vec<Option<&VariantName>> =
        if converts { settings.variants.keys().map(Some).collect() } else { Vec::new() };
    let starts: Vec<Option<&VariantName>> = std::iter::once(None).chain(all).collect();
    let named: Vec<_> = named.into_iter().collect();
    if named.len() > 12 {
        return true;
    }
    let hold = |variant: &VariantName, options: &BTreeSet<OptionName>| {
        let tries = serials.iter().flat_map(|serial| starts.iter().map(move |from| (*serial, *from)));
        tries.into_iter().any(|(serial, from)| {
            let plain = Configuration::of(variant.clone(), options.clone());
            let configuration = Configuration { serial: Some(serial), from: from.cloned(), ..plain };
            let facts = Facts { settings, configuration: &configuration };
            conditions.iter().all(|c| holds(c, &facts))
        })
    };
    settings.variants.keys().any(|variant| {
        (0_u32..1 << named.len()).any(|mask| {
            let chosen = |i: usize| mask >> i & 1 == 1;
            let options: BTreeSet<_> =
                named.iter().enumerate().filter(|&(i, _)| chosen(i)).map(|(_, o)| o.clone()).collect();
            let barred: BTreeSet<_> = named.iter().filter(|o| !options.contains(*o)).collect();
            hold(variant, &options) && can_complete(settings, variant, options, &barred)
        })
    })
}

/// Whether `options` can be made an allowed set by adding others that are not `barred`.
fn can_complete(
    settings: &Settings,
    variant: &VariantName,
    options: BTreeSet<OptionName>,
    barred: &BTreeSet<&OptionName>,
) -> bool {
    let wanted = match allowed(settings, variant, &options) {
        Ok(()) => return true,
        Err(ConfigurationRefusal::Requires(_, other)) => vec![other],
        Err(ConfigurationRefusal::NoneOf(_, members)) => members,
        Err(_) => return false,
    };
    wanted.into_iter().filter(|o| !barred.contains(o) && !options.contains(o)).any(|o| {
        let mut more = options.clone();
        more.insert(o);
        can_complete(settings, variant, more, barred)
    })
}
