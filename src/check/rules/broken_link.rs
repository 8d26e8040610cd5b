//! A link in the text that Markdown does not read as one, so that its brackets would be printed.
//!
//! It matters because the builder reads brackets instead of the name of a part.
//!
//! It looks for `](` left over in plain text. It does not look at where a link leads that could be read:
//! `unknown-part`, `unknown-step` and their like do.
//!
//! Wrong: `[](part:KW 101)`. Right: `[](<part:KW 101>)`. A bracket that is meant as text is written `\[`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "broken-link",
    level: Level::Error,
    summary: "a link that is not read as one and would be shown as it stands",
    source: "CommonMark 0.31.2, section 6.3",
    bending: Leave::Refused,
    file: include_str!("broken_link.rs"),
    run: Run::Reading,
};
