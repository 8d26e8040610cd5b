//! A condition that can't be read, in front matter, in a table or in the text.
//!
//! It matters because nobody can tell in which kits the thing under it belongs, so it stands in none.
//!
//! It looks at how the condition is written: names joined by `and`, `or`, `not`, brackets, and serial numbers. A comma
//! is refused, because it may mean either. It does not look at whether the names exist (`unknown-condition`) or whether
//! the condition can ever apply (`never-holds`).
//!
//! Wrong: `only: ICE, claw`. Right: `only: ICE and claw`, or `only: ICE or claw`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "broken-condition",
    level: Level::Error,
    summary: "a condition that can't be read",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("broken_condition.rs"),
    run: Run::Reading,
};
