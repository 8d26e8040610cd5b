//! `verify`: whether a copy of a stick is whole.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, Read as _};
use std::path::Path;

use super::Ending;
use super::failure::Failure;
use crate::emit::stick::{SUMS, digest_of, read_sums};

/// A list of checksums beyond this size, in bytes, is none of ours.
const LARGEST_LIST: u64 = 32 << 20;

/// What systems put on a stick by themselves: no fault of the copy.
const BY_THE_SYSTEM: [&str; 10] = [
    "System Volume Information",
    "$RECYCLE.BIN",
    "lost+found",
    "desktop.ini",
    "Thumbs.db",
    "autorun.inf",
    ".Trashes",
    ".DS_Store",
    ".fseventsd",
    ".Spotlight-V100",
];

/// Compares a folder with its checksums. Returns the report and whether the copy is whole.
///
/// # Errors
/// There is no list of checksums, or it can't be read or used.
pub(super) fn verify(folder: &Path) -> Result<(String, Ending), Failure> {
    let sums = sums(folder)?;
    let there = walk(folder)?;
    let mut lines = Vec::new();
    for (path, expected) in &sums {
        let words = match there.get(path) {
            None => "missing",
            Some(StickKind::Other) => "changed, it is no plain file",
            Some(StickKind::Plain) => match File::open(folder.join(path)).and_then(digest_of) {
                Ok(digest) if digest == *expected => continue,
                Ok(_) => "changed",
                Err(error) => {
                    lines.push(format!("can't be read: {path}: {error}"));
                    continue;
                }
            },
        };
        lines.push(format!("{words}: {path}"));
    }
    let extra: Vec<&String> = there.keys().filter(|path| *path != SUMS && !sums.contains_key(*path)).collect();
    lines.extend(extra.iter().map(|path| format!("extra: {path}")));
    let mut text: String = lines.iter().map(|line| format!("{line}\n")).collect();
    let ending = if lines.is_empty() { Ending::Clean } else { Ending::Faults };
    text.push_str(&match ending {
        Ending::Clean => format!("{} files, all as they were made\n", sums.len()),
        Ending::Faults => format!("{} files listed, {} wrong; do not build from this copy\n", sums.len(), lines.len()),
    });
    Ok((text, ending))
}

fn sums(folder: &Path) -> Result<BTreeMap<String, String>, Failure> {
    let path = folder.join(SUMS);
    let file = File::open(&path).map_err(|error| match error.kind() {
        io::ErrorKind::NotFound | io::ErrorKind::NotADirectory => Failure::new(
            format!("there is no {SUMS} in {}", folder.display()),
            "name the folder that holds START-HERE.html; if it is there, the list itself is missing from the copy",
        ),
        _ => unreadable(&path, &error),
    })?;
    let mut bytes = Vec::new();
    file.take(LARGEST_LIST + 1).read_to_end(&mut bytes).map_err(|e| unreadable(&path, &e))?;
    let broken = |words: String| Failure::new(format!("{} {words}", path.display()), "copy the stick again");
    if bytes.len() as u64 > LARGEST_LIST {
        return Err(broken("is larger than any list of checksums".to_owned()));
    }
    let text = String::from_utf8(bytes).map_err(|_| broken("is not UTF-8 text".to_owned()))?;
    read_sums(&text).map_err(|fault| broken(format!("can't be used: line {}: {}", fault.line, fault.reason)))
}

#[derive(Clone, Copy)]
enum StickKind {
    Plain,
    Other,
}

/// Every file below a folder. Links are not followed.
fn walk(folder: &Path) -> Result<BTreeMap<String, StickKind>, Failure> {
    let mut found = BTreeMap::new();
    let ours = |entry: &walkdir::DirEntry| {
        let name = entry.file_name().to_string_lossy();
        entry.depth() != 1 || !(BY_THE_SYSTEM.contains(&&*name) || name.starts_with(".Trash-"))
    };
    for entry in walkdir::WalkDir::new(folder).min_depth(1).sort_by_file_name().into_iter().filter_entry(ours) {
        let entry = entry.map_err(|e| {
            Failure::new(format!("{} can't be read: {e}", folder.display()), "check the stick, or copy it again")
        })?;
        if entry.file_type().is_dir() {
            continue;
        }
        let relative = entry.path().strip_prefix(folder).unwrap_or(entry.path());
        let parts: Vec<_> = relative.components().map(|c| c.as_os_str().to_string_lossy().into_owned()).collect();
        let plain = fs::symlink_metadata(entry.path()).is_ok_and(|meta| meta.is_file());
        found.insert(parts.join("/"), if plain { StickKind::Plain } else { StickKind::Other });
    }
    Ok(found)
}

fn unreadable(path: &Path, error: &io::Error) -> Failure {
    Failure::new(format!("{} can't be read: {error}", path.display()), "check the stick, or copy it again")
}
