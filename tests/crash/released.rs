//! A release that breaks off, and two at once: it is there whole and proves itself, or it is not there.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use super::power::{Call, Luck, calls, leave};
use super::{Done, ERRORS, copy, edit, ended_by_itself, files, long, plain, program, taken, words};

const SECOND: [&str; 7] = ["release", "--summary", "Second", "--class", "information", "--date", "2026-02-01"];
const STEP: &str = "manual-src/steps/frame/10-handle.md";

/// A manual with release A, changed since in a text and a picture.
struct Bench {
    folder: tempfile::TempDir,
    /// Release B as it is to be.
    whole: Vec<u8>,
    calls: Vec<Call>,
    root: PathBuf,
}

impl Bench {
    fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let before = folder.path().join("before");
        fs::create_dir(&before).expect("a folder");
        plain(&before, &["start"], 0);
        plain(&before, &["release", "--summary", "First", "--class", "information", "--date", "2026-01-05"], 0);
        edit(&before.join(STEP), "title: ", "title: Now ");
        edit(&before.join("manual-src/figures/axle.svg"), "</svg>", "<path d=\"M0 0H9\" stroke=\"#000\"/></svg>");
        let made = folder.path().join("whole");
        copy(&before, &made);
        let run = program(&made, "manual-src", &SECOND, Done::Nothing);
        assert_eq!(run.status.code(), Some(0), "{}", words(&run));
        let log = fs::read(made.join("calls")).expect("the calls were written down");
        let whole = fs::read(made.join("manual-src/releases/B.release")).expect("it was made");
        Self { folder, whole, calls: calls(&log), root: made.join("manual-src") }
    }

    fn copy(&self, name: &str) -> PathBuf {
        let to = self.folder.path().join(name);
        copy(&self.folder.path().join("before"), &to);
        to
    }

    /// Release B is there whole or not at all; the next run makes it, and every digest is right.
    #[track_caller]
    fn ends_well(&self, folder: &Path, what: &str) {
        let path = folder.join("manual-src/releases/B.release");
        match fs::read(&path) {
            Ok(bytes) => assert!(bytes == self.whole, "{what}: half a release"),
            Err(_) => drop(plain(folder, &SECOND, 0)),
        }
        assert!(fs::read(&path).expect("it is there") == self.whole, "{what}: another release");
        plain(folder, &["check"], 0);
        let checked = plain(folder, &["release", "--check"], 0);
        for line in words(&checked).lines().filter_map(|line| line.split_once("  releases/")) {
            let bytes = fs::read(folder.join("manual-src/releases").join(line.1)).expect("it is listed");
            assert_eq!(kitwright::change::hex_digest(&bytes), line.0, "{what}: {}", line.1);
        }
        let again = plain(folder, &SECOND, 2);
        assert!(words(&again).contains("nothing has changed since release B"), "{what}: {}", words(&again));
        let left = files(&folder.join("manual-src/releases"));
        assert!(left.keys().all(|p| !p.contains(".kitwright-new")), "{what}: {:?} is left", left.keys());
        fs::remove_dir_all(folder).expect("removed");
    }
}

#[test]
fn a_release_that_is_killed_is_whole_or_not_there() {
    let bench = Bench::new();
    for call in taken(&bench.calls, 4) {
        let folder = bench.copy("killed");
        let run = program(&folder, "manual-src", &SECOND, Done::Killed(call));
        assert_eq!(run.status.code(), None, "{}", words(&run));
        bench.ends_well(&folder, &format!("killed before {:?}", bench.calls[call - 1]));
    }
}

#[test]
fn a_release_whose_calls_fail_is_whole_or_not_there() {
    let bench = Bench::new();
    for call in taken(&bench.calls, 4) {
        for error in ERRORS {
            let folder = bench.copy("failed");
            let done = Done::Failed(call, error);
            let run = program(&folder, "manual-src", &SECOND, done);
            ended_by_itself(&run, done);
            if run.status.success() {
                assert!(folder.join("manual-src/releases/B.release").exists(), "{done:?}");
            }
            bench.ends_well(&folder, &format!("{done:?} {:?}", bench.calls[call - 1]));
        }
    }
}

#[test]
fn a_release_in_a_power_cut_is_whole_or_not_there() {
    let bench = Bench::new();
    let mut cuts = taken(&bench.calls, 4);
    cuts.push(bench.calls.len());
    for cut in cuts {
        for luck in [Luck::None, Luck::Entries, Luck::Chance(cut as u64)] {
            let folder = bench.folder.path().join("cut");
            let before = bench.folder.path().join("before/manual-src");
            leave(&before, &bench.root, &bench.calls, cut, luck, &folder.join("manual-src"));
            if cut == bench.calls.len() {
                let path = folder.join("manual-src/releases/B.release");
                assert!(fs::read(path).is_ok_and(|b| b == bench.whole), "{luck:?}: it was announced");
            }
            bench.ends_well(&folder, &format!("cut after {cut} calls, {luck:?}"));
        }
    }
}

/// Two releases at once while the author saves: one is made, of one state of the sources, and the other is told why not.
#[test]
fn of_two_releases_at_once_one_is_made() {
    let bench = Bench::new();
    for race in 0..if long() { 200 } else { 2 } {
        let folder = bench.copy("race");
        let start = |summary: &str| {
            let mut command = Command::new(env!("CARGO_BIN_EXE_kitwright"));
            command.args(["release", "--summary", summary, "--class", "information", "--date", "2026-02-01"]);
            command.current_dir(&folder).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("it runs")
        };
        let runs = [start("One"), start("Two")];
        let text = fs::read_to_string(folder.join(STEP)).expect("there");
        std::thread::sleep(std::time::Duration::from_millis(race % 40 * 5));
        fs::write(folder.join(STEP), text.replacen("title: Now ", "title: Later ", 1)).expect("written");
        let ended: Vec<_> = runs.into_iter().map(|run| run.wait_with_output().expect("it ends")).collect();
        let made = ended.iter().filter(|run| run.status.success()).count();
        let releases = files(&folder.join("manual-src/releases"));
        let number = releases.keys().filter(|p| p.ends_with(".release")).count();
        // One after the other they may both be made, of what was saved between them.
        assert!((1..=2).contains(&made) && number == 1 + made, "race {race}: {ended:?}");
        for run in &ended {
            let said = words(run);
            let refused = said.contains("another run is making a release") || said.contains("nothing has changed");
            assert!(run.status.success() || refused, "race {race}: {said}");
        }
        let text = String::from_utf8(releases["B.release"].clone()).expect("UTF-8");
        let said = ["One", "Two"].iter().find(|s| text.contains(&format!("\nsummary {s}\n"))).expect("one of both");
        let winner = &ended[usize::from(*said == "Two")];
        assert!(winner.status.success(), "race {race}: release B is not of who says so");
        assert_ne!(text.contains("\"Now "), text.contains("\"Later "), "race {race}");
        plain(&folder, &["check"], 0);
        fs::remove_dir_all(&folder).expect("removed");
    }
}
