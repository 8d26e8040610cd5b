//! A step, a page or the settings with more bytes than are read: 1 MB, in a line 64,000, in a word 2,000; or a list with
//! more than 10,000 entries.
//!
//! It matters because nothing of the file is read, or of a list what stands behind.
//!
//! It looks at the size of the file. It does not look at tables and pictures, which have limits of their own.
//!
//! Do: split the file. If it is no text, put the right file in its place.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "text-too-large",
    level: Level::Error,
    summary: "a text, a line, a word or a list that is larger than what is read",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("text_too_large.rs"),
    run: Run::Reading,
};
