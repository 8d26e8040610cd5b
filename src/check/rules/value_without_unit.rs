//! A length, a drill or a weight without a unit, in a manual whose units are millimetres.
//!
//! It matters because a bare number is read as inches: 40 would be cut at 1016 mm.
//!
//! It looks at front matter, settings and tables, and tells all of them in one finding. It does not look at manuals in
//! inches, where a bare number is what is meant.
//!
//! Wrong: `kerf: 2`. Right: `kerf: 2 mm`; in a table, the heading `cut length (mm)` says it for the whole column.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "value-without-unit",
    level: Level::Error,
    summary: "a value without a unit in a manual whose units are mm",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("value_without_unit.rs"),
    run: Run::Reading,
};
