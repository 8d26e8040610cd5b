//! A group of keys that lacks one which it can't do without.
//!
//! It matters because the item can't be used, and is left out.
//!
//! It looks at what the item needs to be one: a step its id, an arrow its two ends, a message its signal word. It does
//! not look at keys whose absence has a meaning.
//!
//! Wrong: `safety: [{ text: Wear goggles }]`. Right: `safety: [{ warning: Wear goggles }]`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "missing-key",
    level: Level::Error,
    summary: "a key that has to be there",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("missing_key.rs"),
    run: Run::Reading,
};
