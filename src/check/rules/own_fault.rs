//! Something that the program itself did wrong while it made documents.
//!
//! It matters because a document may lack something, so none is handed out.
//!
//! It looks at what the program can tell of itself, for example a link that it made to a place that is not there. It
//! does not look at the sources: they are not the cause.
//!
//! Do: report it with the manual's folder. Until it is corrected, the finding's place may help to write around it.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "own-fault",
    level: Level::Error,
    summary: "an error in the program itself",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("own_fault.rs"),
    run: Run::OnPaper,
};
