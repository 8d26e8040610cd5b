//! A part whose blank has one length in the column `as supplied` and another in the column `blank length`.
//!
//! It matters because the shop cuts to the one and the builder expects the other.
//!
//! It looks at the two cells of one row. It does not look at the length in the steps (`length-differs`,
//! `not-as-supplied`).
//!
//! Wrong: `blank 40 in` and 38. Right: one of the two corrected, or the second emptied.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "two-lengths",
    level: Level::Error,
    summary: "a blank with two lengths",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("two_lengths.rs"),
    run: Run::Reading,
};
