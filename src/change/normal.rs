//! The sources in normal form: one value a line, each with its file and key, so that neither comments nor the way a
//! value is written count, and a key that is new is carried without new code.
//!
//! Owns: the lines and their text form. Must not know: what a key means, except which of them name files.

use std::collections::BTreeSet;

use rayon::prelude::*;

use super::carried::carried_paths;
use super::digest::hex_digest;
use crate::diag::Sink;
use crate::source::{Files, LoadError, SourceMap};
use crate::syntax::{
    Node, NodeKind, SourceTable, parse_csv, parse_step_file, parse_workbook, parse_yaml, utf8_or_report,
};

/// What a line holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LineMark {
    /// `=`: the one value of a key, as JSON.
    Value,
    /// `-`: an item of a list, as JSON.
    Item,
    /// `:`: an entry of a group of keys, as a JSON object of one entry.
    Entry,
    /// `|`: a line of text.
    Text,
}

impl LineMark {
    const ALL: [Self; 4] = [Self::Value, Self::Item, Self::Entry, Self::Text];

    fn sign(self) -> &'static str {
        match self {
            Self::Value => "=",
            Self::Item => "-",
            Self::Entry => ":",
            Self::Text => "|",
        }
    }
}

/// A line of the normal form. Lines of one file and key keep their order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceLine {
    pub file: String,
    pub key: String,
    pub mark: LineMark,
    pub value: String,
}

impl std::fmt::Display for SourceLine {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {} {}", escaped(&self.file), escaped(&self.key), self.mark.sign())?;
        if self.value.is_empty() { Ok(()) } else { write!(f, " {}", self.value) }
    }
}

impl SourceLine {
    /// Whether a text has the form of a line; nothing is taken out of it.
    pub fn has_form(text: &str) -> bool {
        let mut pieces = text.splitn(4, ' ');
        let names = pieces.next().is_some_and(|f| !f.is_empty()) && pieces.next().is_some_and(|k| !k.is_empty());
        names && pieces.next().is_some_and(|sign| LineMark::ALL.iter().any(|m| m.sign() == sign))
    }

    /// Reads a line; None where it has not the form of one.
    pub fn parse(text: &str) -> Option<Self> {
        let (file, rest) = text.split_once(' ')?;
        let (key, rest) = rest.split_once(' ')?;
        let (sign, value) = rest.split_once(' ').unwrap_or((rest, ""));
        let mark = LineMark::ALL.into_iter().find(|m| m.sign() == sign)?;
        Some(Self { file: unescaped(file)?, key: unescaped(key)?, mark, value: value.to_owned() })
    }
}

/// Blanks and control characters of names are written as in addresses (RFC 3986), so that a blank ends a name.
pub(super) fn escaped(name: &str) -> String {
    let mut out = String::with_capacity(name.len());
    for c in name.chars() {
        if c == '%' || c.is_whitespace() || c.is_control() {
            let mut bytes = [0; 4];
            for b in c.encode_utf8(&mut bytes).bytes() {
                out.push_str(&format!("%{b:02X}"));
            }
        } else {
            out.push(c);
        }
    }
    out
}

pub(super) fn unescaped(name: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(name.len());
    let mut rest = name.as_bytes();
    while let Some((&first, after)) = rest.split_first() {
        if first == b'%' {
            let code = after.get(..2).and_then(|c| std::str::from_utf8(c).ok())?;
            bytes.push(u8::from_str_radix(code, 16).ok()?);
            rest = &after[2..];
        } else {
            bytes.push(first);
            rest = after;
        }
    }
    String::from_utf8(bytes).ok()
}

/// Lines as text.
pub fn body(lines: &[SourceLine]) -> String {
    lines.iter().map(|l| format!("{l}\n")).collect()
}

/// The tables that belong to a manual. The kit register is none of them: kits are shipped after the release.
const TABLES: [&str; 4] = ["parts", "hardware", "stock", "holes"];

/// The sources of a manual in normal form, sorted by file and key. Faults are passed over: they are found when the
/// manual is checked. Pictures, templates and what the sources name by its path stand as the digest of their bytes.
///
/// # Errors
/// The folder can't be listed; a file can't be read.
pub fn normalise(files: &dyn Files) -> Result<Vec<SourceLine>, LoadError> {
    let paths: Vec<String> = files.list()?.into_iter().map(|e| e.path).collect();
    let read: Vec<(Vec<SourceLine>, Vec<String>)> =
        paths.par_iter().map(|path| of_file(files, path)).collect::<Result<_, _>>()?;
    let named: BTreeSet<String> = read.iter().flat_map(|(_, named)| named.iter().cloned()).collect();
    let mut lines: Vec<SourceLine> = read.into_iter().flat_map(|(lines, _)| lines).collect();
    let carried = paths.par_iter().filter(|path| {
        path.starts_with("figures/") && is_picture(path) || path.starts_with("templates/") || named.contains(*path)
    });
    let digests: Vec<SourceLine> = carried
        .map(|path| Ok(line(path, "sha256", LineMark::Value, hex_digest(&read_or_say(files, path)?))))
        .collect::<Result<_, LoadError>>()?;
    lines.extend(digests);
    // Stable: the items of a list, the lines of a text keep their order.
    lines.sort_by(|a, b| (&a.file, &a.key).cmp(&(&b.file, &b.key)));
    Ok(lines)
}

/// The bytes of a file, or which one can't be read: nothing may be missing from what is frozen or compared.
fn read_or_say(files: &dyn Files, path: &str) -> Result<Vec<u8>, LoadError> {
    files.read(path).map_err(|error| LoadError::System(format!("{path}: {error}")))
}

