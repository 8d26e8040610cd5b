//! Findings as text: for people, for editors, for programs.
//!
//! Owns: the three forms and their last line. Must not know: whether the output is a terminal, which is told.

mod full;
mod json;
mod shown;

use super::{Diagnostics, Level};
use crate::source::{Place, SourceMap, Span};

/// The form in which findings are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// With the lines and cells they are about, and what to do.
    Full,
    /// One line each: `file:line:column: level: rule: headline`.
    Lines,
    /// One JSON object a line, the last one the sums.
    Json,
}

/// Whether levels and places are set off by colour; no meaning rests on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Colour {
    On,
    Off,
}

/// All findings, and a last line with their sums. Nothing that an author wrote reaches the output as a control
/// character.
pub fn render(found: &Diagnostics, sources: &SourceMap, format: Format, colour: Colour) -> String {
    match format {
        Format::Full => full::write(found, sources, colour),
        Format::Lines => lines(found, sources),
        Format::Json => json::write(found, sources),
    }
}

fn lines(found: &Diagnostics, sources: &SourceMap) -> String {
    let mut out = String::new();
    let (shown, rest) = found.shown();
    for d in shown {
        let place = match (d.span, &d.file) {
            (Some(span), _) => {
                let (line, column) = sources.line_column(span);
                format!("{}:{line}:{column}: ", sources.name(span.file))
            }
            (None, Some(file)) => format!("{file}: "),
            (None, None) => String::new(),
        };
        let line = format!("{place}{}: {}: {}", d.level.word(), d.rule, d.headline);
        out.push_str(&shown::line(&line));
        out.push('\n');
    }
    if rest > 0 {
        out.push_str(&not_shown(rest));
        out.push('\n');
    }
    out + &sums(found) + "\n"
}

/// What is said of findings beyond those that are shown.
fn not_shown(rest: usize) -> String {
    format!("{rest} more are not shown; put these right first")
}

/// How many findings there are, in words.
fn sums(found: &Diagnostics) -> String {
    let counted = |level: Level| {
        let n = found.count(level);
        let s = if n == 1 { "" } else { "s" };
        (n > 0).then(|| format!("{n} {}{s}", level.word()))
    };
    let parts: Vec<_> = Level::ALL.into_iter().filter_map(counted).collect();
    match parts.as_slice() {
        [] => "no errors, warnings or hints".to_owned(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}

/// A place as a person is told it: `steps/frame/keel.md:12:8`, `parts.csv, row 41, column ICE`.
fn place(span: Span, sources: &SourceMap) -> String {
    let name = sources.name(span.file);
    match sources.place(span) {
        Place::Text { line, column } => format!("{name}:{line}:{column}"),
        Place::Cell { row, .. } if whole_row(span, sources) => format!("{name}, row {row}"),
        Place::Cell { row, column } => format!("{name}, row {row}, column {column}"),
    }
}

/// Whether the span reaches over all cells of a row of several.
fn whole_row(span: Span, sources: &SourceMap) -> bool {
    match sources.row(span) {
        [first, .., last] => span.start <= first.start && span.end >= last.start,
        _ => false,
    }
}

#[cfg(test)]
mod tests;
