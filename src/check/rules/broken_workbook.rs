//! A workbook that is broken, has a password, is of an older kind or too large, or has none of the sheets that are
//! read; or a sheet of it that is damaged.
//!
//! It matters because the lists in it are missing, and a manual without its parts can be held against nothing.
//!
//! It looks at the file as a whole. It does not look at single cells (`unclear-cell`) or at sheets with other names
//! (`unread-sheet`).
//!
//! Wrong: `parts.xls`, renamed to `parts.xlsx`. Right: the workbook saved again as .xlsx, without a password, with
//! sheets called `parts`, `hardware`, `stock`, `holes`, `kits` and `shipped`, or each sheet saved as a CSV file.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "broken-workbook",
    level: Level::Error,
    summary: "a workbook or a sheet of it that can't be read",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("broken_workbook.rs"),
    run: Run::Reading,
};
