//! A file among the steps or pages that does not begin with `---`, its keys, and a second `---`.
//!
//! It matters because without its id, section and quantities the step can stand in no document.
//!
//! It looks at the first line and at the line that closes the front matter. It does not look at the keys between them
//! (`missing-key`).
//!
//! Wrong: a file that begins with `# Fit the mast foot`. Right: `---`, `step: fit-mast-foot`, `title: Fit the mast
//! foot`, `section: mast`, `---`, and then the text.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "no-front-matter",
    level: Level::Error,
    summary: "a step or page that does not begin with its front matter",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("no_front_matter.rs"),
    run: Run::Reading,
};
