//! A tag of HTML in the text.
//!
//! It matters because the tag would be lost, and with it what it was to do: the same text goes to paper, where there is
//! no HTML.
//!
//! It looks at the text of steps and pages. It does not look at remarks `<!-- ... -->`, which are for authors, nor at a
//! manual's own templates.
//!
//! Wrong: `Fit the pin.<br>Then ...`. Right: two paragraphs, or `\` at the end of the line. A `<` that is meant as text
//! is written `\<`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "html-in-text",
    level: Level::Error,
    summary: "HTML in the text, which is not carried into the documents",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("html_in_text.rs"),
    run: Run::Reading,
};
