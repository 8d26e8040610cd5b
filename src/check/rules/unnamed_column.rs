//! A column that has entries and no heading.
//!
//! It matters because nobody can tell what they are.
//!
//! It looks at the row of headings. It does not look at columns that are wholly blank.
//!
//! Wrong: a heading merged over two columns. Right: a heading for each, or the column cleared.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "unnamed-column",
    level: Level::Error,
    summary: "a column with entries and no heading",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unnamed_column.rs"),
    run: Run::Reading,
};
