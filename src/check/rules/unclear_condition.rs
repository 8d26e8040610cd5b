//! A condition in which `and` and `or` stand side by side without brackets.
//!
//! It matters because people read it in different ways. The program lets `and` bind first, and says how it read it.
//!
//! It looks at conditions that can be read. It does not look at whether the reading is what was meant.
//!
//! Wrong: `only: ICE and claw or skids`. Right: `only: (ICE and claw) or skids`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "unclear-condition",
    level: Level::Warning,
    summary: "a condition with `and` and `or` side by side, without brackets",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("unclear_condition.rs"),
    run: Run::Reading,
};
