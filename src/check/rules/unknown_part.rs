//! A part number that is not in parts.csv.
//!
//! It matters because the builder would look for a part that is in no crate, and the shop would pull nothing for
//! it. However often a wrong name is used, it is one finding: at its first place, with notes at the others.
//!
//! Wrong: a step lists `KW-130-L` while the parts list has `KW-103-L`. Right: `- KW-103-L`.
//!
//! It can't be accepted: with a name of nothing no document is true.

use crate::check::names::Kind;
use crate::check::unknown::unknown;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unknown-part",
    level: Level::Error,
    summary: "a part number that is not in parts.csv",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_part.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let otherwise = "correct the number, or add a row for it to parts.csv";
    unknown(ctx, &RULE, Kind::Part, |name| format!("{name} is not in parts.csv"), otherwise)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn one_finding_at_the_first_place() {
        assert_eq!(sound().findings(), [""; 0]);
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "- KW-103-L", "- KW-130-L").findings(),
            ["unknown-part steps/frame/20-left.md `KW-130-L`"]
        );
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "](part:KW-101)", "](part:KW-110)").findings(),
            ["unknown-part steps/frame/10-keel.md `KW-110`"]
        );
        assert_eq!(
            sound().without_line("parts.csv", "KW-103-L").findings(),
            ["unknown-part steps/frame/20-left.md `KW-103-L`"]
        );
        assert_eq!(
            sound().without_line("parts.csv", "KW-104").findings(),
            ["unknown-part steps/frame/30-plates.md `KW-104`"]
        );
        assert_eq!(
            sound().without_line("parts.csv", "KW-200").findings(),
            ["unknown-part steps/finish/10-cross.md `KW-200`"]
        );
        assert_eq!(
            sound().without_line("parts.csv", "KW-202").findings(),
            ["unknown-part steps/finish/10-cross.md `KW-202`"]
        );
    }
}
