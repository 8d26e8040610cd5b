//! A variant that is based on itself, in one step or over others.
//!
//! It matters because its counts would come from nowhere.
//!
//! It looks at `based-on`. It does not look at a name that is no variant (`unknown-variant`).
//!
//! Wrong: ICE based on SNOW, and SNOW based on ICE. Right: one of the two with counts of its own.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "variant-circle",
    level: Level::Error,
    summary: "a variant that is based on itself",
    source: "logic",
    bending: Leave::Refused,
    file: include_str!("variant_circle.rs"),
    run: Run::Reading,
};
