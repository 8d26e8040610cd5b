//! A cell of a CSV file with a quote that is never closed, or with text after its closing quote.
//!
//! It matters because from there on the cells of the row may be taken for others.
//!
//! It looks at double quotes alone. It does not look at whether a row has as many cells as the heading (`ragged-row`).
//!
//! Wrong: `"3/4" tube",2`. Right: `"3/4"" tube",2`: a quote inside a quoted cell is written twice.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "broken-table",
    level: Level::Error,
    summary: "a quote in a CSV file that does not fit",
    source: "RFC 4180, section 2",
    bending: Leave::Refused,
    file: include_str!("broken_table.rs"),
    run: Run::Reading,
};
