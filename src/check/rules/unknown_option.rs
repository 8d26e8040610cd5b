//! An option that manual.yaml does not name, where only an option can stand.
//!
//! It matters because what a kit may carry would not be what was meant. However often a wrong name is used, it is
//! one finding: at its first place, with notes at the others.
//!
//! Wrong: `excludes: [break]` while the option is `brake`. Right: `excludes: [brake]`.
//!
//! It can't be accepted: with a name of nothing no document is true.

use super::variant_dropped::is_dropped;
use crate::check::names::Kind;
use crate::check::unknown::unknown;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unknown-option",
    level: Level::Error,
    summary: "an option that manual.yaml does not name, where only an option can stand",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_option.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let otherwise = "write a name of `options` in manual.yaml";
    let found = unknown(ctx, &RULE, Kind::Option, |name| format!("there is no option `{name}`"), otherwise);
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
            sound().edit("manual.yaml", "LONG+brake]", "LONG+break]").findings(),
            ["unknown-option manual.yaml `break`"]
        );
        assert_eq!(
            sound().edit("manual.yaml", "excludes: [brake]", "excludes: [brakes]").findings(),
            ["unknown-option manual.yaml `brakes`"]
        );
    }
}
