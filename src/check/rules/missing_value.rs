//! A row of a table in which a cell is blank that has to be filled.
//!
//! It matters because the row can't be used, and is left out.
//!
//! It looks at the columns that name a row or say how many it is about. It does not look at cells that may be blank.
//!
//! Wrong: a row with a name and no number. Right: the number filled in, or the row deleted.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "missing-value",
    level: Level::Error,
    summary: "a row of a table without a value that it needs",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("missing_value.rs"),
    run: Run::Reading,
};
