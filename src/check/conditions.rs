//! Every condition of a manual with its place, and whether one can hold at all.

use std::collections::{BTreeMap, BTreeSet};

use super::prose;
use crate::model::{Item, Manual, Settings, Step};
use crate::resolve::{Configuration, Facts, Refusal, allowed, condition_names, holds, in_words};
use crate::source::{Span, Spanned};
use crate::syntax::Condition;
use crate::units::{OptionName, VariantName};

/// A condition in its place.
#[derive(Clone, Debug)]
pub struct Placed<'a> {
    pub condition: &'a Condition,
    pub span: Span,
    /// The conditions around it, the outermost first.
    pub around: Vec<&'a Condition>,
    pub step: Option<&'a Step>,
    /// What it decides about: `step`, `item`, `text`, `page`, `option`.
    pub of: &'static str,
}

/// All conditions of a manual, and which of them can never hold.
#[derive(Debug, Default)]
pub struct Conditions<'a> {
    all: Vec<Placed<'a>>,
    /// Indices into `all`.
    never: Vec<usize>,
    lost: BTreeSet<Span>,
}

impl<'a> Conditions<'a> {
    pub fn collect(manual: &'a Manual) -> Self {
        let settings = &manual.settings;
        let mut conditions = Self { all: collect(manual), ..Self::default() };
        // The same few conditions stand in many places.
        let mut known: BTreeMap<String, bool> = BTreeMap::new();
        for (i, placed) in conditions.all.iter().enumerate() {
            let mut together = placed.around.clone();
            together.push(placed.condition);
            if !together.iter().all(|c| sound(settings, c)) {
                conditions.lost.insert(placed.span);
                continue;
            }
            let mut possible = |all: &[&Condition]| {
                let words = all.iter().map(|c| in_words(c)).collect::<Vec<_>>().join(" / ");
                *known.entry(words).or_insert_with(|| can_hold(settings, all))
            };
            // Under a condition that never holds, that one is to blame.
            if !possible(&together) {
                conditions.lost.insert(placed.span);
                if placed.around.is_empty() || possible(&placed.around) {
                    conditions.never.push(i);
                }
            }
        }
        conditions
    }

    pub fn all(&self) -> impl Iterator<Item = &Placed<'a>> {
        self.all.iter()
    }

    /// Those that can hold in no allowed configuration, where nothing around them is to blame.
    pub fn never(&self) -> impl Iterator<Item = &Placed<'a>> {
        self.never.iter().map(|&i| &self.all[i])
    }

    /// Whether what stands under a condition is in no document: it names nothing, or can't hold.
    pub fn loses(&self, only: Option<&Spanned<Condition>>) -> bool {
        only.is_some_and(|c| self.lost.contains(&c.span))
    }
}

/// All conditions: of options, of steps and what is in them, of pages.
fn collect(manual: &Manual) -> Vec<Placed<'_>> {
    let mut list = Vec::new();
    for option in manual.settings.options.values() {
        if let Some(only) = &option.only {
            list.push(Placed { condition: &only.value, span: only.span, around: Vec::new(), step: None, of: "option" });
        }
    }
    for step in &manual.steps {
        of_step(step, &mut list);
    }
    for page in &manual.pages {
        let mut around = Vec::new();
        if let Some(only) = &page.only {
            list.push(Placed { condition: &only.value, span: only.span, around: Vec::new(), step: None, of: "page" });
            around.push(&only.value);
        }
        prose::conditions(&page.body, &mut around, &mut |condition, span, around| {
            list.push(Placed { condition, span, around: around.to_vec(), step: None, of: "text" });
        });
    }
    list
}

