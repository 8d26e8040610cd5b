//! A section that manual.yaml does not name.
//!
//! It matters because a step of no section would be in no document. However often a wrong name is used, it is one
//! finding: at its first place, with notes at the others.
//!
//! Wrong: `section: fram`. Right: `section: frame`.
//!
//! It can't be accepted: with a name of nothing no document is true.

use crate::check::names::Kind;
use crate::check::unknown::unknown;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unknown-section",
    level: Level::Error,
    summary: "a section that manual.yaml does not name",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_section.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let otherwise = "write a `section` of manual.yaml, or add the section there";
    unknown(ctx, &RULE, Kind::Section, |name| format!("there is no section `{name}`"), otherwise)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn one_finding_at_the_first_place() {
        assert_eq!(sound().findings(), [""; 0]);
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "section: frame", "section: fram").findings(),
            ["unknown-section steps/frame/10-keel.md `fram`"]
        );
    }
}
