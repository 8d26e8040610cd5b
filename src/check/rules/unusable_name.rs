//! A variant or an option whose name can't stand in conditions and name a folder.
//!
//! It matters because its documents go into a folder of that name, on any system.
//!
//! It looks at the characters, the length, and at words that mean something in conditions. It does not look at the
//! title, which may be written as the maker likes.
//!
//! Wrong: `Ice & snow: { title: Ice and snow }`. Right: `ICE-SNOW: { title: Ice and snow }`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "unusable-name",
    level: Level::Error,
    summary: "a variant or an option with a name that can't be used",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unusable_name.rs"),
    run: Run::Reading,
};
