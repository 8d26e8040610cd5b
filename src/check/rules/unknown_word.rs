//! A word where only a few are known: a hand, a kind of end cut, a level.
//!
//! It matters because nothing can be made of it.
//!
//! It looks at keys and columns that take one of a list of words, and names the list. It does not look at names that
//! the manual gives (`unknown-part` and its like).
//!
//! Wrong: `hand: lef`. Right: `hand: left`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "unknown-word",
    level: Level::Error,
    summary: "a word that is none of those which stand there",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_word.rs"),
    run: Run::Reading,
};
