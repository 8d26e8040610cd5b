//! A tube that is fastened inside another and does not slide into it, needs honing, or is loose.
//!
//! It matters because a sleeve that does not go in stops the work, and a loose one lets the bolts take what the tube
//! should.
//!
//! Two tubes right through which one joint goes, one after the other in its stack, are taken to be inside each other
//! where the bore and the tube differ by no more than 1/16 in, or where the bolt fits the outer tube alone and not both beside
//! one another: then the tubes are an error, and the bolt is none. The finish of both parts is taken off: its thickness is
//! `finish-thickness` in manual.yaml.
//!
//! Wrong: 1 1/8 in tube in 1 1/4 in tube with a wall of .065, which has a bore of 1.120. Right: a wall of .058.
//!
//! To accept: `accept: [{ rule: telescoping-fit, about: KW-103, reason: ... }]` in the step's file.

use super::cut_too_long::text;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Diagnostic, Level, Note, Sink};
use crate::joint::{Member, SeenJoint, rules_for};
use crate::model::Through;
use crate::plan::tube_size;
use crate::source::Span;
use crate::trade::fit::{Clamp, CountedAs, Shank, judge};
use crate::trade::{Slide, slide};
use crate::units::{Length, PartNumber};
use std::collections::BTreeSet;

pub const RULE: Rule = Rule {
    id: "telescoping-fit",
    level: Level::Warning,
    summary: "a tube inside another that does not slide, is tight or loose",
    source: "arithmetic; a clearance of .005 to .020 in (common practice)",
    bending: Leave::Allowed,
    file: include_str!("telescoping_fit.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let mut parted: BTreeSet<Span> = BTreeSet::new();
    for joint in &ctx.joints {
        let Some(d) = no_longer(ctx, joint) else { continue };
        parted.insert(joint.joint.span);
        // One tube of the wrong size is one finding, in however many it was to slide.
        match sink.iter_mut().find(|first: &&mut Diagnostic| first.about[0] == d.about[0]) {
            Some(first) => {
                first.configurations.extend(d.configurations);
                first.notes.extend(d.span.map(|span| Note { span, label: "and here".to_owned() }));
            }
            None => sink.push(d),
        }
    }
    let mut seen: BTreeSet<(&PartNumber, &PartNumber)> = BTreeSet::new();
    for step in &ctx.manual.steps {
        for joint in &step.joints {
            for pair in joint.stack.windows(2) {
                let (a, b) = (&pair[0], &pair[1]);
                if a.through != Through::Tube || b.through != Through::Tube {
                    continue;
                }
                let size = |m: &crate::model::StackMember| tube_size(ctx.manual, &m.part.value);
                let (Some(of_a), Some(of_b)) = (size(a), size(b)) else { continue };
                let ((outer, inner), (outer_size, inner_size)) =
                    if of_a.0 >= of_b.0 { ((a, b), (of_a, of_b)) } else { ((b, a), (of_b, of_a)) };
                let bare = outer_size.0 - outer_size.1 * 2 - inner_size.0;
                let most = Length::inches(1, 16);
                let apart = bare > most || bare < Length::ZERO - most || outer_size.0 == inner_size.0;
                if apart || parted.contains(&joint.span) {
                    continue;
                }
                if !seen.insert((&outer.part.value, &inner.part.value)) {
                    continue;
                }
                let finish = |number: &PartNumber| {
                    let part = ctx.manual.parts.get(number);
                    part.and_then(|p| ctx.manual.settings.finish_thickness.get(&p.finish))
                        .copied()
                        .unwrap_or(Length::ZERO)
                };
                // The clearance takes one thickness four times; each part has its own twice.
                let both = finish(&outer.part.value) + finish(&inner.part.value);
                let each = Length::from_inches(both.as_inches() / crate::units::Rational::from_integer(2));
                let (clearance, how) =
                    slide(inner_size.0, outer_size.0, outer_size.1, each, ctx.manual.settings.telescoping).value;
                let words = match how {
                    Slide::Slides => continue,
                    Slide::Interference => "does not go into",
                    Slide::Tight => "is tight in",
                    Slide::Loose => "is loose in",
                };
                sink.push(
                    RULE.found(format!("{} {words} {}: clearance {}", inner.part.value, outer.part.value, text(ctx, clearance)))
                        .at(inner.part.span, "inside the other tube")
                        .note(outer.part.span, format!("its bore is {}", text(ctx, outer_size.0 - outer_size.1 * 2)))
                        .help("choose stock that leaves .005 to .020 in, or say in the text what the builder does about it and accept this")
                        .about(&inner.part.value)
                        .about(&step.id.value),
                );
            }
        }
    }
    sink
}

/// Two tubes of a joint that were to slide into one another and do not any more: its bolt fits the outer one alone, and not
/// both beside one another.
fn no_longer(ctx: &Context, seen: &SeenJoint) -> Option<Diagnostic> {
    let (outer, inner) = parted(ctx, seen)?;
    let size = |member: &Member| tube_size(ctx.manual, &member.member.part.value);
    let ((outside, wall), (inside, _)) = (size(outer)?, size(inner)?);
    let bore = outside - wall * 2;
    let (inner, outer) = (&inner.member.part, &outer.member.part);
    let how = if inside > bore { "does not go into" } else { "is far too loose in" };
    let mut d = RULE
        .found(format!(
            "{} {how} {}: {} across in a bore of {}",
            inner.value,
            outer.value,
            text(ctx, inside),
            text(ctx, bore)
        ))
        .at(inner.span, "was to slide in the other tube, as the bolt shows")
        .note(outer.span, "the other tube")
        .help(format!(
            "correct the stock of {} or of {}; the bolt is that of the outer tube alone",
            inner.value, outer.value
        ))
        .about(&inner.value)
        .about(seen.step);
    // The joint can't be made.
    d.level = Level::Error;
    d.configurations = seen.configurations.iter().map(|name| (*name).to_owned()).collect();
    Some(d)
}

/// The outer and the inner of such a pair.
pub(super) fn parted<'s, 'a>(ctx: &Context, seen: &'s SeenJoint<'a>) -> Option<(&'s Member<'a>, &'s Member<'a>)> {
    let reading = &seen.reading;
    let faulty = matches!(&reading.fit, Some(Ok(fit)) if !fit.faults.is_empty());
    let (bolt, thickness, washers) = (reading.fastener.as_deref()?, reading.thickness?, reading.washers.as_ref()?);
    let shank = Shank::of(bolt).filter(|_| faulty)?;
    let rules = rules_for(ctx.manual, seen.joint, Some(bolt));
    reading.members.windows(2).find_map(|pair| {
        let tube = |m: &Member| m.member.through == Through::Tube && matches!(m.counted, Some(CountedAs::As(_)));
        let size = |m: &Member| tube_size(ctx.manual, &m.member.part.value);
        let (a, b) = (&pair[0], &pair[1]);
        let (of_a, of_b) = (size(a).filter(|_| tube(a))?, size(b).filter(|_| tube(b))?);
        let (outer, inner, less) = if of_a.0 >= of_b.0 { (a, b, of_b.0) } else { (b, a, of_a.0) };
        let clamp = Clamp {
            stack: thickness.map(|stack| stack - less),
            under_head: washers.0.clone(),
            under_nut: washers.1.clone(),
            nut_height: reading.nut.as_ref().and_then(|n| n.height),
        };
        let fits = matches!(judge(&shank, &clamp, &rules), Ok(fit) if fit.faults.is_empty());
        fits.then_some((outer, inner))
    })
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{Case, sound};

    /// A joint through the keel, of 1 1/4 in tube, and a sleeve of 1 1/8 in.
    fn sleeved(wall: &str, finish: &str) -> Vec<String> {
        let stock = format!("T-8,4130,round tube,1 1/4,{wall},144\nT-9,4130,round tube,1 1/8,.058,144\n");
        let case: Case = sound()
            .add("stock.csv", &stock)
            .edit("parts.csv", "Keel tube,,,T-1", "Keel tube,,,T-8")
            .edit("parts.csv", "Rail,,,T-1", "Rail,,,T-9")
            .add("manual.yaml", finish)
            .add("steps/frame/99-sleeve.md", "---\nstep: sleeve\ntitle: Sleeve\nsection: frame\njoints:\n  - { fastener: AN4-10A, stack: [{ part: KW-101, through: tube }, { part: KW-105, through: tube }] }\n---\n1. Fit it.\n");
        case.findings().into_iter().filter(|f| f.starts_with("telescoping")).collect()
    }

    /// .058 in walls leave .009 in (computed), .049 .027, .065 nothing.
    #[test]
    fn a_sleeve_slides() {
        let found = ["telescoping-fit steps/frame/99-sleeve.md `KW-105`"];
        assert_eq!(sleeved(".058", ""), [""; 0]);
        assert_eq!(sleeved(".049", ""), found);
        assert_eq!(sleeved(".065", ""), found);
    }

    /// AN4-16A is right for 1 1/4 in of tube and two washers, not for 1 1/4 in and a sleeve beside it.
    #[test]
    fn a_sleeve_of_another_size_is_the_only_finding() {
        let joint = "{ fastener: AN4-16A, stack: [{ part: KW-101, through: tube }, { part: KW-105, through: tube }], \
                     under-nut: [2 x AN960-416], nut: AN365-428A }";
        let with = |sleeve: &str| {
            let found = sound()
                .add(
                    "stock.csv",
                    &format!("T-8,4130,round tube,1 1/4,.058,144\nT-9,4130,round tube,{sleeve},.058,144\n"),
                )
                .edit("parts.csv", "Keel tube,,,T-1", "Keel tube,,,T-8")
                .edit("parts.csv", "Rail,,,T-1", "Rail,,,T-9")
                .edit("hardware.csv", "AN4-10A,", "AN4-16A,Bolt,bolt,each\nAN4-10A,")
                .add(
                    "steps/frame/99-sleeve.md",
                    &format!(
                        "---\nstep: sleeve\ntitle: Sleeve\nsection: frame\njoints:\n  - {joint}\n---\n1. Fit it.\n"
                    ),
                )
                .findings();
            found.into_iter().filter(|f| f.starts_with("telescoping") || f.starts_with("bolt")).collect::<Vec<_>>()
        };
        assert_eq!(with("1 1/8"), [""; 0]);
        assert_eq!(with("7/8"), ["telescoping-fit steps/frame/99-sleeve.md `KW-105`"]);
        assert_eq!(with("1 3/16"), ["telescoping-fit steps/frame/99-sleeve.md `KW-105`"]);
    }
}
