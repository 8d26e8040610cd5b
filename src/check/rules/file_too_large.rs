//! A file with more bytes than are read.
//!
//! It matters because what it holds is missing from the manual.
//!
//! It looks at the size of the file before reading it: limits keep a broken file from taking all memory. It does not
//! look at what is in it.
//!
//! Wrong: a photograph as it comes from a scanner, with hundreds of megabytes. Right: the picture saved smaller; 300
//! dots an inch at the size in print are enough.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "file-too-large",
    level: Level::Error,
    summary: "a file that is larger than what is read",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("file_too_large.rs"),
    run: Run::Reading,
};
