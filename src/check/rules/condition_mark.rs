//! A mark `<!-- only: ... -->` or `<!-- end only -->` that has no partner, does not stand alone on its line, is nested
//! too deep, or is misspelt.
//!
//! It matters because the text would stand in kits it is not meant for.
//!
//! It looks at the marks, and at remarks that look like one. It does not look at the condition itself
//! (`broken-condition`).
//!
//! Wrong: `Fit the claw. <!-- only: claw -->`. Right: the mark on a line of its own before the text, `<!-- end only
//! -->` on a line of its own behind it, both indented as the text is.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "condition-mark",
    level: Level::Error,
    summary: "a mark of a condition in the text that is misspelt, alone or in the wrong place",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("condition_mark.rs"),
    run: Run::Reading,
};
