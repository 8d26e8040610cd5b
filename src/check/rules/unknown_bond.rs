//! A bond that no step glues, in `cured`.
//!
//! It matters because the builder would wait for nothing, and load what has not cured. However often a wrong name is used,
//! it is one finding: at its first place, with notes at the others.
//!
//! Wrong: `cured: [left-ribb]`. Right: `cured: [left-rib]`.
//!
//! It can't be accepted: with a name of nothing no document is true.

use crate::check::names::Kind;
use crate::check::unknown::unknown;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unknown-bond",
    level: Level::Error,
    summary: "a bond that no step glues",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_bond.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let otherwise = "write the id of a bond, or add it to the `bonds` of the step that glues it";
    unknown(ctx, &RULE, Kind::Bond, |name| format!("there is no bond `{name}`"), otherwise)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::glued;

    #[test]
    fn one_finding_at_the_first_place() {
        assert_eq!(glued().findings(), [""; 0]);
        assert_eq!(
            glued().edit("steps/frame/20-left.md", "cured: [left-rib]", "cured: [left-ribb]").findings(),
            ["unknown-bond steps/frame/20-left.md `left-ribb`"]
        );
    }
}
