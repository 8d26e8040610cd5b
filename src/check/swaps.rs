//! Parts taken in place of others: one number is short by as many as another, much like it, is left over.

use std::collections::{BTreeMap, BTreeSet};

use super::names::{Kind, Mention, Names, Use};
use super::{Balance, Excuses};
use crate::model::{Manual, Part};
use crate::resolve::Resolved;
use crate::units::{PartNumber, StepId};

/// The parts that are short, each with the one that was probably meant.
#[derive(Debug, Default)]
pub struct Swaps {
    meant: BTreeMap<PartNumber, PartNumber>,
}

impl Swaps {
    pub fn new(manual: &Manual, resolved: &[Resolved], names: &Names, balance: &Balance, excuses: &Excuses) -> Self {
        let free = |p: &&Part| !excuses.parts.contains(&p.number.value);
        let over: Vec<&Part> =
            manual.parts.values().filter(free).filter(|p| balance.is_left_over(&p.number.value)).collect();
        let mut swaps = Self::default();
        for part in manual.parts.values().filter(free).filter(|p| balance.is_short(&p.number.value)) {
            let taken_from = |other: &&&Part| {
                !swaps.is_meant(&other.number.value)
                    && mirrors(resolved, balance, &part.number.value, &other.number.value)
            };
            let best = over.iter().filter(taken_from).filter_map(|other| Some((nearness(names, part, other)?, *other)));
            let best = best.min_by(|a, b| a.0.cmp(&b.0).then_with(|| a.1.number.value.cmp(&b.1.number.value)));
            if let Some((_, other)) = best {
                swaps.meant.insert(part.number.value.clone(), other.number.value.clone());
            }
        }
        swaps
    }

    /// The part that was probably meant where a short one was written.
    pub fn meant_by(&self, short: &PartNumber) -> Option<&PartNumber> {
        self.meant.get(short)
    }

    /// Whether a part that is left over is explained by another that is short.
    pub fn is_meant(&self, over: &PartNumber) -> bool {
        self.meant.values().any(|m| m == over)
    }
}

/// Whether in every configuration one is short by as many as the other is left over.
fn mirrors(resolved: &[Resolved], balance: &Balance, short: &PartNumber, over: &PartNumber) -> bool {
    let off = |r: &Resolved, part| balance.misfit(&r.name, part).map_or(0, |m| m.taken - m.listed);
    resolved.iter().all(|r| off(r, short) == -off(r, over))
}

/// How likely `a` is written for `b`: opposites first, then by what differs; none where much does and no step that takes
/// `a` speaks of `b`.
fn nearness(names: &Names, a: &Part, b: &Part) -> Option<usize> {
    if a.opposite.as_ref().is_some_and(|o| o.value == b.number.value) {
        return Some(0);
    }
    let distance = strsim::damerau_levenshtein(a.number.as_str(), b.number.as_str());
    let near = distance <= (a.number.as_str().chars().count() / 3).max(1);
    (near || !takers(names, a).is_disjoint(&speakers(names, b))).then_some(distance)
}

/// The steps that take a part.
fn takers<'a>(names: &'a Names, part: &Part) -> BTreeSet<&'a StepId> {
    steps(names.mentions(Kind::Part, part.number.as_str()).iter().filter(|m| m.how == Use::Taken))
}

/// The steps that name a part in any way.
fn speakers<'a>(names: &'a Names, part: &Part) -> BTreeSet<&'a StepId> {
    steps(names.mentions(Kind::Part, part.number.as_str()).iter())
}

fn steps<'a>(mentions: impl Iterator<Item = &'a Mention<'a>>) -> BTreeSet<&'a StepId> {
    mentions.filter_map(|m| m.step.map(|s| &s.id.value)).collect()
}
