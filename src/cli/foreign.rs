//! What in an output folder the program wrote, and what it did not.

use std::collections::BTreeSet;
use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::lasting::{self, there};
use super::swap::names;

pub(super) const MARKER: &str = ".kitwright";
pub(super) const MARKER_HEAD: &str =
    "Written by kitwright. The files below are replaced by the next compile; others are kept.";

/// Refuses a swap that would lose what the program did not write.
pub(super) fn stands_in_the_way(folder: &Path, files: &BTreeSet<String>) -> Result<(), Failure> {
    let failed = |e: &io::Error| Failure::write(folder, e);
    match fs::symlink_metadata(folder) {
        Err(e) if e.kind() == ErrorKind::NotFound => return Ok(()),
        Err(e) => return Err(failed(&e)),
        Ok(meta) if !meta.is_dir() => {
            return Err(Failure::new(
                format!("{} is not a folder", folder.display()),
                "move it away, or name another folder with --out",
            ));
        }
        Ok(_) => {}
    }
    let clash = |path: &PathBuf| files.iter().any(|ours| Path::new(ours).starts_with(path) || path.starts_with(ours));
    let foreign = foreign(folder).map_err(|e| failed(&e))?;
    let Some(first) = foreign.iter().find(|f| clash(f)) else { return Ok(()) };
    Err(Failure::new(
        format!("{} was not written by kitwright and would be lost", folder.join(first).display()),
        "move it away, or name another folder with --out",
    ))
}

/// The files in a configuration's folder that the program did not write, relative to it.
fn foreign(folder: &Path) -> io::Result<BTreeSet<PathBuf>> {
    let ours = marked(folder)?.unwrap_or_default();
    let mut foreign = BTreeSet::new();
    for entry in walkdir::WalkDir::new(folder).min_depth(1).sort_by_file_name() {
        let entry = entry?;
        if entry.file_type().is_dir() {
            continue;
        }
        let relative = entry.path().strip_prefix(folder).unwrap_or(entry.path());
        // A name that is no text is none of ours.
        let parts: Option<Vec<_>> = relative.components().map(|c| c.as_os_str().to_str()).collect();
        if parts.is_none_or(|parts| parts[..] != [MARKER] && !ours.contains(&parts.join("/"))) {
            foreign.insert(relative.to_owned());
        }
    }
    Ok(foreign)
}

/// Moves the foreign files of an old folder to the one in its place. Where one of the name is there already, both are kept.
pub(super) fn move_on(old: &Path, new: &Path) -> io::Result<()> {
    if !fs::symlink_metadata(old)?.is_dir() {
        return lasting::rename(old, &beside(new.to_owned())?);
    }
    for file in foreign(old)? {
        let to = beside(new.join(&file))?;
        lasting::make_folder(lasting::folder_of(&to))?;
        lasting::rename(&old.join(&file), &to)?;
    }
    Ok(())
}

/// A path where nothing is: the path itself, else `notes-kept-1.txt` for `notes.txt`.
fn beside(path: PathBuf) -> io::Result<PathBuf> {
    let mut free = path.clone();
    let mut number = 1_u32;
    while there(&free)? {
        let mut name = path.file_stem().unwrap_or_default().to_owned();
        name.push(format!("-kept-{number}"));
        if let Some(end) = path.extension() {
            name.push(".");
            name.push(end);
        }
        free.set_file_name(name);
        number += 1;
    }
    Ok(free)
}

/// What the marker of a folder lists; none where there is no marker of ours.
fn marked(folder: &Path) -> io::Result<Option<BTreeSet<String>>> {
    let marker = folder.join(MARKER);
    // A pipe would be read without end.
    if fs::symlink_metadata(&marker).is_ok_and(|meta| !meta.is_file()) {
        return Ok(None);
    }
    match fs::read_to_string(marker) {
        Ok(text) => Ok(text
            .strip_prefix(MARKER_HEAD)
            .map(|list| list.lines().filter(|l| !l.is_empty()).map(str::to_owned).collect())),
        Err(e) if matches!(e.kind(), ErrorKind::NotFound | ErrorKind::InvalidData | ErrorKind::NotADirectory) => {
            Ok(None)
        }
        Err(e) => Err(e),
    }
}

/// The folders in the output that the program wrote.
pub(super) fn ours(out: &Path) -> io::Result<BTreeSet<String>> {
    let mut ours = BTreeSet::new();
    for name in names(out)? {
        let folder = out.join(&name);
        if !name.starts_with('.') && fs::symlink_metadata(&folder)?.is_dir() && marked(&folder)?.is_some() {
            ours.insert(name);
        }
    }
    Ok(ours)
}
