//! A row of a CSV file that has more cells than the heading, or fewer.
//!
//! It matters because a separator inside a text moves every cell behind it by one column: the count is read as the bin.
//!
//! It looks at how many cells there are. It does not look at whether a cell belongs to its column. A row with too few
//! is a warning, and its last cells are read as blank; it may be lowered or accepted. One with too many is an error and
//! may not.
//!
//! Wrong: `KW-101,Foot, left,2` under three headings. Right: `KW-101,"Foot, left",2`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "ragged-row",
    level: Level::Error,
    summary: "a row with more or fewer cells than the heading",
    source: "RFC 4180, section 2",
    bending: Leave::Allowed,
    file: include_str!("ragged_row.rs"),
    run: Run::Reading,
};
