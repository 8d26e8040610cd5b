//! A cut whose finished length is not the cut length of the part in the parts list.
//!
//! It matters because the shop cuts by the list and the builder by the step.
//!
//! Wrong: `length: 40` in the step, `cut length` 42 in the list. Right: the same length in both, or none in the step.
//!
//! To accept: `accept: [{ rule: length-differs, about: KW-101, reason: ... }]` in the step's file.

use super::cut_too_long::text;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "length-differs",
    level: Level::Error,
    summary: "a finished length that a step and the parts list give differently",
    source: "common practice: a dimension stands in one place, or says the same in both",
    bending: Leave::Allowed,
    file: include_str!("length_differs.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for (step, cut) in ctx.cuts() {
        let listed = ctx.manual.parts.get(&cut.part.value).and_then(|p| p.cut_length);
        let (Some(here), Some(listed)) = (cut.length, listed) else { continue };
        if here.value == listed.value {
            continue;
        }
        sink.push(
            RULE.found(format!(
                "{} is {} in the step and {} in the parts list",
                cut.part.value,
                text(ctx, here.value),
                text(ctx, listed.value)
            ))
            .at(here.span, "not the length of the parts list")
            .note(listed.span, "the parts list")
            .help("correct one of the two, or leave `length` out here")
            .about(&cut.part.value)
            .about(&step.id.value),
        );
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn one_length() {
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "length: 40", "length: 39.5").findings(),
            ["length-differs steps/frame/10-keel.md `39.5`"]
        );
        assert_eq!(sound().edit("steps/frame/10-keel.md", "length: 40", "length: 1016 mm").findings(), [""; 0]);
    }
}
