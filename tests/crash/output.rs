//! Compile and stick that break off: old or new output, whole, and the files of others.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use super::power::{Call, Luck, calls, leave};
use super::{Done, ERRORS, copy, edit, ended_by_itself, files, plain, program, taken, words};

/// A manual whose output is there, and which was changed since.
struct Bench {
    folder: tempfile::TempDir,
    arguments: [&'static str; 1],
    out: &'static str,
    /// Every configuration's folder as it was, and as it is to be.
    old: BTreeMap<String, Vec<u8>>,
    new: BTreeMap<String, Vec<u8>>,
    /// The calls of a run that nothing is done to.
    calls: Vec<Call>,
    /// Where that run's output lay.
    root: PathBuf,
}

/// What others put among the output.
const FOREIGN: [(&str, &str); 3] =
    [("PLAIN/notes.txt", "mine"), ("TALL/manual/remarks.txt", "mine too"), ("TALL/photos/a/b.jpg", "picture")];

impl Bench {
    fn new(task: &'static str, out: &'static str) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let before = folder.path().join("before");
        fs::create_dir(&before).expect("a folder");
        plain(&before, &["start"], 0);
        plain(&before, &[task], 0);
        for (path, text) in FOREIGN {
            let path = before.join(out).join(path);
            fs::create_dir_all(path.parent().expect("a parent")).expect("a folder");
            fs::write(path, text).expect("written");
        }
        edit(&before.join("manual-src/steps/frame/10-handle.md"), "title: ", "title: Now ");
        let whole = folder.path().join("whole");
        copy(&before, &whole);
        let run = program(&whole, out, &[task], Done::Nothing);
        assert_eq!(run.status.code(), Some(0), "{}", words(&run));
        let log = fs::read(whole.join("calls")).expect("the calls were written down");
        let (old, new) = (shown(&before.join(out)), shown(&whole.join(out)));
        assert_ne!(old, new);
        let calls = calls(&log);
        assert!(calls.iter().any(|c| c.what == "rename") && calls.iter().any(|c| c.what == "sync"));
        let root = whole.join(out);
        Self { folder, arguments: [task], out, old, new, calls, root }
    }

    fn copy(&self, name: &str) -> PathBuf {
        let to = self.folder.path().join(name);
        copy(&self.folder.path().join("before"), &to);
        to
    }

    /// What is there is whole after the next run, even of something else, and the run after that makes the new output.
    #[track_caller]
    fn ends_well(&self, folder: &Path, what: &str) {
        plain(folder, &["compare", "PLAIN", "TALL", "--out", self.out], 0);
        let out = folder.join(self.out);
        fs::remove_dir_all(out.join("PLAIN..TALL")).expect("it was made");
        let there = shown(&out);
        for configuration in ["PLAIN/", "TALL/"] {
            let of = |all: &BTreeMap<String, Vec<u8>>| -> BTreeMap<String, Vec<u8>> {
                all.iter().filter(|(p, _)| p.starts_with(configuration)).map(|(p, b)| (p.clone(), b.clone())).collect()
            };
            let (there, old, new) = (of(&there), of(&self.old), of(&self.new));
            assert!(there == old || there == new, "{what}: {configuration} is neither the old nor the new output");
        }
        let left: Vec<_> = fs::read_dir(&out).expect("there").map(|e| e.expect("an entry").file_name()).collect();
        let hidden: Vec<_> = left.iter().filter(|n| n.to_string_lossy().starts_with('.')).collect();
        assert!(
            hidden.iter().all(|n| *n == ".kitwright-lock" || *n == ".kitwright-kept"),
            "{what}: {hidden:?} is left"
        );
        plain(folder, &self.arguments, 0);
        assert!(shown(&out) == self.new, "{what}: the run after that does not make the new output");
        fs::remove_dir_all(folder).expect("removed");
    }

    fn killed(&self, some: usize) -> usize {
        let taken = taken(&self.calls, some);
        for call in &taken {
            let folder = self.copy("killed");
            let done = Done::Killed(*call);
            let run = program(&folder, self.out, &self.arguments, done);
            assert_eq!(run.status.code(), None, "{done:?}: {}", words(&run));
            self.ends_well(&folder, &format!("{done:?} {:?}", self.calls[call - 1]));
        }
        taken.len()
    }

    fn failed(&self, some: usize) -> usize {
        let taken = taken(&self.calls, some);
        for (at, call) in taken.iter().enumerate() {
            let folder = self.copy("failed");
            let done = Done::Failed(*call, ERRORS[at % ERRORS.len()]);
            let run = program(&folder, self.out, &self.arguments, done);
            ended_by_itself(&run, done);
            if run.status.success() {
                assert!(shown(&folder.join(self.out)) == self.new, "{done:?}: it says that it is done");
            }
            self.ends_well(&folder, &format!("{done:?}"));
        }
        taken.len()
    }

    /// Every cut with every luck; after the end all must be there at once.
    fn cut(&self, some: usize) -> usize {
        let mut cuts = taken(&self.calls, some);
        cuts.push(self.calls.len());
        let mut count = 0;
        for cut in cuts {
            for luck in [Luck::None, Luck::Entries, Luck::All, Luck::Chance(cut as u64), Luck::Chance(!(cut as u64))] {
                // All luck is what a kill leaves; in the suite it is among those.
                if matches!(luck, Luck::All | Luck::Chance(0x8000_0000_0000_0000..)) && !super::long() {
                    continue;
                }
                let folder = self.folder.path().join("cut");
                copy(&self.folder.path().join("before/manual-src"), &folder.join("manual-src"));
                leave(
                    &self.folder.path().join("before").join(self.out),
                    &self.root,
                    &self.calls,
                    cut,
                    luck,
                    &folder.join(self.out),
                );
                if cut == self.calls.len() {
                    assert!(shown(&folder.join(self.out)) == self.new, "{luck:?}: it was said to be done");
                }
                self.ends_well(&folder, &format!("cut after {cut} calls, {luck:?}"));
                count += 1;
            }
        }
        count
    }
}

/// The files of configurations, and those of others among them.
fn shown(out: &Path) -> BTreeMap<String, Vec<u8>> {
    files(out).into_iter().filter(|(path, _)| !path.starts_with('.')).collect()
}

#[test]
fn a_compile_that_is_killed_leaves_whole_output() {
    println!("{} kills", Bench::new("compile", "out").killed(6));
}

#[test]
fn a_compile_whose_calls_fail_leaves_whole_output() {
    println!("{} errors", Bench::new("compile", "out").failed(6));
}

#[test]
fn a_compile_in_a_power_cut_leaves_whole_output() {
    println!("{} cuts", Bench::new("compile", "out").cut(2));
}

#[test]
fn a_stick_that_breaks_off_leaves_whole_output() {
    let bench = Bench::new("stick", "out/stick");
    println!("{} kills", bench.killed(2));
    println!("{} errors", bench.failed(2));
    println!("{} cuts", bench.cut(1));
}
