//! A key in settings or front matter that is not known.
//!
//! It matters because what was written under it would have no effect, without a word.
//!
//! It looks at every group of keys, and offers the nearest that is known. It does not look at the values.
//!
//! Wrong: `hardwear: [2 x AN3-5A]`. Right: `hardware: [2 x AN3-5A]`. `kitwright keys` lists them.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "unknown-key",
    level: Level::Error,
    summary: "a key that means nothing",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_key.rs"),
    run: Run::Reading,
};
