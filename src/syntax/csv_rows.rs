//! Comma-separated text (RFC 4180, with other separators) as rows of cells with their places.
//!
//! Owns: separators, quotes, line ends. Must not know: headings, what makes a row too long.

use super::table::{RawCell, RawRow};
use crate::diag::Diagnostic;
use crate::source::{FileId, Span};

/// A quote that does not fit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct QuoteFault {
    kind: QuoteFaultKind,
    start: usize,
    end: usize,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum QuoteFaultKind {
    Unclosed,
    TextAfter,
}

impl QuoteFault {
    pub(super) fn explain(self, file: FileId) -> Diagnostic {
        let span = Span::new(file, self.start..self.end);
        match self.kind {
            QuoteFaultKind::Unclosed => Diagnostic::error("broken-table", "a quote is opened and never closed")
                .at(span, "no quote closes this one; the cell is read up to the next separator")
                .help("close the quote at the end of the cell, or take it out; a quote inside a cell is written twice"),
            QuoteFaultKind::TextAfter => Diagnostic::error("broken-table", "a cell goes on after its closing quote")
                .at(span, "text after the closing quote")
                .help("write a quote inside a cell twice, and quotes round the whole cell: \"3/4\"\" tube\""),
        }
    }
}

/// The separator of a table, told by its heading, and where the table starts: after a first line `sep=;`.
pub(super) fn separator(text: &str) -> (char, usize) {
    let first = text.lines().next().unwrap_or("");
    let declared = first.strip_prefix("sep=").or_else(|| first.strip_prefix("SEP="));
    if let Some(mark) = declared.and_then(|d| d.chars().next()).filter(|c| matches!(c, ',' | ';' | '\t')) {
        return (mark, text.find('\n').map_or(text.len(), |i| i + 1));
    }
    let mut counts = [('\t', 0), (';', 0), (',', 0)];
    let mut quoted = false;
    for c in text.trim_start_matches(['\n', '\r']).chars() {
        match c {
            '"' => quoted = !quoted,
            '\n' if !quoted => break,
            c if !quoted => {
                if let Some(count) = counts.iter_mut().find(|(mark, _)| *mark == c) {
                    count.1 += 1;
                }
            }
            _ => {}
        }
    }
    // The last of those that stand equally often: the comma, which also serves a table of one column.
    let best = counts.iter().max_by_key(|(_, n)| *n).map_or(',', |&(mark, _)| mark);
    (best, 0)
}

/// Splits `text` from the byte `from` on. Rows are numbered from 1, empty ones too.
pub(super) fn split(text: &str, from: usize, separator: char) -> (Vec<RawRow>, Vec<QuoteFault>) {
    let (mut rows, mut faults) = (Vec::new(), Vec::new());
    let mut at = from;
    let mut number = 1;
    while at < text.len() {
        let start = at;
        let mut cells = Vec::new();
        let end = loop {
            let (cell, next) = cell(text, at, separator, &mut faults);
            cells.push(cell);
            at = next;
            if !text[at..].starts_with(separator) {
                break at;
            }
            at += separator.len_utf8();
        };
        rows.push(RawRow { number, start, end, cells });
        number += 1;
        at += match text.as_bytes()[at..] {
            [b'\r', b'\n', ..] => 2,
            [_, ..] => 1,
            [] => 0,
        };
    }
    (rows, faults)
}

/// The cell that starts at `at`, and where the separator or line end after it stands.
fn cell(text: &str, at: usize, separator: char, faults: &mut Vec<QuoteFault>) -> (RawCell, usize) {
    let rest = &text[at..];
    let ends = |s: &str| s.find([separator, '\n', '\r']).unwrap_or(s.len());
    let Some(inner) = rest.strip_prefix('"') else {
        let end = at + ends(rest);
        return (RawCell { outer: at, start: at, end, text: text[at..end].to_owned() }, end);
    };
    let start = at + 1;
    let mut value = String::new();
    let mut from = 0;
    let close = loop {
        let Some(quote) = inner[from..].find('"').map(|i| from + i) else {
            // Read as a cell without quotes, so that the rest of the table stays what it is.
            faults.push(QuoteFault { kind: QuoteFaultKind::Unclosed, start: at, end: start });
            let end = start + ends(inner);
            return (RawCell { outer: at, start: at, end, text: text[at..end].to_owned() }, end);
        };
        value.push_str(&inner[from..quote]);
        if !inner[quote + 1..].starts_with('"') {
            break start + quote;
        }
        value.push('"');
        from = quote + 2;
    };
    let after = close + 1;
    let end = after + ends(&text[after..]);
    if text[after..end].trim().is_empty() {
        return (RawCell { outer: at, start, end: close, text: value }, end);
    }
    faults.push(QuoteFault { kind: QuoteFaultKind::TextAfter, start: after, end });
    value.push_str(&text[after..end]);
    (RawCell { outer: at, start, end, text: value }, end)
}
