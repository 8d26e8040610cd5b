//! A sheet of the workbook that is not read and has nearly the name of one that is.
//!
//! It matters because its rows would be missing.
//!
//! It looks at names of sheets. It does not look at sheets with quite other names, which may hold what they like.
//!
//! Wrong: a sheet `Parts list`. Right: `parts`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "unread-sheet",
    level: Level::Warning,
    summary: "a sheet whose name is close to one that is read",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("unread_sheet.rs"),
    run: Run::Reading,
};
