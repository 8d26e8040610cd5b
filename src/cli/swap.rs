//! Swapping finished folders in for old ones, so that at each moment the output is whole: the old or the new.
//!
//! The old folders go to `.kitwright-old/was`, the new ones come out of `.kitwright-new`; `.kitwright-old/fresh` names those
//! that take no old one's place. The swap is done at the moment when
//! `.kitwright-new` is gone; until then it can be taken back, by this run or by the next. Afterwards files that the
//! program did not write move from the old folder to the new one, and the rest of the old one is deleted.
//!
//! Each configuration's folder holds `.kitwright`: the list of what was written there. All else in it is foreign.

use std::collections::BTreeSet;
use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::staged::Written;

const MARKER: &str = ".kitwright";
const MARKER_HEAD: &str = "Written by kitwright. The files below are replaced by the next compile; others are kept.";

/// What becomes of folders of configurations that were not made in this run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Delisted {
    Keep,
    /// They are no longer declared: what the program wrote there goes away.
    Remove,
}

/// Where a run writes.
pub(super) fn new_folder(out: &Path) -> PathBuf {
    out.join(".kitwright-new")
}

fn old_folder(out: &Path) -> PathBuf {
    out.join(".kitwright-old")
}

/// The old folders.
fn was(out: &Path) -> PathBuf {
    old_folder(out).join("was")
}

/// An empty file for each new folder that takes no old one's place.
fn fresh(out: &Path) -> PathBuf {
    old_folder(out).join("fresh")
}

/// Clears up after a run that broke off: takes a half-done swap back, finishes one that was done.
///
/// # Errors
/// The system's words.
pub(super) fn recover(out: &Path) -> io::Result<()> {
    if is_there(&old_folder(out))? {
        if is_there(&new_folder(out))? {
            take_back(out)?;
        } else {
            clear_old(out)?;
        }
    }
    remove_tree(&new_folder(out))
}

/// Puts the folders of `written` in the place of what was there.
///
/// # Errors
/// Foreign files stand in the way; the system's words. Either way the old output is in place.
pub(super) fn swap(out: &Path, written: &Written, delisted: Delisted) -> Result<(), Failure> {
    for (name, files) in written {
        stands_in_the_way(&out.join(name), files)?;
        let marker = new_folder(out).join(name).join(MARKER);
        let list: String = files.iter().map(|f| format!("{f}\n")).collect();
        fs::write(&marker, format!("{MARKER_HEAD}\n{list}")).map_err(|e| Failure::write(&marker, &e))?;
    }
    let done = exchange(out, written, delisted);
    if let Err(error) = done {
        return Err(match take_back(out) {
            Ok(()) => Failure::write(out, &error),
            Err(second) => Failure::new(
                format!(
                    "{} can't be written: {error}; putting the old output back failed too: {second}",
                    out.display()
                ),
                format!(
                    "the old output is in {}; run the command again once the folder can be written, and it is put back",
                    old_folder(out).display()
                ),
            ),
        });
    }
    clear_old(out).map_err(|error| {
        Failure::new(
            format!("the new output is in place, but the old one can't be removed: {error}"),
            format!("run the command again once {} can be removed", old_folder(out).display()),
        )
    })
}

fn exchange(out: &Path, written: &Written, delisted: Delisted) -> io::Result<()> {
    let (new, was, fresh) = (new_folder(out), was(out), fresh(out));
    fs::create_dir_all(&fresh)?;
    fs::create_dir_all(&was)?;
    if delisted == Delisted::Remove {
        for name in ours(out)?.difference(&written.keys().cloned().collect()) {
            fs::rename(out.join(name), was.join(name))?;
        }
    }
    for name in written.keys() {
        if is_there(&out.join(name))? {
            fs::rename(out.join(name), was.join(name))?;
        } else {
            fs::write(fresh.join(name), "")?;
        }
        fs::rename(new.join(name), out.join(name))?;
    }
    fs::remove_dir(&new)
}

/// Undoes a swap that is not done.
fn take_back(out: &Path) -> io::Result<()> {
    let (new, was, fresh) = (new_folder(out), was(out), fresh(out));
    for name in names(&fresh)? {
        // Not there: it broke off between the note and the move.
        if is_there(&out.join(&name))? {
            fs::rename(out.join(&name), new.join(&name))?;
        }
    }
    for name in names(&was)? {
        if is_there(&out.join(&name))? {
            fs::rename(out.join(&name), new.join(&name))?;
        }
        fs::rename(was.join(&name), out.join(&name))?;
    }
    remove_tree(&old_folder(out))
}

