//! A font named in the manual's settings that can't be read or used.
//!
//! It matters because without it nothing can be set on paper.
//!
//! It looks at the file itself: whether it is in the manual's folder and holds outlines that can be put into a
//! document. It does not look at whether the font's licence allows that; ask its maker. A character that the font lacks
//! is told by `missing-character`.
//!
//! Wrong: `fonts: { body: /usr/share/fonts/Own.ttf }`. Right: the file copied into the manual's folder, and `fonts: {
//! body: fonts/Own.ttf }`; or no `fonts`, and the built-in one is used.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "broken-font",
    level: Level::Error,
    summary: "a font that can't be read or used",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("broken_font.rs"),
    run: Run::OnPaper,
};
