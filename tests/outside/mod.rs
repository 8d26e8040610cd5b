//! Programs outside the project that tests compare with: where they are, how they are run, and what is said
//! where they are missing.
//!
//! `tests/all.sh` installs them and sets `KITWRIGHT_ORACLES`, which makes a missing one a failure. A plain
//! `cargo test` says of each check that it was left out.

use std::ffi::OsStr;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The project's folder.
pub fn project() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn oracles() -> PathBuf {
    project().join("target/oracles")
}

/// The Python that has the packages of `tests/oracles/requirements.txt`. `check` names the check that needs it.
pub fn python(check: &str) -> Option<PathBuf> {
    let path = oracles().join("venv/bin/python");
    there(path.is_file().then_some(path), check, "the Python packages")
}

/// Whether a Python package is there beside the others; `check` names the check that needs it.
pub fn package(python: &Path, name: &str, check: &str) -> Option<PathBuf> {
    let lib = python.parent()?.parent()?.join("lib");
    let versions = std::fs::read_dir(lib).into_iter().flatten().flatten();
    let found = versions.map(|version| version.path().join("site-packages").join(name)).find(|path| path.exists());
    there(found, check, name)
}

/// The folder of the packages of `tests/oracles/package.json`.
pub fn node_modules(check: &str) -> Option<PathBuf> {
    let path = oracles().join("node_modules");
    there(path.is_dir().then_some(path), check, "the Node packages")
}

/// A program of the system, by its name.
pub fn program(name: &str, check: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH").unwrap_or_default();
    let found = std::env::split_paths(&path).map(|folder| folder.join(name)).find(|p| p.is_file());
    there(found, check, name)
}

fn there(found: Option<PathBuf>, check: &str, what: &str) -> Option<PathBuf> {
    if found.is_none() {
        let line = format!("left out: {check}: it needs {what}, which tests/all.sh installs");
        assert!(std::env::var_os("KITWRIGHT_ORACLES").is_none(), "{line}");
        // Not through `eprintln!`, whose output the test runner keeps to itself when a test passes.
        let _ = writeln!(std::io::stderr(), "{line}");
    }
    found
}

/// A script of `tests/oracles`, ready to be run by `interpreter` with further arguments.
pub fn script(interpreter: &Path, name: &str) -> Command {
    let mut command = Command::new(interpreter);
    command.arg(project().join("tests/oracles").join(name)).env("NODE_PATH", oracles().join("node_modules"));
    command
}

/// Runs a command that must succeed, and returns what it printed.
pub fn run(command: &mut Command) -> String {
    let output = command.output().unwrap_or_else(|e| panic!("{}: {e}", command.get_program().display()));
    let (printed, errors) = (String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    let arguments: Vec<_> = command.get_args().map(OsStr::to_string_lossy).collect();
    assert!(
        output.status.success(),
        "{} {}\n{printed}\n{errors}",
        command.get_program().display(),
        arguments.join(" ")
    );
    printed.into_owned()
}
