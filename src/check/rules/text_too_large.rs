//! A step, a page or the settings with more bytes than are read.
//!
//! It matters because nothing of the file is read.
//!
//! It looks at the size of the file. It does not look at tables and pictures, which have limits of their own.
//!
//! Do: split the file. If it is no text, put the right file in its place.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "text-too-large",
    level: Level::Error,
    summary: "a text file that is larger than what is read",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("text_too_large.rs"),
    run: Run::Reading,
};
