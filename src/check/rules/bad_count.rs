//! A count that is no whole number of pieces, or is smaller or larger than it may be.
//!
//! It matters because every list and every bag is counted from these numbers, and half a bolt can't be packed.
//!
//! It looks at counts in front matter, at the columns of variants and options, and at the number of people who sign a
//! step. It does not look at whether the number is right: `quantity-mismatch` compares it with the steps.
//!
//! Wrong: `parts: [0 x KW-101]`, or -2 in the column of a variant. Right: `parts: [2 x KW-101]`; where there is none,
//! leave the item out, or write 0 in the table. Only the column of an option may take away.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "bad-count",
    level: Level::Error,
    summary: "a count that is no whole number, or is less than it may be",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("bad_count.rs"),
    run: Run::Reading,
};
