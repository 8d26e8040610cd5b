//! A straight part that is cut at both ends to fit the same piece.
//!
//! It matters because a straight tube meets another at one end only: one of the two names the wrong part, and its
//! template is of the wrong tube or shows the wrong hand.
//!
//! Wrong: end A and end B of `KW-110` both `onto: KW-101-L`. Right: one of them onto `KW-101-R`.
//!
//! To accept: `accept: [{ rule: both-ends-onto-one, about: KW-110, reason: ... }]` in the step's file.

use std::collections::BTreeMap;

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::TubeEnd;
use crate::resolve::Resolved;
use crate::source::Span;
use crate::units::PartNumber;

pub const RULE: Rule = Rule {
    id: "both-ends-onto-one",
    level: Level::Error,
    summary: "a straight part cut at both ends to fit the same piece",
    source: "geometry",
    bending: Leave::Allowed,
    file: include_str!("both_ends_onto_one.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut first: BTreeMap<(&PartNumber, &PartNumber), (TubeEnd, Span)> = BTreeMap::new();
    let mut sink = Sink::new();
    for s in &r.steps {
        for cut in &s.step.cuts {
            let (part, Some(onto), Some(end)) = (&cut.part.value, &cut.onto, cut.end) else { continue };
            let before = *first.entry((part, &onto.value)).or_insert((end.value, onto.span));
            let both = end.value == TubeEnd::Both || before.0 != end.value;
            let one = r.ledger.parts.get(&onto.value).is_some_and(|a| a.listed == 1);
            let bent = r.steps.iter().flat_map(|s| &s.step.bends).any(|b| b.part.value == *part);
            if !both || !one || bent || ctx.excuses.parts.contains(part) || ctx.excuses.parts.contains(&onto.value) {
                continue;
            }
            let d = RULE
                .found(format!("both ends of {part} are cut to fit {}, of which there is one", onto.value))
                .at(onto.span, "the same piece as the other end")
                .help("name the part that this end meets")
                .about(part)
                .about(&s.step.id.value);
            sink.push(if before.1 == onto.span { d } else { d.note(before.1, "the other end") });
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn two_ends_meet_two_parts() {
        let step = "steps/frame/10-keel.md";
        let cut = |end: &str| {
            format!(
                "  - {{ part: KW-101, end: {end}, cut: saddle, onto: KW-105, angle: 90, offset: 0, long-point: 12 }}\n"
            )
        };
        let with = |cuts: &str| {
            let case = sound().edit(
                step,
                "  - { part: KW-101, end: A, cut: mitre, angle: 22.5, length: 40, trim: 2, long-point: 12 }\n",
                cuts,
            );
            case.findings().into_iter().filter(|f| f.starts_with("both-ends")).collect::<Vec<_>>()
        };
        assert_eq!(with(&cut("A")), [""; 0]);
        assert_eq!(with(&(cut("A") + &cut("B"))), ["both-ends-onto-one steps/frame/10-keel.md `KW-105`"]);
        assert_eq!(with(&cut("both")), ["both-ends-onto-one steps/frame/10-keel.md `KW-105`"]);
    }
}
