//! A template in the folder `templates` that can't be read or filled in, or has the name of none.
//!
//! It matters because the pages would not be what their author changed them to be, and none is better than some.
//!
//! It looks at whether the template can be parsed and filled in, and at its name. It does not look at the markup that
//! comes out.
//!
//! Wrong: `templates/pages.html`. Right: `templates/page.html`, or the file removed, and the built-in one is used.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "broken-template",
    level: Level::Error,
    summary: "a template of the manual's own that can't be used",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("broken_template.rs"),
    run: Run::OnPaper,
};
