//! A variant that manual.yaml does not name, where only a variant can stand.
//!
//! It matters because a configuration or a kit would belong to no product. However often a wrong name is used, it
//! is one finding: at its first place, with notes at the others.
//!
//! Wrong: `configurations: [BASIC]` while the variant is `BASE`. Right: `configurations: [BASE]`.
//!
//! It can't be accepted: with a name of nothing no document is true.

use super::variant_dropped::is_dropped;
use crate::check::names::Kind;
use crate::check::unknown::unknown;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unknown-variant",
    level: Level::Error,
    summary: "a variant that manual.yaml does not name, where only a variant can stand",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_variant.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let otherwise = "write a name of `variants` in manual.yaml";
    let found = unknown(ctx, &RULE, Kind::Variant, |name| format!("there is no variant `{name}`"), otherwise);
    // One that was released and is gone is told as such.
    found.into_iter().filter(|d| !d.about.iter().any(|name| is_dropped(ctx, name))).collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn one_finding_at_the_first_place() {
        assert_eq!(sound().findings(), [""; 0]);
        assert_eq!(
            sound().edit("manual.yaml", "[BASE, LONG+brake]", "[BASE, LONK+brake]").findings(),
            ["unknown-variant manual.yaml `LONK`"]
        );
        assert_eq!(
            sound()
                .edit("steps/finish/20-brake.md", "only: brake", "only: brake and (BESE and based or BASE and based)")
                .findings(),
            ["unknown-variant steps/finish/20-brake.md `BESE`"]
        );
    }
}
