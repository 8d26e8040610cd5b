//! A step that says its jig serves both hands, and from which no opposite is made.
//!
//! It matters because the manual then tells the builder of a second hand that no step builds.
//!
//! Wrong: `one-jig` in a step without `opposite: yes`. Right: both, or neither.
//!
//! To accept: `accept: [{ rule: one-jig-one-hand, reason: ... }]` in the step.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::Opposite;

pub const RULE: Rule = Rule {
    id: "one-jig-one-hand",
    level: Level::Warning,
    summary: "a jig for both hands in a step without an opposite",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("one_jig_one_hand.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in ctx.manual.steps.iter().filter(|s| matches!(s.opposite, Opposite::None)) {
        let Some(jig) = &step.one_jig else { continue };
        let id = &step.id.value;
        sink.push(
            RULE.found(format!("step {id} has a jig for both hands and no opposite"))
                .at(jig.span, "which other hand?")
                .help("add `hand` and `opposite: yes`, or take `one-jig` out")
                .about(id),
        );
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn both_hands_are_there() {
        let case =
            sound().edit("steps/frame/10-keel.md", "tools: [saw]", "one-jig: { face-up: outer face }\ntools: [saw]");
        assert_eq!(case.findings(), ["one-jig-one-hand steps/frame/10-keel.md `{ face-up: outer face }`"]);
    }
}
