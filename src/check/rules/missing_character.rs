//! A character that no font has, found while the documents are made: a box is printed in its place.
//!
//! It matters because a box in the place of a dimension's sign or of a letter is read as nothing, or as something else.
//!
//! Every character is looked for in the author's own font (`fonts` in manual.yaml), then in the built-in ones, which
//! have the letters of most languages, fractions, arrows and the signs of drawings. The finding names the place where
//! the character is written; one in an SVG is named with the file's step.
//!
//! Wrong: `Turn the nut ✈ hard`. Right: words, or a font under `fonts` that has the character.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "missing-character",
    level: Level::Warning,
    summary: "a character that no font has, so that a box is printed",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("missing_character.rs"),
    run: Run::OnPaper,
};
