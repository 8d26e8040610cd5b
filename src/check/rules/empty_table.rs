//! A table in which no row of headings is found.
//!
//! It matters because nothing of it can be read.
//!
//! It looks at the first rows. It does not look at tables that have headings and no rows below, which are empty and may
//! be meant so.
//!
//! Wrong: an empty `hardware.csv`. Right: the file with its headings, or no file.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "empty-table",
    level: Level::Error,
    summary: "a table without a heading",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("empty_table.rs"),
    run: Run::Reading,
};
