//! Lists or quotes that are nested deeper than pages are made.
//!
//! It matters because the page would lack what lies deeper.
//!
//! It looks at the pages as they are made. It does not look at the text as it is written (`text-too-deep`).
//!
//! Do: flatten the lists or quotes of the step.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "too-deep",
    level: Level::Error,
    summary: "lists or quotes that are nested deeper than pages are made",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("too_deep.rs"),
    run: Run::OnPaper,
};
