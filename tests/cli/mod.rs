//! The program as it is called: what it writes, what it says, how it ends.

mod answers;
mod ending;
mod kits;
mod reference;
mod release;
mod rename;
mod same_bytes;
mod start;
mod variant;
mod writing;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// A folder of its own with the manual that `start` writes in `manual-src`.
struct Desk {
    folder: tempfile::TempDir,
}

/// What a run came to.
struct Run {
    code: i32,
    out: String,
    err: String,
}

impl Run {
    fn of(output: Output) -> Self {
        Self {
            code: output.status.code().unwrap_or_else(|| panic!("ended by a signal: {output:?}")),
            out: String::from_utf8(output.stdout).expect("UTF-8"),
            err: String::from_utf8(output.stderr).expect("UTF-8"),
        }
    }

    /// Fails the test with all that was said unless it ended so.
    #[track_caller]
    fn ends(self, code: i32) -> Self {
        assert_eq!(self.code, code, "\n--- out\n{}--- err\n{}", self.out, self.err);
        self
    }
}

impl Desk {
    /// An empty folder.
    fn empty() -> Self {
        Self { folder: tempfile::tempdir().expect("a folder") }
    }

    fn with_manual() -> Self {
        let desk = Self::empty();
        desk.run(&["start"]).ends(0);
        desk
    }

    /// One that was compiled.
    fn compiled() -> Self {
        let desk = Self::with_manual();
        desk.run(&["compile"]).ends(0);
        desk
    }

    fn path(&self, path: &str) -> PathBuf {
        self.folder.path().join(path)
    }

    fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_kitwright"));
        command.args(arguments).current_dir(self.folder.path()).env("NO_COLOR", "1");
        command
    }

    fn run(&self, arguments: &[&str]) -> Run {
        Run::of(self.command(arguments).output().expect("it runs"))
    }

    /// Runs under a limit on the size of files, in blocks of 1024 bytes as `bash` counts them.
    #[cfg(unix)]
    fn run_limited(&self, blocks: u32, arguments: &[&str]) -> Run {
        let mut command = Command::new("bash");
        command
            .args(["-c", &format!("ulimit -f {blocks}; exec \"$@\""), "bash", env!("CARGO_BIN_EXE_kitwright")])
            .args(arguments)
            .current_dir(self.folder.path());
        Run::of(command.output().expect("it runs"))
    }

    /// Runs without the administrator's right to write where the mode forbids it; none where the system can't do that.
    #[cfg(unix)]
    fn run_bound(&self, arguments: &[&str]) -> Option<Run> {
        let rights = "-dac_override,-dac_read_search";
        let mut command = Command::new("setpriv");
        command
            .args([format!("--bounding-set={rights}"), format!("--inh-caps={rights}")])
            .arg(env!("CARGO_BIN_EXE_kitwright"))
            .args(arguments)
            .current_dir(self.folder.path());
        command.output().ok().map(Run::of)
    }

    fn read(&self, path: &str) -> String {
        fs::read_to_string(self.path(path)).unwrap_or_else(|e| panic!("{path}: {e}"))
    }

    fn write(&self, path: &str, text: &str) {
        let path = self.path(path);
        fs::create_dir_all(path.parent().expect("a parent")).expect("a folder");
        fs::write(path, text).expect("written");
    }

    /// Replaces the one place where `old` stands.
    fn edit(&self, path: &str, old: &str, new: &str) {
        let text = self.read(path);
        assert_eq!(text.matches(old).count(), 1, "`{old}` in {path}");
        self.write(path, &text.replace(old, new));
    }

    /// Every file below a folder, with its bytes.
    fn files(&self, folder: &str) -> BTreeMap<String, Vec<u8>> {
        files(&self.path(folder))
    }
}

fn files(root: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = walkdir::WalkDir::new(root).into_iter().map(|e| e.expect("can be read"));
    entries
        .filter(|e| !e.file_type().is_dir())
        .map(|e| {
            let name = e.path().strip_prefix(root).expect("inside").to_string_lossy().replace('\\', "/");
            (name, fs::read(e.path()).expect("can be read"))
        })
        .collect()
}

/// Whether files that may not be written can be written all the same, as the system's administrator can.
#[cfg(unix)]
fn is_administrator() -> bool {
    use std::os::unix::fs::PermissionsExt as _;
    let folder = tempfile::tempdir().expect("a folder");
    fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o555)).expect("a mode");
    fs::write(folder.path().join("x"), "").is_ok()
}
