//! Kits as they were shipped: what is wrong with the rows of the register, and what is found of the steps of a kit because
//! of what is really in it.

use super::check_since;
use super::rules::{shipped_count, shipped_place, substitute_unsuited, substitution_not_approved};
use crate::change::Past;
use crate::diag::{Diagnostic, Level, Sink};
use crate::model::Manual;
use crate::resolve::{Resolved, resolve};
use crate::source::SourceMap;

/// What is wrong with the rows of a kit, held against its own configuration at its release. Whether a substitute fits is not
/// judged here.
pub fn row_faults(kit: &Resolved) -> Sink {
    let found = |fault| {
        substitution_not_approved::found(fault)
            .or_else(|| shipped_place::found(fault))
            .or_else(|| shipped_count::found(fault))
            .or_else(|| substitute_unsuited::found(fault))
    };
    kit.shipped.faults.iter().filter_map(found).map(|d: Diagnostic| d.in_configuration(&kit.name)).collect()
}

/// What is found of a kit as it was shipped and is not found of the same kit as its release says it: each joint that a row
/// touches is judged again, and so is all that follows from it.
pub fn kit_faults(manual: &Manual, kit: &Resolved, sources: &SourceMap) -> Sink {
    if kit.configuration.deviations.is_empty() {
        return Sink::new();
    }
    let of =
        |kit: &Resolved| check_since(manual, std::slice::from_ref(kit), &[], &Past::default(), sources, Sink::new());
    let plain = || of(&resolve(manual, &kit.configuration.without_deviations()));
    let (shipped, plain) = rayon::join(|| of(kit), plain);
    let known = |d: &Diagnostic| plain.iter().any(|p| (p.rule, p.span, &p.headline) == (d.rule, d.span, &d.headline));
    // What a row makes unused is no mistake of the lists. Questions are asked of the sources alone.
    let follows = |d: &Diagnostic| d.rule.starts_with("unused-") || d.level == Level::Question;
    shipped.into_iter().filter(|d| !known(d) && !follows(d)).map(|d| d.in_configuration(&kit.name)).collect()
}
