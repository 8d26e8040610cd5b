//! A footnote that is marked and has no text, has two texts, or has a text and is marked nowhere.
//!
//! It matters because the builder is sent to a note that is not there, or does not get one that was written.
//!
//! It looks at the marks and texts of one file. It does not look at what the note says. A text that is marked nowhere
//! is a warning, and may be lowered or accepted; the others are errors and may not.
//!
//! Wrong: `Torque as marked.[^1]` and no line `[^1]: ...`. Right: both.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "footnote",
    level: Level::Error,
    summary: "a footnote without a text, with two, or marked nowhere",
    source: "CommonMark has none; marked `[^name]` as is common practice",
    bending: Leave::Allowed,
    file: include_str!("footnote.rs"),
    run: Run::Reading,
};
