//! `rename`: gives a thing a new name in every place where it is named.
//!
//! Owns: which places those are, and writing the files so that either all of them change or none. A workbook and a text in
//! another encoding are not written: their places are listed, to be changed by hand.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use super::failure::Failure;
use super::lasting;
use super::place::{aligned, place};
use crate::compile::Checked;
use crate::diag::{did_you_mean, nearest};
use crate::model::schema::{Mention, Thing, Use, mentions};
use crate::model::{Manual, Opposite};
use crate::source::{FileId, Span};

/// What was asked.
#[derive(Clone, Debug)]
pub(super) struct Asked {
    pub old: String,
    pub new: String,
    pub kind: Option<String>,
    pub write: bool,
}

/// Changes the places, or shows them; in plain text.
///
/// # Errors
/// Nothing, or more than one thing, is called that; the new name is taken; a file can't be written.
pub(super) fn rename(checked: &Checked, manual: &Manual, folder: &Path, asked: &Asked) -> Result<String, Failure> {
    let all = written(manual);
    let thing = meant(&all, asked)?;
    free(&all, manual, thing, &asked.new)?;
    let places: BTreeSet<Span> =
        all.iter().filter(|m| m.thing.may_name(thing) && m.name == asked.old).map(|m| m.span).collect();
    let mut files: BTreeMap<FileId, Vec<Span>> = BTreeMap::new();
    let (mut rows, mut by_hand) = (Vec::new(), Vec::new());
    for span in places {
        let row = vec![place(&checked.sources, span)];
        if checked.sources.slice(span) == asked.old
            && TEXTS.iter().any(|end| checked.sources.name(span.file).ends_with(end))
        {
            files.entry(span.file).or_default().push(span);
            rows.push(row);
        } else {
            by_hand.push(row);
        }
    }
    let mut changed = Vec::new();
    for (file, spans) in &files {
        let path = folder.join(checked.sources.name(*file));
        let text = checked.sources.text(*file);
        match std::fs::read(&path) {
            Ok(bytes) if bytes == text.as_bytes() => changed.push((path, replaced(text, spans, &asked.new))),
            Ok(_) => by_hand.extend(spans.iter().map(|span| vec![place(&checked.sources, *span)])),
            Err(error) => return Err(Failure::write_in_place(&path, &error)),
        }
    }
    if asked.write {
        let files = changed.iter().map(|(path, text)| (path.as_path(), text.as_bytes()));
        lasting::write_all_over(files).map_err(|(path, error)| Failure::write_in_place(&path, &error))?;
    }
    let (done, hint) = if asked.write {
        ("changed", "`kitwright check` says what else depends on the name".to_owned())
    } else {
        ("to be changed", "nothing was written; add --write to change the files".to_owned())
    };
    let mut text = format!("{} {} becomes {}: {} places {done}\n", thing.word(), asked.old, asked.new, rows.len());
    text.push_str(&aligned(&rows));
    if !by_hand.is_empty() {
        text.push_str(&format!(
            "These are for you to change, in the workbook or the program that made the file:\n{}",
            aligned(&by_hand)
        ));
    }
    text.push_str(&format!("{hint}\n"));
    Ok(text)
}

/// The files that are changed byte for byte.
const TEXTS: [&str; 3] = [".md", ".yaml", ".csv"];

/// Every mention that stands in a file: not those of the made steps, whose places are the written ones'.
fn written(manual: &Manual) -> Vec<Mention<'_>> {
    let made = |m: &Mention| m.step.is_some_and(|s| matches!(s.opposite, Opposite::Of(_)));
    // What a joint has from its kind stands nowhere by its name.
    mentions(manual).into_iter().filter(|m| !made(m) && m.how != Use::ByKind).collect()
}

/// What the old name is the name of.
fn meant(all: &[Mention], asked: &Asked) -> Result<Thing, Failure> {
    let named = |m: &&Mention| !m.how.must_be_known() && !matches!(m.how, Use::Shipped | Use::PutInPlace);
    let kinds: BTreeSet<Thing> = all.iter().filter(named).filter(|m| m.name == asked.old).map(|m| m.thing).collect();
    let kinds: Vec<Thing> =
        kinds.into_iter().filter(|t| asked.kind.as_ref().is_none_or(|kind| t.word() == kind)).collect();
    match kinds[..] {
        [one] => Ok(one),
        [] => {
            let help = match nearest(&asked.old, all.iter().filter(named).map(|m| m.name)) {
                Some(near) => did_you_mean(near),
                None => "name a thing that gets its name in the steps, the tables or manual.yaml; a figure is called as its file is".to_owned(),
            };
            Err(Failure::new(format!("nothing that can be renamed is called `{}`", asked.old), help))
        }
        _ => {
            let words: Vec<_> = kinds.iter().map(|t| t.word()).collect();
            Err(Failure::new(
                format!("`{}` is the name of several things: {}", asked.old, words.join(", ")),
                format!("say which with --kind, for example --kind {}", words[0]),
            ))
        }
    }
}

/// # Errors
/// The new name can't be one, or another thing has it.
fn free(all: &[Mention], manual: &Manual, thing: Thing, new: &str) -> Result<(), Failure> {
    let plain =
        !new.is_empty() && new.trim() == new && !new.contains(|c: char| c.is_control() || "\",;:`{}[]#".contains(c));
    if !plain {
        return Err(Failure::new(
            format!("`{new}` can't be a name"),
            "use letters, digits, blanks, `-`, `_`, `.` and `/`, with no blank at either end",
        ));
    }
    let taken = all.iter().any(|m| m.thing == thing && m.name == new)
        || thing == Thing::Step && manual.steps.iter().any(|s| s.id.value.as_str() == new);
    if taken {
        return Err(Failure::new(
            format!("there is a {} `{new}` already", thing.word()),
            "take another name: two things of one name can't be told apart",
        ));
    }
    Ok(())
}

fn replaced(text: &str, spans: &[Span], new: &str) -> String {
    let mut out = text.to_owned();
    for span in spans.iter().rev() {
        out.replace_range(span.range(), new);
    }
    out
}
