//! A text file that is not saved as UTF-8, or is no text at all.
//!
//! It matters because a letter or a fraction that is read wrongly is printed wrongly.
//!
//! It looks at manual.yaml, steps and pages. It does not look at tables: those may come from a spreadsheet in other
//! encodings, which are told apart.
//!
//! Wrong: a step saved as Windows-1252 or UTF-16. Right: the file opened in an editor and saved again with the encoding
//! UTF-8.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "not-utf-8",
    level: Level::Error,
    summary: "a step, a page or the settings in another encoding than UTF-8",
    source: "RFC 3629",
    bending: Leave::Refused,
    file: include_str!("not_utf_8.rs"),
    run: Run::Reading,
};
