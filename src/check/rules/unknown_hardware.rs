//! A designation that is not in hardware.csv.
//!
//! It matters because nobody could say what to bag, and a bolt of the wrong length looks much like the right one.
//! However often a wrong name is used, it is one finding: at its first place, with notes at the others.
//!
//! Wrong: a joint names `AN4-11A` while the hardware list has `AN4-10A`. Right: `fastener: AN4-10A`.
//!
//! It can't be accepted: with a name of nothing no document is true.

use crate::check::names::Kind;
use crate::check::unknown::unknown;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unknown-hardware",
    level: Level::Error,
    summary: "a designation that is not in hardware.csv",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_hardware.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let otherwise = "correct the designation, or add a row for it to hardware.csv";
    unknown(ctx, &RULE, Kind::Hardware, |name| format!("{name} is not in hardware.csv"), otherwise)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn one_finding_at_the_first_place() {
        assert_eq!(sound().findings(), [""; 0]);
        assert_eq!(
            sound().edit("steps/frame/21-right.md", "fastener: AN4-10A", "fastener: AN4-11A").findings(),
            ["unknown-hardware steps/frame/21-right.md `AN4-11A`"]
        );
        assert_eq!(
            sound().edit("steps/frame/40-paint.md", "MS20470AD4-5", "MS20470AD4-6").findings(),
            ["unknown-hardware steps/frame/40-paint.md `MS20470AD4-6`"]
        );
        assert_eq!(
            sound().edit("steps/frame/30-plates.md", "AN4-10A", "AN4-1OA").findings(),
            ["unknown-hardware steps/frame/30-plates.md `AN4-1OA`"]
        );
    }
}