/// The lines of a text or a table, and the paths of files that it names.
fn of_file(files: &dyn Files, path: &str) -> Result<(Vec<SourceLine>, Vec<String>), LoadError> {
    let (mut lines, mut named) = (Vec::new(), Vec::new());
    let (mut sources, mut sink) = (SourceMap::new(), Sink::new());
    let lower = path.to_lowercase();
    let markdown = (path.starts_with("steps/") || path.starts_with("pages/")) && lower.ends_with(".md");
    if path == "manual.yaml" || markdown {
        let Some(text) = utf8_or_report(path, &read_or_say(files, path)?, &mut sink) else {
            return Ok((lines, named));
        };
        let file = sources.add(path, text);
        if markdown {
            let read = parse_step_file(file, &sources, &mut sink);
            if let Some(front) = &read.front {
                named = carried_paths(path, front);
                keys(path, front, &mut lines);
            }
            text_lines(path, &sources.text(file)[read.body_start..], &mut lines);
        } else if let Some(tree) = parse_yaml(file, sources.text(file), 0, &mut sink) {
            named = carried_paths(path, &tree);
            keys(path, &tree, &mut lines);
        }
    } else if let Some(name) = path.strip_suffix(".csv").filter(|n| TABLES.contains(n)) {
        if let Some(table) = parse_csv(path, &read_or_say(files, path)?, &mut sources, &mut sink) {
            rows(name, &table, &mut lines);
        }
    } else if !path.contains('/') && lower.ends_with(".xlsx") {
        for (sheet, table) in parse_workbook(path, &read_or_say(files, path)?, &mut sources, &mut sink) {
            if let Some(name) = TABLES.into_iter().find(|n| n.eq_ignore_ascii_case(sheet.trim())) {
                rows(name, &table, &mut lines);
            }
        }
    }
    Ok((lines, named))
}

fn is_picture(path: &str) -> bool {
    let path = path.to_lowercase();
    [".svg", ".png", ".jpg", ".jpeg"].iter().any(|end| path.ends_with(end))
}

fn line(file: &str, key: &str, mark: LineMark, value: String) -> SourceLine {
    SourceLine { file: file.to_owned(), key: key.to_owned(), mark, value }
}

/// The top keys of a tree. A key without a value counts as not written.
fn keys(file: &str, tree: &Node, lines: &mut Vec<SourceLine>) {
    let NodeKind::Mapping(entries) = &tree.kind else { return };
    for (key, node) in entries {
        match &node.kind {
            NodeKind::Null => {}
            NodeKind::Scalar { .. } => lines.push(line(file, &key.value, LineMark::Value, json(node))),
            NodeKind::Sequence(nodes) => {
                lines.extend(nodes.iter().map(|n| line(file, &key.value, LineMark::Item, json(n))));
            }
            NodeKind::Mapping(entries) => lines.extend(entries.iter().map(|(name, n)| {
                let value = format!("{{{}: {}}}", quoted(&name.value), json(n));
                line(file, &key.value, LineMark::Entry, value)
            })),
        }
    }
}

/// A tree as JSON on one line; keys in the order of the alphabet, for their order means nothing there.
pub(super) fn json(node: &Node) -> String {
    match &node.kind {
        NodeKind::Null => "null".to_owned(),
        NodeKind::Scalar { text, .. } => quoted(text),
        NodeKind::Sequence(nodes) => format!("[{}]", nodes.iter().map(json).collect::<Vec<_>>().join(", ")),
        NodeKind::Mapping(entries) => {
            let mut entries: Vec<_> =
                entries.iter().map(|(key, n)| format!("{}: {}", quoted(&key.value), json(n))).collect();
            entries.sort();
            format!("{{{}}}", entries.join(", "))
        }
    }
}

pub(super) fn quoted(text: &str) -> String {
    let json = serde_json::Value::from(text).to_string();
    // Line ends other than the usual one would end a line for some readers.
    json.replace('\u{85}', "\\u0085")
        .replace('\u{2028}', "\\u2028")
        .replace('\u{2029}', "\\u2029")
        .replace('\u{7f}', "\\u007f")
}

/// A text by its lines; empty lines at its ends left out.
fn text_lines(file: &str, text: &str, lines: &mut Vec<SourceLine>) {
    let all: Vec<&str> = text.split('\n').map(|l| l.strip_suffix('\r').unwrap_or(l)).collect();
    let Some(first) = all.iter().position(|l| !l.trim().is_empty()) else { return };
    let last = all.iter().rposition(|l| !l.trim().is_empty()).unwrap_or(first);
    lines.extend(all[first..=last].iter().map(|l| line(file, "text", LineMark::Text, (*l).to_owned())));
}

fn rows(name: &str, table: &SourceTable, lines: &mut Vec<SourceLine>) {
    let file = format!("{name}.csv");
    for column in table.columns.iter().filter(|c| !c.value.is_empty()) {
        lines.push(line(&file, "columns", LineMark::Item, quoted(&column.value)));
    }
    for row in &table.rows {
        let cells: Vec<String> = table
            .columns
            .iter()
            .zip(&row.cells)
            .filter(|(column, cell)| !column.value.is_empty() && !cell.value.is_empty())
            .map(|(column, cell)| format!("{}: {}", quoted(&column.value), quoted(&cell.value)))
            .collect();
        lines.push(line(&file, "rows", LineMark::Item, format!("{{{}}}", cells.join(", "))));
    }
}
