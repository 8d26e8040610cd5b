//! A consumable that manual.yaml does not name.
//!
//! It matters because the builder would not have it at hand. However often a wrong name is used, it is one finding:
//! at its first place, with notes at the others.
//!
//! Wrong: `consumables: [primmer]`. Right: `consumables: [primer]`.
//!
//! It can't be accepted: with a name of nothing no document is true.

use crate::check::names::Kind;
use crate::check::unknown::unknown;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unknown-consumable",
    level: Level::Error,
    summary: "a consumable that manual.yaml does not name",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_consumable.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let otherwise = "write an id of `consumables` in manual.yaml, or add it there";
    unknown(ctx, &RULE, Kind::Consumable, |name| format!("there is no consumable `{name}`"), otherwise)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn one_finding_at_the_first_place() {
        assert_eq!(sound().findings(), [""; 0]);
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "consumables: [primer]", "consumables: [primmer]").findings(),
            ["unknown-consumable steps/frame/10-keel.md `primmer`"]
        );
    }
}
