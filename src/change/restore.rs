//! Sources made again from their normal form.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::digest::hex_digest;
use super::history::store_path;
use super::normal::{LineMark, SourceLine, quoted};
use crate::source::{Files, Memory};

/// Sources as they were, and the files whose bytes are nowhere any more.
#[derive(Clone, Debug, Default)]
pub struct Restored {
    pub files: Memory,
    pub missing: Vec<String>,
}

/// Makes the sources of `lines`. The bytes of pictures, templates and fonts come from the store in `from`, or from
/// the file of that name where it has not changed.
pub fn restore(lines: &[SourceLine], from: &dyn Files) -> Restored {
    restore_where(lines, from, &|_| true)
}

/// The same of the files whose path `keep` likes.
pub fn restore_where(lines: &[SourceLine], from: &dyn Files, keep: &(dyn Fn(&str) -> bool + Sync)) -> Restored {
    let mut by_file: BTreeMap<&str, Vec<&SourceLine>> = BTreeMap::new();
    for line in lines {
        by_file.entry(&line.file).or_default().push(line);
    }
    by_file.retain(|file, _| keep(file));
    let by_file: Vec<(&str, Vec<&SourceLine>)> = by_file.into_iter().collect();
    let made: Vec<Option<Vec<u8>>> = by_file.par_iter().map(|(file, lines)| content(file, lines, from)).collect();
    let mut restored = Restored::default();
    for ((file, _), bytes) in by_file.into_iter().zip(made) {
        match bytes {
            Some(bytes) => restored.files.insert(file, bytes),
            None => restored.missing.push(file.to_owned()),
        }
    }
    restored
}

/// The bytes of a file; none where they are nowhere any more.
fn content(file: &str, lines: &[&SourceLine], from: &dyn Files) -> Option<Vec<u8>> {
    if file.ends_with(".csv") {
        return Some(table(lines));
    }
    if file == "manual.yaml" {
        return Some(keys(lines).into_bytes());
    }
    if let [SourceLine { key, value, .. }] = lines[..]
        && key == "sha256"
    {
        return bytes(file, value, from);
    }
    let text: Vec<&str> = lines.iter().filter(|l| l.mark == LineMark::Text).map(|l| l.value.as_str()).collect();
    let mut out = format!("---\n{}---\n\n{}", keys(lines), text.join("\n"));
    if !text.is_empty() {
        out.push('\n');
    }
    Some(out.into_bytes())
}

fn bytes(file: &str, digest: &str, from: &dyn Files) -> Option<Vec<u8>> {
    let fits = |bytes: &Vec<u8>| hex_digest(bytes) == digest;
    from.read(&store_path(digest)).ok().filter(fits).or_else(|| from.read(file).ok().filter(fits))
}

/// YAML: each key once, its items below it. JSON is YAML, so values stay as they are.
fn keys(lines: &[&SourceLine]) -> String {
    let (mut out, mut last) = (String::new(), None);
    for line in lines {
        let key = quoted(&line.key);
        if last != Some(&line.key) && !matches!(line.mark, LineMark::Text | LineMark::Value) {
            out.push_str(&format!("{key}:\n"));
        }
        match line.mark {
            LineMark::Value => out.push_str(&format!("{key}: {}\n", line.value)),
            LineMark::Item => out.push_str(&format!("  - {}\n", line.value)),
            LineMark::Entry => {
                let entry = line.value.strip_prefix('{').and_then(|v| v.strip_suffix('}')).unwrap_or(&line.value);
                out.push_str(&format!("  {entry}\n"));
            }
            LineMark::Text => {}
        }
        last = Some(&line.key);
    }
    out
}

fn table(lines: &[&SourceLine]) -> Vec<u8> {
    let columns: Vec<String> =
        lines.iter().filter(|l| l.key == "columns").filter_map(|l| serde_json::from_str(&l.value).ok()).collect();
    let mut out = String::new();
    let mut row = |cells: Vec<&str>| {
        let cells: Vec<String> = cells.iter().map(|c| format!("\"{}\"", c.replace('"', "\"\""))).collect();
        out.push_str(&cells.join(","));
        out.push('\n');
    };
    row(columns.iter().map(String::as_str).collect());
    for line in lines.iter().filter(|l| l.key == "rows") {
        let cells: BTreeMap<String, String> = serde_json::from_str(&line.value).unwrap_or_default();
        row(columns.iter().map(|c| cells.get(c).map_or("", String::as_str)).collect());
    }
    out.into_bytes()
}
