//! A picture that can't be read, or holds what the documents may not carry.
//!
//! It matters because a step without its figure sends the builder by words alone.
//!
//! It looks at the files in the folder `figures`: whether they are whole to the last pixel, of the kind that their name
//! says, within the limits of size, and, in a drawing, whether it leads to anything outside itself, repeats itself without
//! end, or has patterns and filters too large to be drawn. It does not look at whether the
//! picture shows the right thing.
//!
//! Wrong: a photograph that was cut off while it was copied. Right: the picture opened in a drawing or picture program
//! and saved again.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "broken-figure",
    level: Level::Error,
    summary: "a picture that can't be carried into the documents",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("broken_figure.rs"),
    run: Run::Reading,
};
