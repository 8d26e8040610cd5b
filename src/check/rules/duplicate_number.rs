//! A part, an item of hardware, a line of stock or a kit whose number is in its table twice.
//!
//! It matters because only the first row is used: its counts would be those of half the need.
//!
//! It looks at the column that names the row. It does not look at rows that differ in their numbers and describe the
//! same thing.
//!
//! Wrong: two rows `KW-101`. Right: one row with the sum, or a number of its own for each.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "duplicate-number",
    level: Level::Error,
    summary: "a number that a table has twice",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("duplicate_number.rs"),
    run: Run::Reading,
};
