//! A run that is ended, or whose calls fail, at any moment: the next one ends well, and what was there is whole.
//!
//! A library between the program and the disk (`disk.rs`) counts the calls that change the disk; the program knows nothing
//! of it. A few calls are taken in the suite, chosen so that those of the swap are among them; with the variable
//! `KITWRIGHT_TRIES` set, as `tests/long.sh` does, every one, or as many as `KITWRIGHT_CALLS` says, and a sample of the
//! demonstration's.
#![cfg(target_os = "linux")]

mod output;
mod power;
mod released;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::sync::OnceLock;

use power::Call;

use crate::outside;

/// The numbers of errors on Linux: a fault of the disk, no room, not allowed, read-only, too many files open.
const ERRORS: [u32; 5] = [5, 28, 13, 30, 24];

/// What is tried.
struct Manual {
    /// Puts it into an empty folder, with a release.
    begin: fn(&Path),
    /// Two of its configurations.
    configurations: [&'static str; 2],
    /// A step with a title, and a picture that a step shows.
    step: &'static str,
    picture: &'static str,
    /// The next release.
    letter: &'static str,
    /// About how many calls are taken of each task; all where nothing is said.
    some: Option<usize>,
}

impl Manual {
    /// The path of the next release.
    fn release(&self) -> String {
        format!("manual-src/releases/{}.release", self.letter)
    }
}

/// The one that `start` writes.
const SMALL: Manual = Manual {
    begin: |folder| {
        plain(folder, &["start"], 0);
        plain(folder, &["release", "--summary", "First", "--class", "information", "--date", "2026-01-05"], 0);
    },
    configurations: ["PLAIN", "TALL"],
    step: "manual-src/steps/frame/10-handle.md",
    picture: "manual-src/figures/axle.svg",
    letter: "B",
    some: None,
};

/// The one that `start` writes for millimetres.
const METRIC: Manual = Manual {
    begin: |folder| {
        plain(folder, &["start", "--units", "mm"], 0);
        plain(folder, &["release", "--summary", "First", "--class", "information", "--date", "2026-01-05"], 0);
    },
    ..SMALL
};

const DEMONSTRATION: Manual = Manual {
    begin: |folder| copy(&outside::project().join("manual-src"), &folder.join("manual-src")),
    configurations: ["SAND+brake", "ICE+claw"],
    step: "manual-src/steps/seat/10-seat-mitres.md",
    picture: "manual-src/figures/seat-frame.svg",
    letter: "E",
    some: Some(12),
};

/// Whether every call is taken.
fn long() -> bool {
    std::env::var_os("KITWRIGHT_TRIES").is_some()
}

/// The manuals to be tried, each with how many calls are taken: a small one, and in a long run the other and the
/// demonstration too.
fn manuals(some: usize) -> Vec<(&'static Manual, Option<usize>)> {
    if !long() {
        return vec![(&SMALL, Some(some))];
    }
    let fewer = std::env::var("KITWRIGHT_CALLS").ok().map(|n| n.parse().expect("KITWRIGHT_CALLS is a number"));
    vec![(&SMALL, fewer), (&METRIC, fewer), (&DEMONSTRATION, DEMONSTRATION.some)]
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
    /// Nothing, and the calls that look are written down in the place of those that change.
    Watched,
    /// A call that looks fails.
    Unread(usize, u32),
}

/// The program in a folder, with what is done to its calls below `root`.
fn program(folder: &Path, root: &str, arguments: &[&str], done: Done) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_kitwright"));
    command.args(["--threads", "1"]).args(arguments).current_dir(folder).env("NO_COLOR", "1");
    command.env("LD_PRELOAD", library()).env("DISK_ROOT", folder.join(root)).env("DISK_LOG", folder.join("calls"));
    if matches!(done, Done::Watched | Done::Unread(..)) {
        command.env("DISK_READS", "1");
    }
    match done {
        Done::Nothing | Done::Watched => {}
        Done::Killed(call) => {
            command.env("DISK_KILL", call.to_string());
        }
        Done::Failed(call, error) | Done::Unread(call, error) => {
            command.env("DISK_FAIL", format!("{call}:{error}"));
        }
    }
    command.output().expect("it runs")
}

/// The program left alone, which goes on while others do.
fn start(folder: &Path, arguments: &[&str]) -> Child {
    let mut command = Command::new(env!("CARGO_BIN_EXE_kitwright"));
    command.args(arguments).current_dir(folder).env("NO_COLOR", "1");
    command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("it runs")
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

/// The program's own end, with its own words; no panic, no abort. What can't be read may be a finding.
#[track_caller]
fn ended_by_itself(output: &Output, done: Done) {
    let said = words(output);
    let code = output.status.code();
    let ended = matches!(code, Some(0 | 2)) || code == Some(1) && matches!(done, Done::Unread(..));
    assert!(ended && !said.contains("panicked") && !said.contains("own-fault"), "{done:?}: {said}");
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

/// Gives the step another title.
fn retitle(path: &Path, new: &str) {
    edit(path, "\ntitle: ", &format!("\ntitle: {new} "));
}

/// Replaces the one place where `old` stands.
fn edit(path: &Path, old: &str, new: &str) {
    let text = fs::read_to_string(path).expect("can be read");
    assert_eq!(text.matches(old).count(), 1, "`{old}`");
    fs::write(path, text.replace(old, new)).expect("written");
}

/// The numbers, from 1, of the calls that are taken: all where none is said, or about `some`, those that move things first.
fn taken(calls: &[Call], some: Option<usize>) -> Vec<usize> {
    let all = 1..=calls.len();
    let Some(some) = some else { return all.collect() };
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
