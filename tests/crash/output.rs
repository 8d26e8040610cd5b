//! Compile and stick that break off: old or new output, whole, and the files of others.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use super::power::{Call, Luck, calls, leave, next};
use super::{
    Done, ERRORS, Manual, SMALL, copy, ended_by_itself, files, long, manuals, plain, program, retitle, start, taken,
    words,
};

/// A manual whose output is there, and which was changed since.
struct Bench {
    manual: &'static Manual,
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

/// What others put among the output: which configuration, below it where, and what.
const FOREIGN: [(usize, &str, &str); 3] =
    [(0, "notes.txt", "mine"), (1, "manual/remarks.txt", "mine too"), (1, "photos/a/b.jpg", "picture")];

impl Bench {
    fn new(manual: &'static Manual, task: &'static str, out: &'static str) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let before = folder.path().join("before");
        fs::create_dir(&before).expect("a folder");
        (manual.begin)(&before);
        plain(&before, &[task], 0);
        for (of, path, text) in FOREIGN {
            let path = before.join(out).join(manual.configurations[of]).join(path);
            fs::create_dir_all(path.parent().expect("a parent")).expect("a folder");
            fs::write(path, text).expect("written");
        }
        retitle(&before.join(manual.step), "Now");
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
        Self { manual, folder, arguments: [task], out, old, new, calls, root }
    }

    fn copy(&self, name: &str) -> PathBuf {
        let to = self.folder.path().join(name);
        copy(&self.folder.path().join("before"), &to);
        to
    }

    /// What is there is whole after the next run, even of something else, and the run after that makes the new output.
    #[track_caller]
    fn ends_well(&self, folder: &Path, what: &str) {
        let [from, to] = self.manual.configurations;
        plain(folder, &["compare", from, to, "--out", self.out], 0);
        let out = folder.join(self.out);
        fs::remove_dir_all(out.join(format!("{from}..{to}"))).expect("it was made");
        let there = shown(&out);
        let configurations: BTreeSet<&str> = self.new.keys().filter_map(|path| path.split('/').next()).collect();
        for configuration in configurations {
            let below = format!("{configuration}/");
            let of = |all: &BTreeMap<String, Vec<u8>>| -> BTreeMap<String, Vec<u8>> {
                all.iter().filter(|(p, _)| p.starts_with(&below)).map(|(p, b)| (p.clone(), b.clone())).collect()
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

    /// Each run is ended before a call, and the run after it, which clears up, before some call of its own.
    fn killed(&self, some: Option<usize>) -> usize {
        let (mut kills, mut chance) = (0, 17);
        for call in taken(&self.calls, some) {
            let folder = self.copy("killed");
            let done = Done::Killed(call);
            let run = program(&folder, self.out, &self.arguments, done);
            assert_eq!(run.status.code(), None, "{done:?}: {}", words(&run));
            let within = if next(&mut chance).is_multiple_of(2) { 40 } else { self.calls.len() };
            let then = Done::Killed(next(&mut chance) as usize % within + 1);
            let run = program(&folder, self.out, &self.arguments, then);
            assert_eq!(run.status.code(), None, "{done:?} {then:?}: {}", words(&run));
            kills += 2;
            self.ends_well(&folder, &format!("{done:?} {:?}, {then:?}", self.calls[call - 1]));
        }
        kills
    }

    fn failed(&self, some: Option<usize>) -> usize {
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

    /// A call that looks at the sources or at the output fails: what is said to be done is done.
    fn unread(&self, some: usize) -> usize {
        let looks = self.looks();
        let step = looks.len().div_ceil(some);
        let taken: Vec<usize> = (1..=looks.len()).skip(step / 2).step_by(step).collect();
        for (at, call) in taken.iter().enumerate() {
            let folder = self.copy("unread");
            let done = Done::Unread(*call, [5, 13, 24][at % 3]);
            let run = program(&folder, "", &self.arguments, done);
            ended_by_itself(&run, done);
            let what = format!("{done:?} {:?}", looks[call - 1]);
            if run.status.success() {
                assert!(shown(&folder.join(self.out)) == self.new, "{what}: it says that it is done: {}", words(&run));
            }
            self.ends_well(&folder, &what);
        }
        taken.len()
    }

    /// The calls of a run that look at the sources or at the output.
    fn looks(&self) -> Vec<Call> {
        let folder = self.copy("watched");
        let run = program(&folder, "", &self.arguments, Done::Watched);
        assert_eq!(run.status.code(), Some(0), "{}", words(&run));
        calls(&fs::read(folder.join("calls")).expect("the calls were written down"))
    }

    /// Every cut with every luck; after the end all must be there at once.
    fn cut(&self, some: Option<usize>) -> usize {
        let mut cuts = taken(&self.calls, some);
        cuts.push(self.calls.len());
        let mut count = 0;
        for cut in cuts {
            for luck in [Luck::None, Luck::Entries, Luck::All, Luck::Chance(cut as u64), Luck::Chance(!(cut as u64))] {
                // All luck is what a kill leaves; in the suite it is among those.
                if matches!(luck, Luck::All | Luck::Chance(0x8000_0000_0000_0000..)) && !long() {
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
    for (manual, some) in manuals(6) {
        println!("{} kills", Bench::new(manual, "compile", "out").killed(some));
    }
}

#[test]
fn a_compile_whose_calls_fail_leaves_whole_output() {
    for (manual, some) in manuals(6) {
        println!("{} errors", Bench::new(manual, "compile", "out").failed(some));
    }
}

#[test]
fn a_compile_that_cannot_look_leaves_whole_output() {
    println!("{} errors of reading", Bench::new(&SMALL, "compile", "out").unread(if long() { 300 } else { 6 }));
}

#[test]
fn a_compile_in_a_power_cut_leaves_whole_output() {
    for (manual, some) in manuals(2) {
        println!("{} cuts", Bench::new(manual, "compile", "out").cut(some));
    }
}

#[test]
fn a_stick_that_breaks_off_leaves_whole_output() {
    for (manual, some) in manuals(2) {
        let bench = Bench::new(manual, "stick", "out/stick");
        println!("{} kills", bench.killed(some));
        println!("{} errors", bench.failed(some));
        println!("{} cuts", bench.cut(some));
    }
}

/// Two runs at once into one folder, of which every second time the first is killed at some moment: each that is not
/// killed is done, or told to wait, and the output is whole.
#[test]
fn of_two_compiles_at_once_none_spoils_the_other() {
    let bench = Bench::new(&SMALL, "compile", "out");
    let number = if long() { 200 } else { 2 };
    for race in 0..number {
        let folder = bench.copy("race");
        let mut first = start(&folder, &bench.arguments);
        std::thread::sleep(std::time::Duration::from_millis(race % 50 * 8));
        let second = start(&folder, &bench.arguments);
        let killed = race % 2 == 1;
        if killed {
            std::thread::sleep(std::time::Duration::from_millis(race * 7 % 300));
            first.kill().expect("it is ours");
        }
        let ended = [first, second].map(|run| run.wait_with_output().expect("it ends"));
        let mut made = 0;
        for (at, run) in ended.iter().enumerate() {
            let waits = run.status.code() == Some(2) && words(run).contains("another run is writing to out");
            assert!(run.status.success() || waits || killed && at == 0, "race {race}: {}", words(run));
            made += usize::from(run.status.success());
        }
        assert!(made > 0 || killed, "race {race}: nobody wrote");
        if made > 0 && !killed {
            assert!(shown(&folder.join(bench.out)) == bench.new, "race {race}: it was said to be done");
        }
        bench.ends_well(&folder, &format!("race {race}"));
    }
    println!("{number} races");
}
