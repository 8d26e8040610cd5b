//! A safety message that no page holds, found while the documents are made: it is split over two pages.
//!
//! It matters because a message that goes on overleaf is read half, and the half that says how to avoid the hazard
//! comes last (ANSI Z535.6-2011: hazard, consequence, avoidance in one message).
//!
//! Wrong: a warning with a page of text in it. Right: a message of a few sentences at each thing it guards.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "long-safety-message",
    level: Level::Warning,
    summary: "a safety message that is longer than a page, so that it is split",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("long_safety_message.rs"),
    run: Run::OnPaper,
};
