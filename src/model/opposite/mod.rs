//! The step for the other hand, made from the written one.
//!
//! A step with `opposite: yes` stands for two. The second is made when all has been read, before any configuration, so
//! that ordering, booking and every rule meet it as if it had been written. Its spans are those of the written step.
//!
//! Owns: what changes of itself (part numbers, side words, offsets, clock positions, callouts, drawings), what does
//! not, and where that can't be told. Must not know: configurations, documents.

mod step;
mod tree;
mod unclear;
mod units;
mod words;

use std::collections::{BTreeMap, BTreeSet};

use super::{Manual, Opposite, Step};
use crate::diag::Sink;
use crate::figure::FigureFile;
use crate::units::{FigureName, Hand, PartNumber, StepId};

pub use unclear::{Unclear, UnclearKind, unclear};
pub use units::step_units;
pub use words::Sides;

/// The side words of a manual for a step: its own and the language's.
pub fn sides(manual: &Manual, step: &Step) -> Sides {
    let (keep, swap) = match &step.opposite {
        Opposite::Made { keep, swap, .. } => (keep.as_slice(), swap.as_slice()),
        _ => (&[][..], &[][..]),
    };
    let settings = &manual.settings;
    Sides::new(&settings.side_words, settings.opposite_keep.iter().chain(keep), swap)
}

/// The id of the step made from another.
fn made_id(id: &StepId, hand: Hand) -> StepId {
    StepId::new(format!("{id}:{}", hand.opposite().word()))
}

/// Adds the made steps (reading them may find more than reading the written ones did), each behind its own or behind the section's last, and the mirrored drawings.
pub(super) fn expand(manual: &mut Manual, sink: &mut Sink) {
    let pairs: BTreeMap<StepId, StepId> = manual
        .steps
        .iter()
        .filter(|s| matches!(s.opposite, Opposite::Made { .. }))
        .filter_map(|s| Some((s.id.value.clone(), made_id(&s.id.value, s.hand?.value))))
        .collect();
    if pairs.is_empty() {
        return;
    }
    let parts = part_pairs(manual);
    let mut drawings: BTreeMap<FigureName, FigureFile> = BTreeMap::new();
    let mut made: BTreeMap<StepId, Step> = BTreeMap::new();
    for step in manual.steps.iter().filter(|s| pairs.contains_key(&s.id.value)) {
        let sides = sides(manual, step);
        let shown = step.hand.map_or("", |h| h.value.word());
        let mut mirror =
            step::Mirror { manual, sides: &sides, parts: &parts, pairs: &pairs, shown, drawings: &mut drawings };
        if let Some(twin) = mirror.step(step, sink) {
            made.insert(step.id.value.clone(), twin);
        }
    }
    let written = std::mem::take(&mut manual.steps);
    let apart = |s: &Step| manual.settings.sections.iter().any(|x| x.hands_apart && x.id.value == s.section.value);
    let last: BTreeSet<StepId> = {
        let mut of_section = BTreeMap::new();
        for s in written.iter().filter(|s| made.contains_key(&s.id.value) && apart(s)) {
            of_section.insert(s.section.value.clone(), s.id.value.clone());
        }
        of_section.into_values().collect()
    };
    let mut waiting: BTreeMap<_, Vec<Step>> = BTreeMap::new();
    let mut steps = Vec::with_capacity(written.len() + made.len());
    for mut step in written {
        if matches!(step.opposite, Opposite::None) {
            both_hands(&mut step, &pairs);
        }
        let twin = made.remove(&step.id.value);
        let (apart, is_last, section) = (apart(&step), last.contains(&step.id.value), step.section.value.clone());
        steps.push(step);
        match twin {
            Some(twin) if apart => waiting.entry(section.clone()).or_default().push(twin),
            Some(twin) => steps.push(twin),
            None => {}
        }
        if is_last {
            steps.extend(waiting.remove(&section).unwrap_or_default());
        }
    }
    manual.steps = steps;
    manual.figures.extend(drawings);
}

/// Who waits for a step that stands for two waits for both.
fn both_hands(step: &mut Step, pairs: &BTreeMap<StepId, StepId>) {
    let more: Vec<_> = step
        .after
        .iter()
        .filter_map(|after| {
            let made = pairs.get(&after.value.value)?;
            let mut item = after.clone();
            item.value.value = made.clone();
            Some(item)
        })
        .collect();
    step.after.extend(more);
}

/// Each handed part's opposite: what the list says, else the number with the other ending, where there is such a part.
fn part_pairs(manual: &Manual) -> BTreeMap<PartNumber, PartNumber> {
    let mut pairs = BTreeMap::new();
    for (number, part) in &manual.parts {
        if let Some(other) = &part.opposite {
            pairs.insert(number.clone(), other.value.clone());
        } else if let Some((left, right)) = &manual.settings.hand_suffixes {
            let text = number.as_str();
            let other = text
                .strip_suffix(left.as_str())
                .map(|stem| format!("{stem}{right}"))
                .or_else(|| text.strip_suffix(right.as_str()).map(|stem| format!("{stem}{left}")));
            if let Some(other) = other.map(PartNumber::new).filter(|o| manual.parts.contains_key(o)) {
                pairs.insert(number.clone(), other);
            }
        }
    }
    pairs
}

#[cfg(test)]
mod tests;
