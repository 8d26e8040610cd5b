//! Steps that vanished under one id and came back, nearly the same, under another.

use std::collections::BTreeMap;

use super::compare::StepMark;
use super::entries::StepEntry;
use crate::units::StepId;

/// A step that was probably given a new id.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Renamed {
    pub from: StepMark,
    pub to: StepMark,
    /// How much of the two is the same, in percent.
    pub alike: u32,
}

/// Less than this, in percent, is another step.
const ALIKE: u32 = 70;

/// For each vanished step the new one that is most like it, where it is alike enough.
pub(super) fn renamed<'a>(
    removed: &[StepMark],
    added: &[StepMark],
    before: impl Fn(&StepId) -> &'a Vec<StepEntry>,
    after: impl Fn(&StepId) -> &'a Vec<StepEntry>,
) -> Vec<Renamed> {
    let mut left: Vec<&StepMark> = added.iter().collect();
    let mut found = Vec::new();
    for from in removed {
        let old = counts(before(&from.id));
        let best = left.iter().enumerate().map(|(i, to)| (alike(&old, &counts(after(&to.id))), i)).max_by_key(|b| b.0);
        if let Some((alike, at)) = best.filter(|b| b.0 >= ALIKE) {
            found.push(Renamed { from: from.clone(), to: left.remove(at).clone(), alike });
        }
    }
    found
}

type Counts<'a> = BTreeMap<(&'a str, &'a str, &'a str), usize>;

fn counts(entries: &[StepEntry]) -> Counts<'_> {
    let mut counts = Counts::new();
    for e in entries {
        *counts.entry((&e.field, &e.name, &e.value)).or_default() += 1;
    }
    counts
}

/// Twice what is common over the sum of both, in percent (L. R. Dice, 1945).
fn alike(a: &Counts, b: &Counts) -> u32 {
    let common: usize = a.iter().map(|(e, n)| n.min(b.get(e).unwrap_or(&0))).sum();
    let all: usize = a.values().chain(b.values()).sum();
    (200 * common).checked_div(all).map_or(0, |share| share as u32)
}
