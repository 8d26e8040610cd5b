//! What the rules about joints and holes share: how a finding names its joint, how strong it may be, how lengths are
//! written.

use super::Context;
use crate::diag::{Diagnostic, Level, Sink};
use crate::joint::{HoleFault, SeenJoint};
use crate::resolve::Resolved;
use crate::trade::Source;
use crate::units::{Length, plain};

/// How a joint is called in a headline: `joint keel-bolts`, or by its fastener.
pub fn called(seen: &SeenJoint) -> String {
    match &seen.joint.id {
        Some(id) => format!("joint `{}`", id.value),
        None => format!("the joint with {}", seen.joint.fastener.value),
    }
}

/// Marks a finding as one about a joint, in the configurations where it stands so.
pub fn about_joint(d: Diagnostic, seen: &SeenJoint) -> Diagnostic {
    let name = seen.joint.id.as_ref().map_or(seen.joint.fastener.value.as_str(), |id| id.value.as_str());
    let d = d.about(name).about(seen.step);
    seen.configurations.iter().fold(d, |d, c| d.in_configuration(c))
}

/// A finding that rests on a value from memory warns; it never fails a build.
pub fn no_stronger_than(mut d: Diagnostic, source: Source) -> Diagnostic {
    if !source.may_fail() && d.level == Level::Error {
        d.level = Level::Warning;
    }
    d
}

/// A length as the manual writes it.
pub fn words(ctx: &Context, length: Length) -> String {
    plain(&length.pieces(ctx.manual.settings.units))
}

/// The findings of one rule about holes. Faults that another finding explains are passed over.
pub fn holes(ctx: &Context, r: &Resolved, found: impl Fn(&HoleFault) -> Option<Diagnostic>) -> Sink {
    let ledger = ctx.ledger(r);
    let excuses = &ctx.excuses;
    let excused = |f: &HoleFault| {
        excuses.steps_unread || excuses.steps.contains(f.step) || excuses.parts.contains(f.part)
    };
    ledger.faults.iter().filter(|f| !excused(f)).filter_map(|f| Some(found(f)?.about(f.part).about(f.step))).collect()
}
