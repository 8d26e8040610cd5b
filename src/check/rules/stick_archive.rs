//! A stick whose files can't be put into one archive.
//!
//! It matters because the archive is what is sent where no stick is.
//!
//! It looks at the archive alone. It does not look at the folder beside it, which may be whole.
//!
//! Do: make the figures smaller, so that no file passes 4 GiB, and run `kitwright stick` again.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "stick-archive",
    level: Level::Error,
    summary: "a stick whose archive can't be made",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("stick_archive.rs"),
    run: Run::OnPaper,
};
