//! A text whose lists, quotes or emphases are nested deeper than is read.
//!
//! It matters because what lies deeper is not read.
//!
//! It looks at how deep the text is nested. It does not look at how long it is (`sentence-length`).
//!
//! Do: write it flatter. Three levels are hard to follow already with a drill in the hand.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "text-too-deep",
    level: Level::Error,
    summary: "lists, quotes or emphases in the text that are nested too deep",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("text_too_deep.rs"),
    run: Run::Reading,
};
