//! A manual's folder in which there is no parts list.
//!
//! It matters because steps can be held against nothing without it.
//!
//! It looks for `parts.csv`, or a sheet `parts` of a workbook. It does not look for the other tables, which a manual
//! may do without.
//!
//! Wrong: `parts list.csv`. Right: `parts.csv`, with at least the columns `number`, `name` and one for each variant.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "missing-file",
    level: Level::Error,
    summary: "a manual without its parts list",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("missing_file.rs"),
    run: Run::Reading,
};
