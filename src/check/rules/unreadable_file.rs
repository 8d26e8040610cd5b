//! A file that is listed in the folder and can't be read.
//!
//! It matters because what it holds is missing from the manual.
//!
//! It looks at what the system answers, and repeats it. It does not look at files outside the manual's folder
//! (`outside-folder`).
//!
//! Do: check that the file is there, is no broken link, and may be read.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "unreadable-file",
    level: Level::Error,
    summary: "a file that can't be read",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unreadable_file.rs"),
    run: Run::Reading,
};
