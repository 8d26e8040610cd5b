//! A file of a stick that is larger than FAT32 can hold, which is how most sticks are formatted.
//!
//! It matters because the file would be missing on the copy.
//!
//! It looks at each file. It does not look at the sum (`stick-size`).
//!
//! Do: make the figures smaller, or leave out those that no step needs.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "stick-file-size",
    level: Level::Error,
    summary: "a file that is larger than a stick can hold",
    source: "FAT32 holds no file of 4 GiB: the file system's published specification",
    bending: Leave::Refused,
    file: include_str!("stick_file_size.rs"),
    run: Run::OnPaper,
};
