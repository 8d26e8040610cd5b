//! A table that is wider than the page even in smaller letters, found while the documents are made: its words are parted
//! to fit.
//!
//! It matters because a part number that is parted in the middle is read as two.
//!
//! A table first takes the column that other tables leave for notes, then smaller letters, down to 8 points.
//!
//! Wrong: a table of twelve columns, or one whose columns hold long words. Right: fewer columns, two tables, shorter
//! words.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "wide-table",
    level: Level::Warning,
    summary: "a table that is wider than the page, so that its words are parted",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("wide_table.rs"),
    run: Run::OnPaper,
};
