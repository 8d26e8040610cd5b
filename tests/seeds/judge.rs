//! What the program says of a manual with one mistake in it.

use kitwright::compile::{Checked, check};
use kitwright::diag::Diagnostic;
use kitwright::source::{Place, Span};

use super::manuals::{CleanManual, findings, printed};
use super::seed::{Change, Seed};
use super::values::words;

/// What came of a seed.
#[derive(Debug)]
pub struct Outcome {
    /// Whether a page of the manual comes out otherwise.
    pub changes: bool,
    /// How many findings are new.
    pub found: usize,
    /// Whether one of them stands where the mistake was made, or names what it is about where its counterpart stands.
    pub placed: bool,
    /// Whether the file could not be read at all: then the seed is none that a person would keep.
    pub broken: bool,
    /// Rules and places of what is new.
    pub said: Vec<String>,
}

pub fn judge(c: &CleanManual, seed: &Seed) -> Outcome {
    let mut files = c.files.clone();
    seed.put_into(&mut files);
    let checked = check(&files, &|_| ()).expect("memory can be listed");
    let all: Vec<String> = findings(&checked).collect();
    let new: Vec<&Diagnostic> =
        checked.findings.iter().zip(&all).filter(|(_, told)| !c.found.contains(*told)).map(|(d, _)| d).collect();
    let changes = printed(&checked) != c.printed;
    let placed = new.iter().any(|d| is_placed(&checked, seed, d));
    let broken = new.iter().any(|d| d.rule == "broken-yaml");
    let said = new.iter().map(|d| format!("{} {}", d.rule, place(&checked, d))).collect();
    Outcome { changes, found: new.len(), placed, broken, said }
}

fn place(checked: &Checked, d: &Diagnostic) -> String {
    let Some(span) = d.span else { return d.file.clone().unwrap_or_default() };
    let name = checked.sources.name(span.file);
    match checked.sources.place(span) {
        Place::Text { line, .. } => format!("{name}:{line}"),
        Place::Cell { row, column } => format!("{name} row {row}, {column}"),
    }
}

fn is_placed(checked: &Checked, seed: &Seed, d: &Diagnostic) -> bool {
    let spans = d.span.into_iter().chain(d.notes.iter().map(|n| n.span));
    let here = spans.into_iter().any(|span| stands_in(checked, seed, span));
    let whole_file = d.span.is_none() && d.file.as_deref() == Some(&seed.path);
    let line = d.span.map_or(String::new(), |span| line_of(checked, span));
    let named = seed.about.iter().filter(|name| !name.trim().is_empty() && name.len() > 1).any(|name| {
        [&line, &d.headline].iter().any(|text| words(text, name).next().is_some())
            || d.about.iter().any(|about| about == name)
    });
    here || whole_file || named
}

/// Whether a place is in a line of the seed's item.
fn stands_in(checked: &Checked, seed: &Seed, span: Span) -> bool {
    let path = match &seed.change {
        Change::FileNamed(name) => name,
        _ => &seed.path,
    };
    if checked.sources.name(span.file) != path {
        return false;
    }
    if !matches!(seed.change, Change::Text { .. }) {
        return true;
    }
    let text = checked.sources.text(span.file);
    let item = seed.item_after();
    let line = |at: usize| text.get(..at.min(text.len())).map_or(0, |t| t.matches('\n').count());
    // An end of line belongs to the line that it ends.
    let last = if text.get(..item.end).is_some_and(|t| t.ends_with('\n')) && item.end > item.start {
        item.end - 1
    } else {
        item.end
    };
    let lines = line(item.start)..=line(last);
    lines.contains(&line(span.start as usize))
}

/// The line of a place; of a table the row.
fn line_of(checked: &Checked, span: Span) -> String {
    let text = checked.sources.text(span.file);
    let start = text.get(..span.start as usize).and_then(|t| t.rfind('\n')).map_or(0, |i| i + 1);
    text[start..].lines().next().unwrap_or("").to_owned()
}
