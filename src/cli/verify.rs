//! `verify`: whether a copy of a stick is whole.
//!
//! It judges what the program wrote. Whatever else lies there is named as foreign: systems leave files of their own on
//! every stick. What of it can run is told, for nothing on a stick of a manual has to be run.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, Read as _};
use std::path::Path;

use super::Ending;
use super::failure::Failure;
use super::runnable::can_run;
use crate::emit::stick::{SUMS, SUMS_CHECK, digest_of, read_sums, write_sums_check};

/// A list of checksums beyond this size, in bytes, is none of ours.
const LARGEST_LIST: u64 = 32 << 20;

/// So many foreign files are named; of the rest the number is.
const NAMED: usize = 40;

/// Compares a folder with its checksums. Returns the report and whether the copy is whole.
///
/// # Errors
/// There is no list of checksums, or it can't be read or used.
pub(super) fn verify(folder: &Path) -> Result<(String, Ending), Failure> {
    let (sums, list) = sums(folder)?;
    let there = walk(folder, &sums)?;
    let mut lines = Vec::new();
    match plain(&folder.join(SUMS_CHECK)) {
        // The other line ends come with a copy through a mail program or an editor.
        Ok(bytes) if String::from_utf8_lossy(&bytes).trim_end() == write_sums_check(&list).trim_end() => {}
        Ok(_) => lines.push(format!("changed: {SUMS} or {SUMS_CHECK}")),
        Err(e) if e.kind() == io::ErrorKind::NotFound => lines.push(format!("missing: {SUMS_CHECK}")),
        Err(error) => lines.push(format!("can't be read: {SUMS_CHECK}: {error}")),
    }
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
    let mut text: String = lines.iter().map(|line| format!("{line}\n")).collect();
    let foreign: Vec<&String> =
        there.keys().filter(|path| *path != SUMS && *path != SUMS_CHECK && !sums.contains_key(*path)).collect();
    let (run, rest): (Vec<&String>, Vec<&String>) = foreign.iter().partition(|path| can_run(&folder.join(path)));
    text.push_str(&named("foreign, and it can run", &run));
    text.push_str(&named("foreign", &rest));
    let ending = if lines.is_empty() { Ending::Clean } else { Ending::Faults };
    text.push_str(&match ending {
        Ending::Clean => format!("{} files, all as they were made\n", sums.len()),
        Ending::Faults => format!("{} files listed, {} wrong; do not build from this copy\n", sums.len(), lines.len()),
    });
    if !foreign.is_empty() {
        text.push_str(&format!(
            "foreign files: {}; kitwright did not write them, and the manual needs none\n",
            foreign.len()
        ));
    }
    if !run.is_empty() {
        text.push_str(&format!("of these can run: {}; start none of them\n", run.len()));
    }
    Ok((text, ending))
}

/// A line for each file, as far as they are named.
fn named(what: &str, paths: &[&String]) -> String {
    // A name is shown on one line, whatever is in it.
    let shown = |path: &str| path.replace(char::is_control, "\u{FFFD}");
    let mut text: String = paths.iter().take(NAMED).map(|path| format!("{what}: {}\n", shown(path))).collect();
    if paths.len() > NAMED {
        text.push_str(&format!("{what}: {} more\n", paths.len() - NAMED));
    }
    text
}

/// What is in a file, up to a byte more than the largest list has.
fn plain(path: &Path) -> io::Result<Vec<u8>> {
    // Before it is opened: a pipe opens only when somebody writes into it.
    if !fs::metadata(path)?.is_file() {
        return Err(io::Error::new(io::ErrorKind::InvalidInput, "it is no plain file"));
    }
    let mut bytes = Vec::new();
    File::open(path)?.take(LARGEST_LIST + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// The list, and its text.
fn sums(folder: &Path) -> Result<(BTreeMap<String, String>, String), Failure> {
    let path = folder.join(SUMS);
    let bytes = plain(&path).map_err(|error| match error.kind() {
        io::ErrorKind::NotFound | io::ErrorKind::NotADirectory => Failure::new(
            format!("there is no {SUMS} in {}", folder.display()),
            "name the folder that holds START-HERE.html; if it is there, the list itself is missing from the copy",
        ),
        _ => unreadable(&path, &error),
    })?;
    let broken = |words: String| Failure::new(format!("{} {words}", path.display()), "copy the stick again");
    if bytes.len() as u64 > LARGEST_LIST {
        return Err(broken("is larger than any list of checksums".to_owned()));
    }
    let text = String::from_utf8(bytes).map_err(|_| broken("is not UTF-8 text".to_owned()))?;
    match read_sums(&text) {
        Ok(sums) => Ok((sums, text)),
        Err(fault) => Err(broken(format!("can't be used: line {}: {}", fault.line, fault.reason))),
    }
}

#[derive(Clone, Copy)]
enum StickKind {
    Plain,
    Other,
}

/// Every file below a folder. Links are not followed. A folder that can't be looked into stands as one thing: what
/// systems keep of their own is often closed to others.
fn walk(folder: &Path, sums: &BTreeMap<String, String>) -> Result<BTreeMap<String, StickKind>, Failure> {
    let mut found = BTreeMap::new();
    for entry in walkdir::WalkDir::new(folder).min_depth(1).sort_by_file_name() {
        let (path, kind) = match &entry {
            Ok(entry) if entry.file_type().is_dir() => continue,
            Ok(entry) => {
                let plain = fs::symlink_metadata(entry.path()).is_ok_and(|meta| meta.is_file());
                (Some(entry.path()), if plain { StickKind::Plain } else { StickKind::Other })
            }
            Err(error) => (error.path(), StickKind::Other),
        };
        let relative = path.and_then(|path| path.strip_prefix(folder).ok());
        let parts = relative.map(|r| r.components().map(|c| c.as_os_str().to_string_lossy().into_owned()));
        let path = parts.map(|parts| parts.collect::<Vec<_>>().join("/")).filter(|path| !path.is_empty());
        match (path, entry) {
            (None, Err(error)) => {
                return Err(Failure::new(
                    format!("{} can't be read: {error}", folder.display()),
                    "check the stick, or copy it again",
                ));
            }
            (Some(path), Err(error)) if sums.keys().any(|ours| Path::new(ours).starts_with(&path)) => {
                return Err(Failure::new(
                    format!("{} can't be read: {error}", folder.join(path).display()),
                    "check the stick, or copy it again",
                ));
            }
            (Some(path), _) => drop(found.insert(path, kind)),
            (None, Ok(_)) => {}
        }
    }
    Ok(found)
}

fn unreadable(path: &Path, error: &io::Error) -> Failure {
    Failure::new(format!("{} can't be read: {error}", path.display()), "check the stick, or copy it again")
}
