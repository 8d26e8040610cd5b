//! A cell of a workbook that holds a date, an error, a formula without its value, or is merged with others.
//!
//! It matters because what was meant is not there: a spreadsheet makes a date of 1/2.
//!
//! It looks at each cell of the sheets that are read. It does not look at numbers where names are expected
//! (`number-as-value`).
//!
//! Wrong: 1/2 in a cell that is formatted as a date. Right: the column formatted as text, and the entry typed again;
//! merged cells parted, and each filled.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "unclear-cell",
    level: Level::Error,
    summary: "a cell of a workbook whose entry can't be told for sure",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unclear_cell.rs"),
    run: Run::Reading,
};