fn of_step<'a>(step: &'a Step, list: &mut Vec<Placed<'a>>) {
    fn add<'a, T>(items: &'a [Item<T>], step: &'a Step, around: &[&'a Condition], list: &mut Vec<Placed<'a>>) {
        for only in items.iter().filter_map(|i| i.only.as_ref()) {
            let around = around.to_vec();
            list.push(Placed { condition: &only.value, span: only.span, around, step: Some(step), of: "item" });
        }
    }
    let mut around: Vec<&Condition> = Vec::new();
    if let Some(only) = &step.only {
        list.push(Placed { condition: &only.value, span: only.span, around: Vec::new(), step: Some(step), of: "step" });
        around.push(&only.value);
    }
    add(&step.after, step, &around, list);
    add(&step.makes, step, &around, list);
    add(&step.parts, step, &around, list);
    add(&step.assemblies, step, &around, list);
    add(&step.hardware, step, &around, list);
    add(&step.joints, step, &around, list);
    for joint in &step.joints {
        let mut around = around.clone();
        around.extend(joint.only.as_ref().map(|o| &o.value));
        add(&joint.stack, step, &around, list);
    }
    add(&step.cuts, step, &around, list);
    add(&step.bends, step, &around, list);
    add(&step.flattened, step, &around, list);
    add(&step.cables, step, &around, list);
    for cable in &step.cables {
        let mut around = around.clone();
        around.extend(cable.only.as_ref().map(|o| &o.value));
        add(&cable.run, step, &around, list);
    }
    add(&step.holes, step, &around, list);
    add(&step.offsets, step, &around, list);
    add(&step.tools, step, &around, list);
    add(&step.consumables, step, &around, list);
    add(&step.safety, step, &around, list);
    add(&step.figures, step, &around, list);
    for figure in &step.figures {
        let mut around = around.clone();
        around.extend(figure.only.as_ref().map(|o| &o.value));
        add(&figure.callouts, step, &around, list);
        add(&figure.arrows, step, &around, list);
    }
    add(&step.measures, step, &around, list);
    add(&step.inspects, step, &around, list);
    add(&step.closes, step, &around, list);
    prose::conditions(&step.body, &mut around, &mut |condition, span, around| {
        list.push(Placed { condition, span, around: around.to_vec(), step: Some(step), of: "text" });
    });
}

/// Whether every name in a condition exists.
fn sound(settings: &Settings, condition: &Condition) -> bool {
    condition_names(condition).into_iter().all(|(name, variant_only)| {
        settings.variants.contains_key(&VariantName::new(&name.value))
            || !variant_only && settings.options.contains_key(&OptionName::new(&name.value))
    })
}

/// Whether a condition asks for serial numbers.
pub fn has_serial(condition: &Condition) -> bool {
    match condition {
        Condition::Serial { .. } => true,
        Condition::Not(c) => has_serial(c),
        Condition::And(list) | Condition::Or(list) => list.iter().any(has_serial),
        _ => false,
    }
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
        let names = condition_names(condition).into_iter().map(|(n, _)| OptionName::new(&n.value));
        named.extend(names.filter(|n| settings.options.contains_key(n)));
        boundaries(condition, &mut serials);
    }
    // Not converted, or from any of the variants.
    let converts = conditions.iter().any(|c| has_conversion(c));
    let all: Vec<Option<&VariantName>> = if converts { settings.variants.keys().map(Some).collect() } else { Vec::new() };
    let starts: Vec<Option<&VariantName>> = std::iter::once(None).chain(all).collect();
    let named: Vec<_> = named.into_iter().collect();
    if named.len() > 12 {
        return true;
    }
    let hold = |variant: &VariantName, options: &BTreeSet<OptionName>| {
        let tries = serials.iter().flat_map(|serial| starts.iter().map(move |from| (*serial, *from)));
        tries.into_iter().any(|(serial, from)| {
            let configuration =
                Configuration { variant: variant.clone(), options: options.clone(), serial: Some(serial), from: from.cloned() };
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
        Err(Refusal::Requires(_, other)) => vec![other],
        Err(Refusal::NoneOf(_, members)) => members,
        Err(_) => return false,
    };
    wanted.into_iter().filter(|o| !barred.contains(o) && !options.contains(o)).any(|o| {
        let mut more = options.clone();
        more.insert(o);
        can_complete(settings, variant, more, barred)
    })
}

fn has_conversion(condition: &Condition) -> bool {
    match condition {
        Condition::Conversion { .. } => true,
        Condition::Not(c) => has_conversion(c),
        Condition::And(list) | Condition::Or(list) => list.iter().any(has_conversion),
        _ => false,
    }
}

fn boundaries(condition: &Condition, serials: &mut BTreeSet<u32>) {
    match condition {
        Condition::Serial { from, to, .. } => {
            serials.extend([from.saturating_sub(1), *from, *to, to.saturating_add(1)]);
        }
        Condition::Not(c) => boundaries(c, serials),
        Condition::And(list) | Condition::Or(list) => list.iter().for_each(|c| boundaries(c, serials)),
        _ => {}
    }
}
