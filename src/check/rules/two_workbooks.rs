//! A manual's folder with more than one workbook.
//!
//! It matters because only one is read, and nobody can tell which is meant.
//!
//! It looks at .xlsx files beside manual.yaml. It does not look into folders below.
//!
//! Wrong: `lists.xlsx` and `lists (2).xlsx`. Right: one of them; the other moved out of the folder.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "two-workbooks",
    level: Level::Error,
    summary: "more than one workbook in the folder",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("two_workbooks.rs"),
    run: Run::Reading,
};
