//! The store: the bytes of pictures, templates and fonts of all releases, each in a file named by its digest.
//!
//! Owns: which files there must be, and whether each is what its name says. Must not know: how they are written.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::digest::hex_digest;
use super::history::{History, fault, store_path};
use super::normal::SourceLine;
use crate::diag::Diagnostic;
use crate::source::{Files, LoadError};

/// A file that the store should hold.
#[derive(Default)]
struct Wanted {
    /// What it was called in the sources.
    paths: Vec<String>,
    letters: Vec<String>,
}

fn wanted(history: &History) -> BTreeMap<String, Wanted> {
    let mut all: BTreeMap<String, Wanted> = BTreeMap::new();
    for release in history.releases() {
        for (digest, path) in release.stored() {
            let file = all.entry(digest.to_owned()).or_default();
            if !file.paths.contains(&path) {
                file.paths.push(path);
            }
            let letter = release.letter.to_string();
            if !file.letters.contains(&letter) {
                file.letters.push(letter);
            }
        }
    }
    all
}

/// What is wrong with a file of the store.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Wrong {
    Gone,
    Changed,
}

fn wrong(files: &dyn Files, digest: &str) -> Option<Wrong> {
    match files.read(&store_path(digest)) {
        Ok(bytes) if hex_digest(&bytes) == digest => None,
        Err(LoadError::Missing) => Some(Wrong::Gone),
        _ => Some(Wrong::Changed),
    }
}

/// The source that still has the bytes.
fn source_with<'a>(files: &dyn Files, digest: &str, file: &'a Wanted) -> Option<(&'a str, Vec<u8>)> {
    file.paths.iter().find_map(|path| {
        let bytes = files.read(path).ok().filter(|bytes| hex_digest(bytes) == digest)?;
        Some((path.as_str(), bytes))
    })
}

/// The files of the store that are gone or damaged, as findings.
pub fn store_faults(history: &History, files: &dyn Files) -> Vec<Diagnostic> {
    let wanted: Vec<_> = wanted(history).into_iter().collect();
    let found = wanted.par_iter().filter_map(|(digest, file)| {
        let wrong = wrong(files, digest)?;
        let path = store_path(digest);
        let what = if wrong == Wrong::Gone { "is gone" } else { "is damaged" };
        let (names, letters) = (file.paths.join(", "), file.letters.join(", "));
        let help = match source_with(files, digest, file) {
            Some((source, _)) => {
                format!("`kitwright release --seal` puts it back: {source} still has the same bytes")
            }
            None => {
                format!("take {path} back from version control; what can be trusted: all else of release {letters}")
            }
        };
        Some(fault(&path, format!("{path} {what}: {names} of release {letters}")).help(help))
    });
    found.collect()
}

/// The files of the store that are gone or damaged and whose bytes a source still has: path and bytes.
pub fn mended(history: &History, files: &dyn Files) -> Vec<(String, Vec<u8>)> {
    let wanted: Vec<_> = wanted(history).into_iter().filter(|(digest, _)| wrong(files, digest).is_some()).collect();
    wanted.iter().filter_map(|(digest, file)| Some((store_path(digest), source_with(files, digest, file)?.1))).collect()
}

/// The files of `lines` whose bytes the store does not hold yet, by path.
pub fn unstored(lines: &[SourceLine], files: &dyn Files) -> Result<BTreeMap<String, Vec<u8>>, LoadError> {
    let mut store = BTreeMap::new();
    for line in lines.iter().filter(|line| line.key == "sha256") {
        if wrong(files, &line.value).is_some() {
            let bytes = files.read(&line.file).map_err(|e| LoadError::System(format!("{}: {e}", line.file)))?;
            if hex_digest(&bytes) != line.value {
                return Err(LoadError::System(format!("{} changed while it was read", line.file)));
            }
            store.insert(store_path(&line.value), bytes);
        }
    }
    Ok(store)
}
