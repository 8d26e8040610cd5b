//! A line that begins with `2.` or the like, and is read as part of the paragraph above it.
//!
//! It matters because two things to do are set as one sentence, and the second is passed over.
//!
//! It looks at numbers at the beginning of a line. It does not look at lists that are read as lists.
//!
//! Wrong: a paragraph and `2. Fit the pin` on the next line. Right: a blank line between them.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "lost-list-entry",
    level: Level::Warning,
    summary: "a line that begins like a list entry and is read as part of the paragraph above",
    source: "CommonMark 0.31.2, section 5.3",
    bending: Leave::Allowed,
    file: include_str!("lost_list_entry.rs"),
    run: Run::Reading,
};
