//! A file of the manual's folder that is not read and looks as if it was meant to be.
//!
//! It matters because without a word its steps or its lists would be missing.
//!
//! It looks at names: files other than .md among the steps, folders and lists with capitals, older workbooks, steps
//! outside their folder. It does not look at other files, which may lie in the folder as they like.
//!
//! Wrong: `steps/frame/10-keel.txt`. Right: `steps/frame/10-keel.md`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "unread-file",
    level: Level::Error,
    summary: "a file that is not read though it looks as if it should be",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unread_file.rs"),
    run: Run::Reading,
};
