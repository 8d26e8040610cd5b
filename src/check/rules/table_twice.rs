//! A table that is there twice, as a CSV file and as a sheet of the workbook.
//!
//! It matters because only one of the two is read, and the next change goes into the other.
//!
//! It looks at the names of files and sheets. It does not look at whether the two hold the same.
//!
//! Wrong: `parts.csv` beside a workbook with a sheet `parts`. Right: one of the two.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "table-twice",
    level: Level::Error,
    summary: "a table that is there as a file and as a sheet",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("table_twice.rs"),
    run: Run::Reading,
};
