//! A text that looks like a safety message and is not read as one, or a line that was taken into one by mistake.
//!
//! It matters because a warning that is set as plain text is not seen.
//!
//! It looks at block quotes and paragraphs that open with a signal word, or nearly, and at lines behind a message. It
//! does not look at whether a message is needed, or in the right place (`late-safety`); that stays with the designer.
//!
//! Wrong: `**WARNING** Wear goggles.` Right: `> **WARNING** Wear goggles.`, with a blank line behind it.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "unread-safety",
    level: Level::Error,
    summary: "a safety message that is not read as one",
    source: "ANSI Z535.6; the signal words",
    bending: Leave::Refused,
    file: include_str!("unread_safety.rs"),
    run: Run::Reading,
};
