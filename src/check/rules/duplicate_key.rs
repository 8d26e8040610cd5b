//! A key that stands twice in the same group of keys.
//!
//! It matters because the second is not read, and what was written there is lost.
//!
//! It looks at keys of one group. It does not look at two keys with different names that say the same (`listed-twice`).
//!
//! Wrong: `parts:` twice in a step. Right: one `parts:` with both lists joined.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "duplicate-key",
    level: Level::Error,
    summary: "a key that stands twice in one place",
    source: "YAML 1.2.2, section 3.2.1.3",
    bending: Leave::Refused,
    file: include_str!("duplicate_key.rs"),
    run: Run::Reading,
};
