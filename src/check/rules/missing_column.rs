//! A table that lacks a column without which its rows can't be read.
//!
//! It matters because no row of the table can be used.
//!
//! It looks at the headings, without regard to capitals, blanks and order. It does not look at whether the cells are
//! filled (`missing-value`).
//!
//! Wrong: parts.csv with a column `part` and none called `number`. Right: the column headed `number`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "missing-column",
    level: Level::Error,
    summary: "a table without a column that it needs",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("missing_column.rs"),
    run: Run::Reading,
};
