//! A CSV file with bytes that are no characters in the encoding it was read in.
//!
//! It matters because a name or a number may be wrong in it.
//!
//! It looks at the file as a whole. It does not look at which encoding was meant; the finding says which was assumed.
//!
//! Do: save the table again with the encoding UTF-8, and look at the names with letters beyond a to z.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "unreadable-characters",
    level: Level::Error,
    summary: "a table with characters that can't be read",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unreadable_characters.rs"),
    run: Run::Reading,
};
