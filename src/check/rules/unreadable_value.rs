//! A value that is not written in the form which its key or column asks for: a length, an angle, a place in a figure, a
//! colour.
//!
//! It matters because nothing can be cut, drilled or drawn from it, so it is left out.
//!
//! It looks at the form, and says what it should be. It does not look at whether the value is sensible; other rules
//! compare it with tables and geometry.
//!
//! Wrong: `kerf: 1.16.2`. Right: `kerf: 1/16`, or `kerf: 1.6 mm`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "unreadable-value",
    level: Level::Error,
    summary: "a value that is not written in its form",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unreadable_value.rs"),
    run: Run::Reading,
};
