//! A step id that no step has.
//!
//! It matters because the order would be another one than was meant, or a reference would lead nowhere. However
//! often a wrong name is used, it is one finding: at its first place, with notes at the others.
//!
//! Wrong: `after: [keal]`. Right: `after: [keel]`.
//!
//! It can't be accepted: with a name of nothing no document is true.

use crate::check::names::Kind;
use crate::check::unknown::unknown;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unknown-step",
    level: Level::Error,
    summary: "a step id that no step has",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_step.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    // The step may stand in a file that could not be read.
    if ctx.excuses.steps_unread {
        return Sink::new();
    }
    unknown(
        ctx,
        &RULE,
        Kind::Step,
        |name| format!("there is no step `{name}`"),
        "write the `step:` of a step of this manual",
    )
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn one_finding_at_the_first_place() {
        assert_eq!(sound().findings(), [""; 0]);
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "after: [keel]", "after: [keal]").findings(),
            ["unknown-step steps/frame/20-left.md `keal`"]
        );
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "step:left-bracket", "step:left-braket").findings(),
            ["unknown-step steps/frame/10-keel.md `left-braket`"]
        );
    }
}
