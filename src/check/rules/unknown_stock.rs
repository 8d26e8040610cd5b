//! A line of stock that is not in stock.csv.
//!
//! It matters because the cut plan and the wrap templates need the tube's size. However often a wrong name is used,
//! it is one finding: at its first place, with notes at the others.
//!
//! Wrong: the stock cell of a part says `T-2` while the stock list has `T-1`. Right: `T-1` in the cell.
//!
//! It can't be accepted: with a name of nothing no document is true.

use crate::check::names::Kind;
use crate::check::unknown::unknown;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unknown-stock",
    level: Level::Error,
    summary: "a line of stock that is not in stock.csv",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_stock.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let otherwise = "correct the cell, or add a row for it to stock.csv";
    unknown(ctx, &RULE, Kind::Stock, |name| format!("{name} is not in stock.csv"), otherwise)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn one_finding_at_the_first_place() {
        assert_eq!(sound().findings(), [""; 0]);
        assert_eq!(
            sound().edit("parts.csv", "Keel tube,,,T-1", "Keel tube,,,T-7").findings(),
            ["unknown-stock parts.csv `T-7`"]
        );
    }
}
