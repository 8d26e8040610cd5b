//! A table with more rows (200,000), columns (1,000) or cells (2 million) than are read, or a cell of more than 32,767
//! characters.
//!
//! It matters because what lies beyond is missing.
//!
//! It looks at the size alone: in a spreadsheet one stray entry far below makes a sheet large. It does not look at what
//! stands in the cells.
//!
//! Wrong: a remark in the last row of a sheet. Right: the rows and columns that are not part of the table deleted.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "table-too-large",
    level: Level::Error,
    summary: "a table with more rows or columns than are read",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("table_too_large.rs"),
    run: Run::Reading,
};
