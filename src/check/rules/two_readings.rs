//! A number of a table that can be read in two ways: a point that may part thousands, or a fraction under a heading in
//! millimetres.
//!
//! It matters because a tube that is cut at 1.6 in place of 1600 is scrap.
//!
//! It looks at tables that come from a spreadsheet with decimal commas, and at headings that name a unit. It does not
//! look at values with one reading only, however odd they are.
//!
//! Wrong: `1.600` in a table with decimal commas. Right: `1600`, or `1,6`.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "two-readings",
    level: Level::Error,
    summary: "a value that can be read in two ways",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("two_readings.rs"),
    run: Run::Reading,
};