/// Deletes the old folders after a swap. Foreign files move on to the new ones first.
fn clear_old(out: &Path) -> io::Result<()> {
    let was = was(out);
    for name in names(&was)? {
        let folder = was.join(&name);
        for file in foreign(&folder)? {
            let to = out.join(&name).join(&file);
            if is_there(&to)? {
                return Err(io::Error::new(ErrorKind::AlreadyExists, format!("{} is there twice", to.display())));
            }
            if let Some(parent) = to.parent() {
                fs::create_dir_all(parent)?;
            }
            fs::rename(folder.join(&file), to)?;
        }
    }
    remove_tree(&old_folder(out))
}

/// Refuses a swap that would lose what the program did not write.
fn stands_in_the_way(folder: &Path, files: &BTreeSet<String>) -> Result<(), Failure> {
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
    let clash = |path: &String| {
        let below = |a: &str, b: &str| a.strip_prefix(b).is_some_and(|rest| rest.starts_with('/'));
        files.iter().any(|f| f == path || below(f, path) || below(path, f))
    };
    let foreign = foreign(folder).map_err(|e| failed(&e))?;
    let Some(first) = foreign.iter().find(|f| clash(f)) else { return Ok(()) };
    Err(Failure::new(
        format!("{} was not written by kitwright and would be lost", folder.join(first).display()),
        "move it away, or name another folder with --out",
    ))
}

/// The files in a configuration's folder that the program did not write, relative to it.
fn foreign(folder: &Path) -> io::Result<BTreeSet<String>> {
    let ours = marked(folder)?.unwrap_or_default();
    let mut foreign = BTreeSet::new();
    for entry in walkdir::WalkDir::new(folder).min_depth(1).sort_by_file_name() {
        let entry = entry?;
        if entry.file_type().is_dir() {
            continue;
        }
        let relative = entry.path().strip_prefix(folder).unwrap_or(entry.path());
        let parts: Option<Vec<_>> = relative.components().map(|c| c.as_os_str().to_str()).collect();
        let Some(parts) = parts else {
            let words = format!("the name of {} can't be read as text; rename the file", entry.path().display());
            return Err(io::Error::new(ErrorKind::InvalidFilename, words));
        };
        let path = parts.join("/");
        if path != MARKER && !ours.contains(&path) {
            foreign.insert(path);
        }
    }
    Ok(foreign)
}

/// What the marker of a folder lists; none where there is no marker of ours.
fn marked(folder: &Path) -> io::Result<Option<BTreeSet<String>>> {
    match fs::read_to_string(folder.join(MARKER)) {
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
fn ours(out: &Path) -> io::Result<BTreeSet<String>> {
    let mut ours = BTreeSet::new();
    for name in names(out)? {
        let folder = out.join(&name);
        if !name.starts_with('.') && fs::symlink_metadata(&folder)?.is_dir() && marked(&folder)?.is_some() {
            ours.insert(name);
        }
    }
    Ok(ours)
}

/// The names in a folder, in order; none where there is no folder. Names that are not text are not ours and are
/// passed over.
fn names(folder: &Path) -> io::Result<BTreeSet<String>> {
    let entries: Vec<fs::DirEntry> = match fs::read_dir(folder) {
        Err(e) if e.kind() == ErrorKind::NotFound => return Ok(BTreeSet::new()),
        entries => entries?.collect::<io::Result<_>>()?,
    };
    Ok(entries.iter().filter_map(|e| e.file_name().to_str().map(str::to_owned)).collect())
}

fn is_there(path: &Path) -> io::Result<bool> {
    match fs::symlink_metadata(path) {
        Ok(_) => Ok(true),
        Err(e) if e.kind() == ErrorKind::NotFound => Ok(false),
        Err(e) => Err(e),
    }
}

/// Removes a folder and all in it. Links are removed, not followed.
fn remove_tree(path: &Path) -> io::Result<()> {
    match fs::remove_dir_all(path) {
        Err(e) if e.kind() == ErrorKind::NotFound => Ok(()),
        done => done,
    }
}
