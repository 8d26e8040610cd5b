//! A name in a condition that is neither a variant nor an option.
//!
//! It matters because what stands under the condition would vanish from every document. However often a wrong name
//! is used, it is one finding: at its first place, with notes at the others.
//!
//! Wrong: `only: LNOG`. Right: `only: LONG`.
//!
//! It can't be accepted: with a name of nothing no document is true.

use crate::check::names::Kind;
use crate::check::unknown::unknown;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unknown-condition",
    level: Level::Error,
    summary: "a name in a condition that is neither a variant nor an option",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_condition.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let otherwise = "write a name of `variants` or `options` in manual.yaml, spelt as there";
    unknown(ctx, &RULE, Kind::Condition, |name| format!("`{name}` is neither a variant nor an option"), otherwise)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn one_finding_at_the_first_place() {
        assert_eq!(sound().findings(), [""; 0]);
        assert_eq!(
            sound().edit("steps/finish/20-brake.md", "only: brake", "only: brakes").findings(),
            ["unknown-condition steps/finish/20-brake.md `brakes`"]
        );
        assert_eq!(
            sound().edit("steps/frame/30-plates.md", "only: LONG }", "only: LNOG }").findings(),
            ["unknown-condition steps/frame/30-plates.md `LNOG`"]
        );
        assert_eq!(
            sound().edit("steps/frame/30-plates.md", "LONG and not rack", "LONG and not rak").findings(),
            ["unknown-condition steps/frame/30-plates.md `rak`"]
        );
    }
}
