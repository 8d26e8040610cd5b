//! Lines of the text that are shown as code, because they are indented by four spaces or stand between lines of
//! backquotes.
//!
//! It matters because a condition or a remark among them has no effect, and is printed.
//!
//! It looks at blocks of code. It does not look at code within a line, between single backquotes. Without a condition
//! or remark inside it is a warning, and may be lowered or accepted; with one it is an error and may not.
//!
//! Wrong: a paragraph below a list entry, indented by eight spaces. Right: indented as the entry's own text is.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "text-as-code",
    level: Level::Error,
    summary: "text that is shown as code because of its indentation",
    source: "CommonMark 0.31.2, sections 4.4 and 4.5",
    bending: Leave::Allowed,
    file: include_str!("text_as_code.rs"),
    run: Run::Reading,
};
