//! Findings as JSON lines, for programs.
//!
//! Owns: the names of the fields. Must not know: words for people beyond those of the finding.

use serde::Serialize;

use crate::diag::{Diagnostics, Level};
use crate::source::{Place, SourceMap, Span};

/// How much is quoted of a text that is wrong as a whole, in bytes.
const LONGEST_TEXT: usize = 4_000;

#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct Finding<'a> {
    rule: &'a str,
    level: &'a str,
    headline: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    file: Option<&'a str>,
    #[serde(flatten)]
    place: Option<JsonPlace<'a>>,
    label: &'a str,
    help: &'a str,
    notes: Vec<JsonNote<'a>>,
    about: &'a [String],
    configurations: &'a std::collections::BTreeSet<String>,
}

/// A place: line and column in the text from 1 (columns count characters), bytes from 0, in a table the cell as well.
#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct JsonPlace<'a> {
    line: usize,
    column: usize,
    start: u32,
    end: u32,
    text: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    row: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    heading: Option<String>,
}

#[derive(Serialize)]
struct JsonNote<'a> {
    label: &'a str,
    file: &'a str,
    #[serde(flatten)]
    place: JsonPlace<'a>,
}

#[derive(Serialize)]
struct Sums {
    errors: usize,
    warnings: usize,
    hints: usize,
    #[serde(skip_serializing_if = "is_zero")]
    questions: usize,
    /// How many of them stand in no line above.
    #[serde(rename = "not-shown", skip_serializing_if = "is_zero")]
    not_shown: usize,
}

#[allow(clippy::trivially_copy_pass_by_ref)] // As serde asks for it.
fn is_zero(n: &usize) -> bool {
    *n == 0
}

pub(super) fn write(found: &Diagnostics, sources: &SourceMap) -> String {
    let mut out = String::new();
    let mut line = |json: serde_json::Result<String>| {
        // Texts and numbers always have a form in JSON.
        out.push_str(&json.unwrap_or_default());
        out.push('\n');
    };
    let (shown, not_shown) = found.shown();
    for d in shown {
        line(serde_json::to_string(&Finding {
            rule: d.rule,
            level: d.level.word(),
            headline: &d.headline,
            file: d.span.map(|s| sources.name(s.file)).or(d.file.as_deref()),
            place: d.span.map(|s| place(s, sources)),
            label: &d.label,
            help: &d.help,
            notes: d
                .notes
                .iter()
                .map(|n| JsonNote { label: &n.label, file: sources.name(n.span.file), place: place(n.span, sources) })
                .collect(),
            about: &d.about,
            configurations: &d.configurations,
        }));
    }
    line(serde_json::to_string(&Sums {
        errors: found.count(Level::Error),
        warnings: found.count(Level::Warning),
        hints: found.count(Level::Hint),
        questions: found.count(Level::Question),
        not_shown,
    }));
    out
}

/// The beginning of a text that may be a whole file.
fn beginning(text: &str) -> &str {
    let end = (0..=LONGEST_TEXT.min(text.len())).rev().find(|&at| text.is_char_boundary(at));
    &text[..end.unwrap_or(0)]
}

fn place(span: Span, sources: &SourceMap) -> JsonPlace<'_> {
    let (line, column) = sources.line_column(span);
    let (row, heading) = match sources.place(span) {
        Place::Text { .. } => (None, None),
        Place::Cell { row, column } => (Some(row), Some(column)),
    };
    JsonPlace { line, column, start: span.start, end: span.end, text: beginning(sources.slice(span)), row, heading }
}
