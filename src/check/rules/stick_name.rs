//! A file of a stick whose name or path some system can't carry.
//!
//! It matters because the file would be missing on the copy, or could not be opened on the builder's machine.
//!
//! It looks at the names of all files on the stick, which come from steps, figures and configurations. It does not look
//! at the sources that stay at home (`file-name` does).
//!
//! Wrong: a figure called `aux.svg`. Right: `auxiliary.svg`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "stick-name",
    level: Level::Error,
    summary: "a name that a stick can't carry",
    source: "names of FAT32 and exFAT: the published rules for naming files on them",
    bending: Leave::Refused,
    file: include_str!("stick_name.rs"),
    run: Run::OnPaper,
};
