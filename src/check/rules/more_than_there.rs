//! A step that uses or finishes more of a part than the kit holds.
//!
//! It matters because the builder looks for the rest, or takes another part for it.
//!
//! Wrong: `{ part: KW-104, quantity: 3, do: use }` of a part of which there are two. Right: two.
//!
//! To accept: `accept: [{ rule: more-than-there, about: KW-104, reason: ... }]` in the step's file.

use std::collections::BTreeMap;

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::PartAction;
use crate::resolve::Resolved;
use crate::source::Span;
use crate::units::PartNumber;

pub const RULE: Rule = Rule {
    id: "more-than-there",
    level: Level::Error,
    summary: "a step that uses or finishes more of a part than there are",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("more_than_there.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for s in &r.steps {
        let mut wanted: BTreeMap<(&PartNumber, PartAction), (i64, Span)> = BTreeMap::new();
        for item in s.step.parts.iter().filter(|p| matches!(p.action, PartAction::Use | PartAction::Finish)) {
            let entry = wanted.entry((&item.part.value, item.action)).or_insert((0, item.quantity_span));
            *entry = (entry.0 + item.quantity, item.quantity_span);
        }
        for ((part, action), (count, span)) in wanted {
            let there = r.ledger.parts.get(part).map_or(0, |a| a.listed);
            // Of a part that is not there at all other findings speak.
            if count <= there || there == 0 || ctx.in_doubt(r, part) {
                continue;
            }
            sink.push(
                RULE.found(format!(
                    "step `{}` is to {} {count} of {part}, and there are {there}",
                    s.step.id.value,
                    action.word()
                ))
                .at(span, format!("{there} in the kit"))
                .help("correct the quantity, or the number of the part where another was meant")
                .about(part)
                .about(&s.step.id.value),
            );
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn no_more_than_the_kit_holds() {
        assert_eq!(
            sound()
                .edit("steps/finish/20-brake.md", "part: KW-105, do: use", "part: KW-105, quantity: 2, do: use")
                .findings(),
            ["more-than-there steps/finish/20-brake.md `2`"]
        );
        let twice = sound().edit(
            "steps/frame/40-paint.md",
            "  - { part: KW-104, quantity: 2, do: finish }\n",
            "  - { part: KW-104, quantity: 2, do: finish }\n  - { part: KW-104, quantity: 2, do: finish }\n",
        );
        assert_eq!(twice.findings(), ["more-than-there steps/frame/40-paint.md `2`"]);
    }
}
