//! A value of another shape than its key asks for: a list in place of a single value, a text in place of keys, neither
//! yes nor no.
//!
//! It matters because it can't be read as what it was meant to be, and is left out.
//!
//! It looks at the shape alone. It does not look at what is written in it (`unreadable-value`, `unknown-word`).
//!
//! Wrong: `title: [Mast, foot]`. Right: `title: "Mast, foot"`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "wrong-type",
    level: Level::Error,
    summary: "a list, a group of keys or a single value where another is asked for",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("wrong_type.rs"),
    run: Run::Reading,
};
