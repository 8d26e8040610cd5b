//! Which of several joints of one part lacks its holes.
//!
//! Holes of one size are counted together, so that the joint at which they run out need not be the one that has none: holes
//! that are drilled through together with the members of another joint are that joint's.

use super::Items;
use super::hole_fault::{HoleFault, HoleFaultKind};
use super::hole_ledger::{HoleLedger, same_size};
use super::hole_record::HoleRecord;
use crate::model::{HardwareAction, Joint, StackMember, StepItem};
use crate::resolve::{Resolved, ResolvedStep};
use crate::units::PartNumber;

/// A joint that a part stands in.
struct JointOfPart<'a> {
    step: &'a ResolvedStep,
    joint: &'a StepItem<Joint>,
    member: &'a StepItem<StackMember>,
}

/// Puts each fastener without a hole to the joint that no hole was made with, where there is exactly one.
pub(super) fn put_to_their_joints<'a>(items: &Items, resolved: &'a Resolved, ledger: &mut HoleLedger<'a>) {
    for at in 0..ledger.faults.len() {
        let moved = moved(items, resolved, ledger, &ledger.faults[at]);
        if let Some(moved) = moved {
            ledger.faults[at] = moved;
        }
    }
}

fn moved<'a>(
    items: &Items,
    resolved: &'a Resolved,
    ledger: &HoleLedger<'a>,
    fault: &HoleFault<'a>,
) -> Option<HoleFault<'a>> {
    let HoleFaultKind::NoHoleForFastener { joint, pilot, .. } = &fault.kind else { return None };
    let diameter = |j: &Joint| items.get(&j.fastener.value).and_then(|f| f.diameter).map(|d| d.value);
    let wanted = diameter(joint).filter(|_| pilot.is_empty())?;
    let of_size = |r: &&HoleRecord| {
        r.part == fault.part && r.groups.iter().any(|g| !g.pilot && g.size.is_some_and(|size| same_size(size, wanted)))
    };
    // A hole that no other part guides may be that of any joint.
    let guided_from_here = |by: &PartNumber| {
        ledger
            .holes
            .values()
            .filter(|r| r.part == by)
            .flat_map(|r| &r.work)
            .any(|w| is_from(w.hole.from.as_ref(), fault.part))
    };
    let all_guided = ledger.holes.values().filter(of_size).all(|r| r.work.iter().any(|w| w.hole.from.is_some()));
    if !all_guided {
        return None;
    }
    let has_holes = |j: &JointOfPart| {
        let mut others = j.joint.stack.iter().map(|m| &m.part.value).filter(|p| *p != fault.part);
        others.any(|other| {
            let with = |r: &HoleRecord| r.work.iter().any(|w| is_from(w.hole.from.as_ref(), other));
            guided_from_here(other) || ledger.holes.values().filter(of_size).any(with)
        })
    };
    let joints = resolved.steps.iter().flat_map(|step| {
        let fitted = step.step.joints.iter().filter(|j| j.action == HardwareAction::Fit && diameter(j) == Some(wanted));
        fitted.filter_map(move |joint| {
            let member = joint.stack.iter().find(|m| m.part.value == *fault.part)?;
            Some(JointOfPart { step, joint, member })
        })
    });
    let mut without = joints.filter(|j| !has_holes(j));
    let (one, None) = (without.next()?, without.next()) else { return None };
    let kind = HoleFaultKind::NoHoleForFastener {
        joint: one.joint,
        member: one.member,
        there: 0,
        needed: one.joint.places,
        pilot: Vec::new(),
    };
    Some(HoleFault { kind, part: fault.part, step: &one.step.step.id.value, span: one.member.part.span })
}

fn is_from(from: Option<&crate::source::Spanned<PartNumber>>, part: &PartNumber) -> bool {
    from.is_some_and(|from| from.value == *part)
}
