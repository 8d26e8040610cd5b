//! What is found of a variant only because it is not said yet which conditions mean it: it waits for the answer.

use std::collections::BTreeSet;

use super::rules::variant_conditions;
use crate::diag::{Diagnostic, Level, Sink};
use crate::model::Manual;
use crate::resolve::{Resolved, resolve};
use crate::source::Spanned;
use crate::units::VariantName;

/// Takes out of `all` what is found of a variant with undecided places and would not be found of it if it inherited its
/// conditions. The finding that asks for the answer counts what waits, and is as grave as the gravest of it. `found` is
/// everything that is found of a manual with these configurations.
pub(super) fn hold_back(
    manual: &Manual,
    resolved: &[Resolved],
    all: &mut Sink,
    found: impl Fn(&Manual, &[Resolved]) -> Sink,
) {
    let asked: Vec<usize> = (0..all.len()).filter(|&i| all[i].rule == variant_conditions::RULE.id).collect();
    let mut waiting: BTreeSet<usize> = BTreeSet::new();
    for at in asked {
        let variant = VariantName::new(&all[at].about[0]);
        let own: Vec<&Resolved> = resolved.iter().filter(|r| r.configuration.variant == variant).collect();
        let of_variant = |d: &Diagnostic| {
            d.level != Level::Question
                && !d.configurations.is_empty()
                && d.configurations.iter().all(|c| own.iter().any(|r| r.name == *c))
        };
        let of_it: Vec<usize> = (0..all.len()).filter(|&i| of_variant(&all[i])).collect();
        if of_it.is_empty() {
            continue;
        }
        let mut supposed = manual.clone();
        let Some(def) = supposed.settings.variants.get_mut(&variant) else { continue };
        def.inherits_conditions = Some(Spanned::new(true, def.name.span));
        let inheriting: Vec<Resolved> = own.iter().map(|r| resolve(&supposed, &r.configuration)).collect();
        let then = found(&supposed, &inheriting);
        let stays = |d: &Diagnostic| then.iter().any(|t| (t.rule, t.span, &t.about) == (d.rule, d.span, &d.about));
        let held: Vec<usize> = of_it.into_iter().filter(|&i| !stays(&all[i])).collect();
        let Some(gravest) = held.iter().map(|&i| all[i].level).min() else { continue };
        let asking = &mut all[at];
        asking.level = asking.level.min(gravest);
        let more = if held.len() == 1 { "finding waits" } else { "findings wait" };
        asking.headline = format!("{}; {} {more} for it", asking.headline, held.len());
        waiting.extend(held);
    }
    let mut at = 0..;
    all.retain(|_| at.next().is_none_or(|i| !waiting.contains(&i)));
}
