//! A picture written into the text.
//!
//! It matters because it is not shown: a figure needs its number, its callouts and its words for those who can't see
//! it.
//!
//! It looks at the text of steps and pages. It does not look at the list `figures:`.
//!
//! Wrong: `![Mast foot](mast-foot.svg)`. Right: in the front matter `figures: [{ figure: mast-foot.svg, alt: Mast foot
//! seen from the left }]`, and in the text `[](figure:mast-foot.svg)`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "picture-in-text",
    level: Level::Error,
    summary: "a picture in the text, which is not shown",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("picture_in_text.rs"),
    run: Run::Reading,
};
