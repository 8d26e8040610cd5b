//! Settings or front matter with an error of form: a bracket or quote that is not closed, a tab, a key without a space
//! after its colon.
//!
//! It matters because what stands near the error is not read, or is read as part of something else.
//!
//! It looks at form alone, names the mistake that most likely caused it, and reads on behind it where it can. It does
//! not look at what the keys mean (`unknown-key`).
//!
//! Wrong: `title:Mast foot`. Right: `title: Mast foot`. A text that holds `: `, ` #` or begins with a bracket goes in
//! quotes.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "broken-yaml",
    level: Level::Error,
    summary: "keys and values that are not written as YAML",
    source: "YAML 1.2.2",
    bending: Leave::Refused,
    file: include_str!("broken_yaml.rs"),
    run: Run::Reading,
};
