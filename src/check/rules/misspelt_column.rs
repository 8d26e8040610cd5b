//! A heading that means nothing and is close to one that is missing.
//!
//! It matters because a column that is not read, for example the counts of a variant, would be missing without a word.
//!
//! It looks at headings that differ by a letter or two from those of the table and from variants and options that have
//! no column. It does not look at headings further off (`unknown-column`).
//!
//! Wrong: `quanity`. Right: `quantity`; or, where something else is meant, a heading less like it.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "misspelt-column",
    level: Level::Error,
    summary: "a heading that is close to a known one and is not it",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("misspelt_column.rs"),
    run: Run::Reading,
};
