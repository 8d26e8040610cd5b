//! A step whose id is not written in lower case letters, digits and `-`.
//!
//! It matters because the id names the page of the step for good: links, records of builders and releases lead to it by
//! this name, and systems differ in how they read capitals and blanks.
//!
//! It looks at `step:` alone. It does not look at whether the id is a good name.
//!
//! Wrong: `step: Fit mast foot`. Right: `step: fit-mast-foot`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "bad-id",
    level: Level::Error,
    summary: "a step whose id is not written in lower case letters, digits and `-`",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("bad_id.rs"),
    run: Run::Reading,
};
