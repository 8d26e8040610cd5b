//! The account of finishes by part: bare as it comes, finished by the maker or in a step, drilled through after that.

use std::collections::{BTreeMap, BTreeSet};

use super::HoleLedger;
use crate::model::{By, Hole, HoleAction, MadeBy, Manual, PartAction, StepItem};
use crate::resolve::Resolved;
use crate::units::{PartNumber, StepId};

/// What is wrong with the finish of a part.
#[derive(Clone, Debug)]
pub enum FinishFault<'a> {
    /// The parts list names a finish; the part does not come with it, and no step applies it.
    NeverApplied { part: &'a PartNumber },
    /// Holes that go through a finish that is there by then, and whose bare edges nobody touches up.
    DrilledAfter { part: &'a PartNumber, step: &'a StepId, holes: Vec<&'a StepItem<Hole>> },
}

/// The faults of the finishes of a configuration.
pub fn finish_faults<'a>(manual: &'a Manual, resolved: &'a Resolved, ledger: &HoleLedger<'a>) -> Vec<FinishFault<'a>> {
    let mut faults = Vec::new();
    let listed = |part: &PartNumber| manual.parts.get(part).filter(|p| !p.finish.trim().is_empty());
    let comes_finished = |part: &PartNumber| {
        listed(part).is_some_and(|p| p.supplied.finished || p.supplied.assembled || p.made_by == MadeBy::Bought)
    };
    let mut finished: BTreeSet<&PartNumber> = manual.parts.keys().filter(|part| comes_finished(part)).collect();
    // Of the last finish of each part: what is drilled before it is covered by it.
    let mut last: BTreeMap<&PartNumber, usize> = BTreeMap::new();
    for (at, s) in resolved.steps.iter().enumerate() {
        for part in s.step.parts.iter().filter(|p| p.action == PartAction::Finish) {
            last.insert(&part.part.value, at);
        }
    }
    for (at, s) in resolved.steps.iter().enumerate() {
        let mut through: BTreeMap<&PartNumber, Vec<&StepItem<Hole>>> = BTreeMap::new();
        for hole in s.step.holes.iter().filter(|h| h.by == By::Builder && h.touch_up.is_none()) {
            let part = &hole.part.value;
            let cuts = !matches!(hole.action, HoleAction::Deburr | HoleAction::Prime);
            let covered = last.get(part).is_some_and(|last| *last >= at);
            // What is primed again is no longer bare.
            let name = hole.hole.as_ref().map_or("", |h| h.value.as_str());
            let bare = ledger.holes.get(&(part, name)).is_none_or(|record| record.bare.is_some());
            if cuts && finished.contains(part) && listed(part).is_some() && !covered && bare {
                through.entry(part).or_default().push(hole);
            }
        }
        let step = &s.step.id.value;
        faults.extend(through.into_iter().map(|(part, holes)| FinishFault::DrilledAfter { part, step, holes }));
        for part in s.step.parts.iter().filter(|p| p.action == PartAction::Finish) {
            finished.insert(&part.part.value);
        }
    }
    for (part, account) in &resolved.ledger.parts {
        let Some((number, _)) = manual.parts.get_key_value(part).filter(|_| listed(part).is_some()) else { continue };
        if !account.steps.is_empty() && !finished.contains(number) {
            faults.push(FinishFault::NeverApplied { part: number });
        }
    }
    faults
}
