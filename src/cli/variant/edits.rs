//! What of the sources is changed for a new variant, written all at once or not at all.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use crate::cli::failure::Failure;
use crate::cli::lasting;
use crate::cli::register::{record_ends, separator_of};
use crate::model::Manual;
use crate::source::{FileId, SourceMap, Span, Spanned};
use crate::syntax::{Node, NodeKind};
use crate::units::VariantName;

/// Changes of sources, written together.
pub(super) struct Edits<'a> {
    sources: &'a SourceMap,
    folder: &'a Path,
    /// In each file: where, and what takes the place.
    places: BTreeMap<FileId, BTreeSet<(usize, usize, String)>>,
}

impl<'a> Edits<'a> {
    pub(super) fn new(sources: &'a SourceMap, folder: &'a Path) -> Self {
        Self { sources, folder, places: BTreeMap::new() }
    }

    fn put(&mut self, file: FileId, from: usize, to: usize, text: String) {
        self.places.entry(file).or_default().insert((from, to, text));
    }

    /// Replaces names; whether each stands there as it reads.
    pub(super) fn replace(&mut self, changes: Vec<(Span, String)>) -> bool {
        let plain = |span: Span| {
            let name = self.sources.slice(span);
            !name.is_empty() && name.chars().all(|c| c.is_alphanumeric() || c == '-' || c == '_')
        };
        if changes.is_empty() || !changes.iter().all(|(span, _)| plain(*span)) {
            return false;
        }
        for (span, text) in changes {
            self.put(span.file, span.start as usize, span.end as usize, text);
        }
        true
    }

    /// # Errors
    /// The variants do not stand below one another, each on a line of its own.
    pub(super) fn add_variant(
        &mut self,
        manual: &Manual,
        name: &str,
        title: Option<&str>,
        base: &str,
    ) -> Result<(), Failure> {
        let title = title.map_or_else(String::new, |t| format!("title: \"{}\", ", t.replace(['"', '\\'], "'")));
        let entry = format!("{name}: {{ {title}based-on: {base} }}");
        let by_hand = || {
            Failure::new(
                "the variants of manual.yaml are not written below one another",
                format!("add `{entry}` to them by hand, then run this again"),
            )
        };
        let variants = mapping(&manual.front, "variants").ok_or_else(by_hand)?;
        let (first, (_, last)) = (variants.first().ok_or_else(by_hand)?, variants.last().ok_or_else(by_hand)?);
        let text = self.sources.text(first.0.span.file);
        let line = text[..first.0.span.start as usize].rfind('\n').map_or(0, |at| at + 1);
        let indent = &text[line..first.0.span.start as usize];
        if indent.is_empty() || !indent.chars().all(|c| c == ' ') {
            return Err(by_hand());
        }
        let from = last.span.end as usize;
        let end = text[from..].find('\n').map_or(text.len(), |at| from + at);
        let end = if text[..end].ends_with('\r') { end - 1 } else { end };
        let new_line = if text.contains("\r\n") { "\r\n" } else { "\n" };
        self.put(first.0.span.file, end, end, format!("{new_line}{indent}{entry}"));
        Ok(())
    }

    /// Adds a column behind the last of the variants; whether the parts list is a file that can be changed so.
    pub(super) fn add_column(&mut self, manual: &Manual, variants: &[&str], name: &str) -> bool {
        let Some(table) = manual.tables.get("parts") else { return false };
        let Some(behind) = table.columns.iter().rposition(|c| variants.contains(&c.value.trim())) else { return false };
        let Some(file) = table.columns.first().map(|c| c.span.file) else { return false };
        let text = self.sources.text(file);
        if !self.sources.name(file).ends_with(".csv") {
            return false;
        }
        let Some(ends) = record_ends(text) else { return false };
        let separator = separator_of(&text[..ends.first().copied().unwrap_or(0)]);
        let mut start = 0;
        for (i, end) in ends.iter().enumerate() {
            let record = &text[start..*end];
            if !record.trim_matches(['\r', '\n']).is_empty() {
                let cell = if i == 0 { name } else { "" };
                let at = start + cell_end(record, separator, behind);
                self.put(file, at, at, format!("{separator}{cell}"));
            }
            start = *end;
        }
        true
    }

