//! An assembly that no step makes.
//!
//! It matters because the builder would look for something that nobody built. However often a wrong name is used,
//! it is one finding: at its first place, with notes at the others.
//!
//! Wrong: `- { assembly: keel }` while the step says `makes: [keel-tube]`. Right: `- { assembly: keel-tube }`.
//!
//! It can't be accepted: with a name of nothing no document is true.

use crate::check::names::Kind;
use crate::check::unknown::unknown;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unknown-assembly",
    level: Level::Error,
    summary: "an assembly that no step makes",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_assembly.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    // The step that makes it may stand in a file that could not be read.
    if ctx.excuses.steps_unread {
        return Sink::new();
    }
    let otherwise = "write what a step `makes`, or add `makes:` to the step that makes it";
    unknown(ctx, &RULE, Kind::Assembly, |name| format!("no step makes `{name}`"), otherwise)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn one_finding_at_the_first_place() {
        assert_eq!(sound().findings(), [""; 0]);
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "assembly: keel-tube", "assembly: keel-tub").findings(),
            ["unknown-assembly steps/frame/20-left.md `keel-tub`"]
        );
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "makes: [keel-tube]", "makes: [keel]").findings(),
            ["unknown-assembly steps/frame/20-left.md `keel-tube`"]
        );
    }
}
