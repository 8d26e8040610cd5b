//! A number of a part or the like that was kept as a number, or looks like a date or a shortened number that a
//! spreadsheet made of it.
//!
//! It matters because `007` becomes 7 and `3-4` becomes the 3rd of April, and the crate is packed by it.
//!
//! It looks at the columns that name things. It does not look at columns of counts and lengths, where a number is what
//! is meant.
//!
//! Wrong: `1.2E+05` for 120000. Right: the column formatted as text, and the number typed again.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "number-as-value",
    level: Level::Warning,
    summary: "a number or name that a spreadsheet may have changed",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("number_as_value.rs"),
    run: Run::Reading,
};
