//! A stick that has more megabytes than `stick-size` in manual.yaml.
//!
//! It matters because it may not fit on the sticks that were bought for it.
//!
//! It looks at the sum of all files. It does not look at how large a stick is; write that as `stick-size`, or leave the
//! usual 1000 MB.
//!
//! Do: make the largest figures smaller, or raise `stick-size`. The finding names the largest file.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "stick-size",
    level: Level::Warning,
    summary: "a stick with more megabytes than the manual allows",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("stick_size.rs"),
    run: Run::OnPaper,
};
