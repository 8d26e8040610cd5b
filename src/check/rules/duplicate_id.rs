//! A step or a section with the id of another.
//!
//! It matters because only the first is used; a link to the id, and what was recorded under it, would be of one or the
//! other.
//!
//! It looks at steps among steps, and sections among sections. It does not look at ids of earlier releases
//! (`id-reused`).
//!
//! Wrong: a step copied with its id. Right: an id of its own for the copy.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "duplicate-id",
    level: Level::Error,
    summary: "a step or a section whose id is there twice",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("duplicate_id.rs"),
    run: Run::Reading,
};
