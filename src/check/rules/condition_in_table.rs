//! A mark `<!-- only: ... -->` inside a table of the text.
//!
//! It matters because Markdown ends the table there, and its further rows are printed as plain text.
//!
//! It looks at tables in the text. It does not look at the tables of parts and hardware, where columns and the column
//! `only` say what applies.
//!
//! Wrong: a mark between two rows. Right: the table written once for each condition, each time whole and between marks
//! of its own.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "condition-in-table",
    level: Level::Error,
    summary: "a condition between the rows of a table in the text",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("condition_in_table.rs"),
    run: Run::Reading,
};
