//! A tool that manual.yaml does not name.
//!
//! It matters because the builder's list of tools would lack it. However often a wrong name is used, it is one
//! finding: at its first place, with notes at the others.
//!
//! Wrong: `tools: [dril]`. Right: `tools: [drill]`.
//!
//! It can't be accepted: with a name of nothing no document is true.

use crate::check::names::Kind;
use crate::check::unknown::unknown;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unknown-tool",
    level: Level::Error,
    summary: "a tool that manual.yaml does not name",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_tool.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let otherwise = "write an id of `tools` in manual.yaml, or add the tool there";
    unknown(ctx, &RULE, Kind::Tool, |name| format!("there is no tool `{name}`"), otherwise)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn one_finding_at_the_first_place() {
        assert_eq!(sound().findings(), [""; 0]);
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "tools: [drill]", "tools: [dril]").findings(),
            ["unknown-tool steps/frame/20-left.md `dril`"]
        );
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "tool:saw", "tool:sew").findings(),
            ["unknown-tool steps/frame/10-keel.md `sew`"]
        );
        // The tool that deburrs: one finding, and none at each hole.
        assert_eq!(
            sound().edit("manual.yaml", "deburr-with: drill", "deburr-with: dril").findings(),
            ["unknown-tool manual.yaml `dril`"]
        );
    }
}
