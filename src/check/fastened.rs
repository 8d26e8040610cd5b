//! What the rules about joints and holes share: how a finding names its joint, how strong it may be, how lengths are
//! written.

use std::collections::BTreeSet;

use super::{Context, MOST_NOTES};
use crate::diag::{Diagnostic, Level, Note, Sink};
use crate::joint::{HoleFault, HoleFaultKind, SeenJoint};
use crate::resolve::Resolved;
use crate::source::Span;
use crate::trade::{Source, newton_metres};
use crate::units::{Length, Measure, MeasureUnit, PartNumber, Rational, UnitStyle, plain};

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

/// A worked-out length in the units of the manual: three decimals of an inch, or one of a millimetre.
pub fn decimal_words(ctx: &Context, inches: f64) -> String {
    match ctx.manual.settings.units {
        UnitStyle::Millimetre => format!("{:.1} mm", inches * 25.4),
        _ => format!("{inches:.3} in"),
    }
}

/// A torque of a table, in-lb, in the units of the manual.
pub fn torque_words(ctx: &Context, inch_pounds: i64) -> String {
    let torque = Measure { value: Rational::from_integer(inch_pounds), unit: MeasureUnit::InchPound };
    let style = ctx.manual.settings.units;
    let metric = newton_metres(torque).filter(|_| style == UnitStyle::Millimetre);
    plain(&metric.unwrap_or(torque).pieces(style))
}

/// The faults of holes in a configuration. Those that another finding explains are passed over.
pub fn hole_faults<'c>(ctx: &'c Context, r: &Resolved) -> impl Iterator<Item = &'c HoleFault<'c>> {
    let excuses = &ctx.excuses;
    let excused =
        |f: &&HoleFault| excuses.steps_unread || excuses.steps.contains(f.step) || excuses.parts.contains(f.part);
    ctx.ledger(r).faults.iter().filter(move |f| !excused(f))
}

/// The findings of one rule about holes. Fasteners of one size that find no hole in a part, or in the parts of one joint,
/// are one finding: a hole is missing, or a place is too many.
pub fn holes(ctx: &Context, r: &Resolved, found: impl Fn(&HoleFault) -> Option<Diagnostic>) -> Sink {
    let mut sink = Sink::new();
    let mut missing: Vec<MissingFastening> = Vec::new();
    for f in hole_faults(ctx, r) {
        let Some(d) = found(f) else { continue };
        let d = d.about(f.part).about(f.step);
        let HoleFaultKind::NoHoleForFastener { joint, .. } = &f.kind else {
            sink.push(d);
            continue;
        };
        let size = ctx.items.get(&joint.fastener.value).and_then(|i| i.diameter).map(|d| d.value);
        match missing
            .iter_mut()
            .find(|m| m.size == size && (m.parts.contains(f.part) || m.joints.contains(&joint.span)))
        {
            Some(first) => {
                let more = first.finding.notes.len() < MOST_NOTES && first.finding.span != d.span;
                first
                    .finding
                    .notes
                    .extend(d.span.filter(|_| more).map(|span| Note { span, label: format!("and here, {}", f.part) }));
                first.parts.insert(f.part);
                first.joints.insert(joint.span);
            }
            None => {
                missing.push(MissingFastening { size, parts: [f.part].into(), joints: [joint.span].into(), finding: d })
            }
        }
    }
    sink.extend(missing.into_iter().map(|m| m.finding));
    sink
}

/// A hole that is missing, wherever that shows.
struct MissingFastening<'a> {
    size: Option<Length>,
    parts: BTreeSet<&'a PartNumber>,
    joints: BTreeSet<Span>,
    finding: Diagnostic,
}
