//! A character that is not seen, that turns the direction of writing, or of a script that runs from right to left.
//!
//! It matters because what is read is then not what is written: a number can be shown in another order on a page than on
//! paper, and two names that look alike can be two names.
//!
//! It looks at the texts of steps, pages and settings, also where such a character is written by its number, at the cells
//! of tables, and at the names of files. It does not look at remarks. The texts of a drawing are looked at under
//! `broken-figure`.
//!
//! Wrong: a part name copied from a web page, with a zero-width space in it. Right: the name written again by hand.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "hidden-character",
    level: Level::Error,
    summary: "a character that is not seen or turns the direction of writing",
    source: "Unicode Standard Annex 9, and chapter 23 of the Unicode Standard",
    bending: Leave::Refused,
    file: include_str!("hidden_character.rs"),
    run: Run::Reading,
};
