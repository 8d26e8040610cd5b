//! Left and right: where a step's hand, a part's hand and a part's number contradict one another, and which of
//! them is most likely the wrong one.
//!
//! A hand that is swapped leaves the quantities whole; a part that is swapped for its opposite does not. That tells
//! a wrong `hand:` of a step from a wrong part in it.

use std::collections::BTreeSet;

use indexmap::IndexMap;

use super::Balance;
use crate::model::{Manual, Opposite, Part, Step};
use crate::source::Span;
use crate::units::{Hand, PartNumber};

/// A contradiction of hands, blamed on one place.
#[derive(Clone, Debug)]
pub enum HandFault<'a> {
    /// The hand column against the ending of the number.
    Cell { part: &'a Part, by_number: Hand },
    /// A part and its opposite are of one hand.
    Same { part: &'a Part, other: &'a Part },
    /// The step's hand against that of all its handed parts.
    Step { step: &'a Step, hand: Hand, parts: Vec<(&'a PartNumber, Span)> },
    /// A part of the wrong hand in a step, with every place there that names it.
    Part { step: &'a Step, hand: Hand, part: &'a Part, places: Vec<Span> },
}

/// All contradictions of a manual, each blamed once.
pub fn faults<'a>(manual: &'a Manual, balance: &Balance) -> Vec<HandFault<'a>> {
    let mut faults = Vec::new();
    let mut doubtful: BTreeSet<&PartNumber> = BTreeSet::new();
    for part in manual.parts.values() {
        if let Some(by_number) = manual.settings.hand_of_number(part.number.as_str())
            && part.hand != Some(by_number)
        {
            doubtful.insert(&part.number.value);
            faults.push(HandFault::Cell { part, by_number });
        }
    }
    for part in manual.parts.values() {
        let Some(other) = part.opposite.as_ref().and_then(|o| manual.parts.get(&o.value)) else { continue };
        let pair = [&part.number.value, &other.number.value];
        if pair[0] == pair[1]
            || part.hand.is_none()
            || part.hand != other.hand
            || pair.iter().any(|n| doubtful.contains(n))
        {
            continue;
        }
        doubtful.extend(pair);
        // The one that stands in steps of the other hand is the wrong one; else the one further down the list.
        let against = |p: &Part| handed(manual).any(|(step, hand)| Some(hand) != p.hand && takes(step, p));
        let (part, other) = if against(part) && !against(other) { (part, other) } else { (other, part) };
        faults.push(HandFault::Same { part, other });
    }
    for (step, hand) in handed(manual) {
        in_step(manual, balance, &doubtful, step, hand, &mut faults);
    }
    // A made step has the faults of the one it was made from.
    let blamed: BTreeSet<_> = faults.iter().filter_map(step_of).map(|s| s.id.value.clone()).collect();
    faults.retain(
        |f| !matches!(step_of(f).map(|s| &s.opposite), Some(Opposite::Of(written)) if blamed.contains(written)),
    );
    faults
}

fn step_of<'a>(fault: &HandFault<'a>) -> Option<&'a Step> {
    match fault {
        HandFault::Step { step, .. } | HandFault::Part { step, .. } => Some(step),
        HandFault::Cell { .. } | HandFault::Same { .. } => None,
    }
}

fn handed(manual: &Manual) -> impl Iterator<Item = (&Step, Hand)> {
    manual.steps.iter().filter_map(|s| Some((s, s.hand?.value)))
}

fn takes(step: &Step, part: &Part) -> bool {
    step.parts.iter().any(|p| p.part.value == part.number.value)
}

fn in_step<'a>(
    manual: &'a Manual,
    balance: &Balance,
    doubtful: &BTreeSet<&PartNumber>,
    step: &'a Step,
    hand: Hand,
    faults: &mut Vec<HandFault<'a>>,
) {
    let taken = step.parts.iter().map(|p| &p.part);
    let clamped = step.joints.iter().flat_map(|j| &j.stack).map(|m| &m.part);
    let cut = step.cuts.iter().flat_map(|c| std::iter::once(&c.part).chain(&c.onto));
    let bent = step.bends.iter().map(|b| &b.part).chain(step.flattened.iter().map(|f| &f.part));
    let cables = step.cables.iter().filter_map(|c| c.part.as_ref());
    let cut = cut.chain(bent).chain(cables);
    let drilled = step.holes.iter().flat_map(|h| std::iter::once(&h.part).chain(&h.from));
    let mut wrong: IndexMap<&PartNumber, (&Part, Vec<Span>)> = IndexMap::new();
    let mut any_right = false;
    for name in taken.chain(clamped).chain(cut).chain(drilled) {
        let Some(part) = manual.parts.get(&name.value) else { continue };
        match part.hand {
            Some(h) if h == hand => any_right |= !doubtful.contains(&part.number.value),
            Some(_) if !doubtful.contains(&part.number.value) => {
                wrong.entry(&name.value).or_insert((part, Vec::new())).1.push(name.span);
            }
            _ => {}
        }
    }
    if wrong.is_empty() {
        return;
    }
    let parts_are_right = !any_right && !wrong.keys().any(|n| balance.is_short(n));
    if parts_are_right {
        let parts = wrong.into_iter().map(|(number, (_, places))| (number, places[0])).collect();
        faults.push(HandFault::Step { step, hand, parts });
    } else {
        faults.extend(wrong.into_values().map(|(part, places)| HandFault::Part { step, hand, part, places }));
    }
}
