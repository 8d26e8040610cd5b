//! A folder in which there is no `manual.yaml`.
//!
//! It matters because the file says which variants, options and sections there are.
//!
//! It looks at the folder that was named, or at the one in which the program was started. It does not look into other
//! folders, but names them where it sees the file below.
//!
//! Wrong: `manual.yml`. Right: `manual.yaml`. `kitwright start FOLDER` writes a small manual to begin from.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "no-manual",
    level: Level::Error,
    summary: "a folder without manual.yaml",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("no_manual.rs"),
    run: Run::Reading,
};
