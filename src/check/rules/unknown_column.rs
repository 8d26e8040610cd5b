//! A column whose heading means nothing, and is not close to one that does.
//!
//! It matters where the column was meant: it is kept with the releases and not used.
//!
//! It looks at headings without regard to capitals and blanks. It does not look at headings close to a known one
//! (`misspelt-column`). A column of counts, in a table that lacks the column of a variant or option, is a warning.
//!
//! Wrong: a column `Deluxe` for a variant `DELUXE-2`. Right: `DELUXE-2`. A column that is for the maker alone can be
//! accepted.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "unknown-column",
    level: Level::Hint,
    summary: "a column that means nothing to the program",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("unknown_column.rs"),
    run: Run::Reading,
};
