//! A heading that stands twice in a table.
//!
//! It matters because only one of the two columns is read, and nobody can tell which is meant.
//!
//! It looks at headings without regard to capitals and blanks. It does not look at columns with different names that
//! hold the same.
//!
//! Wrong: two columns `qty`. Right: one of the two renamed or taken out.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "duplicate-column",
    level: Level::Error,
    summary: "a heading that a table has twice",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("duplicate_column.rs"),
    run: Run::Reading,
};
