//! A value in front matter or settings that ends where ` #` begins a remark.
//!
//! It matters because `drill: #30` is read as no drill at all.
//!
//! It looks at remarks without a space after their `#`. It does not look at `# ` with a space, which is a remark as it
//! is meant. Before a digit it is an error and may not be lowered; before a letter it is a warning and may.
//!
//! Wrong: `drill: #30`. Right: `drill: "#30"`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "text-cut-off",
    level: Level::Error,
    summary: "a value that ends at a `#`",
    source: "YAML 1.2.2, section 6.6",
    bending: Leave::Allowed,
    file: include_str!("text_cut_off.rs"),
    run: Run::Reading,
};
