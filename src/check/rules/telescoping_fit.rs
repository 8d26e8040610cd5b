//! A tube that is fastened inside another and does not slide into it, needs honing, or is loose.
//!
//! It matters because a sleeve that does not go in stops the work, and a loose one lets the bolts take what the tube
//! should.
//!
//! Two tubes right through which one joint goes, one after the other in its stack, are taken to be inside each other
//! where the bore and the tube differ by no more than 1/16 in. The finish of both parts is taken off: its thickness is
//! `finish-thickness` in manual.yaml.
//!
//! Wrong: 1 1/8 in tube in 1 1/4 in tube with a wall of .065, which has a bore of 1.120. Right: a wall of .058.
//!
//! To accept: `accept: [{ rule: telescoping-fit, about: KW-103, reason: ... }]` in the step's file.

use super::cut_too_long::text;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::Through;
use crate::plan::tube_size;
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
                if bare > most || bare < Length::ZERO - most || outer_size.0 == inner_size.0 {
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
}