    /// Writes `inherits-conditions` behind the variant's other keys.
    ///
    /// # Errors
    /// The variant is written in a way that is left to the author.
    pub(super) fn answer_for_all(
        &mut self,
        manual: &Manual,
        name: &VariantName,
        inherits: bool,
    ) -> Result<(), Failure> {
        let word = if inherits { "yes" } else { "no" };
        let by_hand = || {
            Failure::new(
                format!("{name} is written in manual.yaml in a way that is left to you"),
                format!("add `inherits-conditions: {word}` to it by hand"),
            )
        };
        let variants = mapping(&manual.front, "variants").ok_or_else(by_hand)?;
        let Some((_, node)) = variants.iter().find(|(key, _)| key.value == name.as_str()) else {
            // It is only now being written, in one line.
            for places in self.places.values_mut() {
                let entry =
                    places.iter().find(|(_, _, text)| text.trim_start().starts_with(&format!("{name}: {{"))).cloned();
                if let Some((from, to, text)) = entry {
                    places.remove(&(from, to, text.clone()));
                    let text = text.replacen(" }", &format!(", inherits-conditions: {word} }}"), 1);
                    places.insert((from, to, text));
                    return Ok(());
                }
            }
            return Err(by_hand());
        };
        let NodeKind::Mapping(keys) = &node.kind else { return Err(by_hand()) };
        let (_, last) = keys.last().ok_or_else(by_hand)?;
        if let Some((_, old)) = keys.iter().find(|(key, _)| key.value == "inherits-conditions") {
            self.put(old.span.file, old.span.start as usize, old.span.end as usize, word.to_owned());
            return Ok(());
        }
        let text = self.sources.text(last.span.file);
        let (first, end) = (keys[0].0.span.start as usize, last.span.end as usize);
        let line = text[..first].rfind('\n').map_or(0, |at| at + 1);
        if text[line..first].trim().is_empty()
            && text[end..].trim_start_matches([' ', '\t']).starts_with(['\n', '\r', '#'])
        {
            let new_line = if text.contains("\r\n") { "\r\n" } else { "\n" };
            let line_end = text[end..].find(['\r', '\n']).map_or(text.len(), |at| end + at);
            self.put(
                last.span.file,
                line_end,
                line_end,
                format!("{new_line}{}inherits-conditions: {word}", &text[line..first]),
            );
        } else {
            self.put(last.span.file, end, end, format!(", inherits-conditions: {word}"));
        }
        Ok(())
    }

    /// Writes what was put, all files or none.
    pub(super) fn write(&self) -> Result<(), Failure> {
        let mut changed = Vec::new();
        for (file, places) in &self.places {
            let path = self.folder.join(self.sources.name(*file));
            let text = self.sources.text(*file);
            match std::fs::read(&path) {
                Ok(bytes) if bytes == text.as_bytes() => {}
                Ok(_) => {
                    return Err(Failure::new(
                        format!("{} has changed meanwhile, or is written in another encoding", path.display()),
                        "save it as UTF-8, then run this again",
                    ));
                }
                Err(e) => return Err(Failure::write_in_place(&path, &e)),
            }
            let mut out = text.to_owned();
            for (from, to, new) in places.iter().rev() {
                out.replace_range(*from..*to, new);
            }
            changed.push((path, out));
        }
        let files = changed.iter().map(|(path, text)| (path.as_path(), text.as_bytes()));
        lasting::write_all_over(files).map_err(|(path, e)| Failure::write_in_place(&path, &e))
    }
}

/// The entries of a mapping under a key at the top.
fn mapping<'a>(front: &'a Node, key: &str) -> Option<&'a [(Spanned<String>, Node)]> {
    let NodeKind::Mapping(entries) = &front.kind else { return None };
    match &entries.iter().find(|(k, _)| k.value == key)?.1.kind {
        NodeKind::Mapping(entries) => Some(entries),
        _ => None,
    }
}

/// Where the cell with this number ends, from 0; the end of the record where it has fewer.
fn cell_end(record: &str, separator: char, number: usize) -> usize {
    let (mut quoted, mut seen) = (false, 0);
    for (at, c) in record.char_indices() {
        match c {
            '"' => quoted = !quoted,
            c if c == separator && !quoted => {
                if seen == number {
                    return at;
                }
                seen += 1;
            }
            _ => {}
        }
    }
    record.len()
}
