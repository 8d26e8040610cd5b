//! Holes that are made for a fastener and do not get one: too many of them, or joints with another fastener.

use std::collections::{BTreeMap, BTreeSet};

use super::hole_fault::{HoleFault, HoleFaultKind};
use super::hole_ledger::same_size;
use super::{HoleLedger, HoleRecord, Items};
use crate::model::HardwareAction;
use crate::resolve::Resolved;
use crate::units::{Designation, Length, PartNumber};

/// What joints put through a part.
#[derive(Default)]
struct Through<'a> {
    fasteners: BTreeSet<&'a Designation>,
    /// Something that is not counted: of unknown diameter, or fitted for a time.
    uncounted: bool,
}

/// The holes of a configuration that stay empty. `used` are the fasteners that were put through each part, by diameter.
pub(super) fn unused<'a>(
    items: &Items,
    resolved: &'a Resolved,
    ledger: &HoleLedger<'a>,
    used: &BTreeMap<(&'a PartNumber, Length), i64>,
) -> Vec<HoleFault<'a>> {
    let diameter = |d: &Designation| items.get(d).and_then(|i| i.diameter).map(|d| d.value);
    let mut through: BTreeMap<&PartNumber, Through> = BTreeMap::new();
    for joint in resolved.steps.iter().flat_map(|s| &s.step.joints) {
        for member in &joint.stack {
            let part = through.entry(&member.part.value).or_default();
            part.fasteners.insert(&joint.fastener.value);
            part.uncounted |= joint.action != HardwareAction::Fit || diameter(&joint.fastener.value).is_none();
        }
    }
    // Where hardware goes that stands in no joint, or in one that does not say what it clamps, is not known.
    let fits = |a: HardwareAction| matches!(a, HardwareAction::Fit | HardwareAction::Refit);
    let listed =
        resolved.steps.iter().flat_map(|s| &s.step.hardware).filter(|h| fits(h.action)).map(|h| &h.hardware.value);
    let nowhere =
        resolved.steps.iter().flat_map(|s| &s.step.joints).filter(|j| j.stack.is_empty()).map(|j| &j.fastener.value);
    // What is screwed into a part has a hole of another size there.
    let threaded =
        resolved.steps.iter().flat_map(|s| &s.step.joints).filter(|j| j.into.is_some()).map(|j| &j.fastener.value);
    let loose: BTreeSet<&Designation> = listed.chain(nowhere).chain(threaded).collect();
    let mut made: BTreeMap<(&PartNumber, Length), (i64, &HoleRecord<'a>)> = BTreeMap::new();
    let mut faults = Vec::new();
    for record in ledger.holes.values() {
        let Some(for_) = record.for_.filter(|f| !loose.contains(f)) else { continue };
        let Some(size) = diameter(for_) else { continue };
        let right = record.groups.iter().filter(|g| !g.pilot && g.size.is_some_and(|s| same_size(s, size)));
        made.entry((record.part, size)).or_insert((0, record)).0 += right.map(|g| g.count).sum::<i64>();
        let Some(there) = through.get(record.part) else { continue };
        let same: Vec<_> = there.fasteners.iter().copied().filter(|f| diameter(f) == Some(size)).collect();
        if !same.is_empty() && !same.contains(&for_) {
            faults.extend(fault(record, HoleFaultKind::ForAnother { for_: for_.as_str(), fitted: same }));
        }
    }
    let together = together(resolved);
    let mut left: Vec<Left> = Vec::new();
    for ((part, size), (made, record)) in made {
        let fitted = used.get(&(part, size)).copied().unwrap_or(0);
        // A part that no step takes is another finding.
        let here = resolved.ledger.parts.get(part).is_some_and(|a| !a.steps.is_empty());
        if made > fitted && here && !through.get(part).is_some_and(|t| t.uncounted) {
            left.push(Left { part, record, size, made, fitted });
        }
    }
    for l in &left {
        let near = |o: &&Left| {
            let excess = o.size == l.size && o.made - o.fitted == l.made - l.fitted;
            excess && o.part != l.part && together.get(l.part).is_some_and(|with| with.contains(o.part))
        };
        let with = left.iter().filter(near).map(|o| o.part).collect();
        let for_ = l.record.for_.map_or("", Designation::as_str);
        faults.extend(fault(l.record, HoleFaultKind::LeftEmpty { for_, made: l.made, fitted: l.fitted, with }));
    }
    faults
}

/// Holes of a part that stay empty.
struct Left<'a, 'r> {
    part: &'a PartNumber,
    record: &'r HoleRecord<'a>,
    size: Length,
    made: i64,
    fitted: i64,
}

/// The parts that each part is fastened to or drilled through together with.
fn together(resolved: &Resolved) -> BTreeMap<&PartNumber, BTreeSet<&PartNumber>> {
    let mut with: BTreeMap<&PartNumber, BTreeSet<&PartNumber>> = BTreeMap::new();
    for s in &resolved.steps {
        let stacks = s.step.joints.iter().map(|j| j.stack.iter().map(|m| &m.part.value).collect::<Vec<_>>());
        let drilled = s.step.holes.iter().filter_map(|h| Some(vec![&h.part.value, &h.from.as_ref()?.value]));
        for parts in stacks.chain(drilled) {
            for part in &parts {
                with.entry(part).or_default().extend(&parts);
            }
        }
    }
    with
}

/// A fault of a hole, where it was last worked on.
fn fault<'a>(record: &HoleRecord<'a>, kind: HoleFaultKind<'a>) -> Option<HoleFault<'a>> {
    let work = record.work.iter().rev().find(|w| w.hole.for_.is_some())?;
    let span = match (&kind, &work.hole.for_) {
        (HoleFaultKind::ForAnother { .. }, Some(for_)) => for_.span,
        _ => work.hole.hole.as_ref().map_or(work.hole.span, |h| h.span),
    };
    Some(HoleFault { kind, part: record.part, step: &work.step.step.id.value, span })
}
