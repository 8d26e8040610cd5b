//! A run that is ended, or whose calls fail, at any moment: the next one ends well, and what was there is whole.
//!
//! A library between the program and the disk (`disk.rs`) counts the calls that change the disk; the program knows nothing
//! of it. A few calls are taken in the suite, chosen so that those of the swap are among them; with the variable
//! `KITWRIGHT_TRIES` set, as `tests/long.sh` does, every one.
#![cfg(target_os = "linux")]

mod output;
mod power;
mod released;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::OnceLock;

use power::Call;

use crate::outside;

/// The numbers of errors on Linux: a fault of the disk, no room.
const ERRORS: [u32; 2] = [5, 28];

/// Whether every call is taken.
fn long() -> bool {
    std::env::var_os("KITWRIGHT_TRIES").is_some()
}

/// The library, built once.
fn library() -> &'static Path {
    static LIBRARY: OnceLock<(tempfile::TempDir, PathBuf)> = OnceLock::new();
    let (_, path) = LIBRARY.get_or_init(|| {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("libdisk.so");
        let compiler = std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
        let mut command = Command::new(compiler);
        command.args(["--edition", "2024", "--crate-type", "cdylib", "--crate-name", "disk", "-o"]).arg(&path);
        outside::run(command.arg(outside::project().join("tests/crash/disk.rs")));
        (folder, path)
    });
    path
}

/// What is done to a run.
#[derive(Clone, Copy, Debug)]
enum Done {
    Nothing,
    Killed(usize),
    Failed(usize, u32),
}

/// The program in a folder, with what is done to its calls below `root`.
fn program(folder: &Path, root: &str, arguments: &[&str], done: Done) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_kitwright"));
    command.args(["--threads", "1"]).args(arguments).current_dir(folder).env("NO_COLOR", "1");
    command.env("LD_PRELOAD", library()).env("DISK_ROOT", folder.join(root)).env("DISK_LOG", folder.join("calls"));
    match done {
        Done::Nothing => {}
        Done::Killed(call) => drop(command.env("DISK_KILL", call.to_string())),
        Done::Failed(call, error) => drop(command.env("DISK_FAIL", format!("{call}:{error}"))),
    }
    command.output().expect("it runs")
}

/// The program left alone.
#[track_caller]
fn plain(folder: &Path, arguments: &[&str], code: i32) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_kitwright"));
    let output = command.args(arguments).current_dir(folder).env("NO_COLOR", "1").output().expect("it runs");
    assert_eq!(output.status.code(), Some(code), "{arguments:?}: {}", words(&output));
    output
}

fn words(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

/// The program's own end, with its own words; no panic, no abort.
#[track_caller]
fn ended_by_itself(output: &Output, done: Done) {
    let said = words(output);
    assert!(matches!(output.status.code(), Some(0 | 2)) && !said.contains("panicked"), "{done:?}: {said}");
}

fn copy(from: &Path, to: &Path) {
    for entry in walkdir::WalkDir::new(from) {
        let entry = entry.expect("can be read");
        let to = to.join(entry.path().strip_prefix(from).expect("inside"));
        if entry.file_type().is_dir() {
            fs::create_dir_all(to).expect("a folder");
        } else {
            fs::copy(entry.path(), to).expect("copied");
        }
    }
}

fn files(root: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = walkdir::WalkDir::new(root).into_iter().filter_map(Result::ok).filter(|e| !e.file_type().is_dir());
    let name = |path: &Path| path.strip_prefix(root).expect("inside").to_string_lossy().into_owned();
    entries.map(|e| (name(e.path()), fs::read(e.path()).expect("can be read"))).collect()
}

/// Replaces the one place where `old` stands.
fn edit(path: &Path, old: &str, new: &str) {
    let text = fs::read_to_string(path).expect("can be read");
    assert_eq!(text.matches(old).count(), 1, "`{old}`");
    fs::write(path, text.replace(old, new)).expect("written");
}

/// The numbers, from 1, of the calls that are taken: all, or about `some`, those that move things first.
fn taken(calls: &[Call], some: usize) -> Vec<usize> {
    let all = 1..=calls.len();
    if long() {
        return all.collect();
    }
    let (moves, rest): (Vec<usize>, Vec<usize>) =
        all.partition(|n| matches!(calls[n - 1].what.as_str(), "rename" | "link"));
    let spread = |numbers: Vec<usize>, some: usize| {
        let step = numbers.len().div_ceil(some.max(1)).max(1);
        numbers.into_iter().skip(step / 2).step_by(step).collect::<Vec<_>>()
    };
    let mut taken = spread(moves, some.div_ceil(2));
    taken.extend(spread(rest, some / 2));
    taken
}
