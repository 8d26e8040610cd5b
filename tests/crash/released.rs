//! A release that breaks off, and two at once: it is there whole and proves itself, or it is not there.

use std::fs;
use std::path::{Path, PathBuf};

use super::power::{Call, Luck, calls, leave};
use super::{
    Done, ERRORS, Manual, SMALL, copy, edit, ended_by_itself, files, long, manuals, plain, program, retitle, start,
    taken, words,
};

const NEXT: [&str; 7] = ["release", "--summary", "Next", "--class", "information", "--date", "2026-06-01"];

/// A manual with a release, changed since in a text and a picture.
struct Bench {
    manual: &'static Manual,
    folder: tempfile::TempDir,
    /// The next release as it is to be.
    whole: Vec<u8>,
    calls: Vec<Call>,
    root: PathBuf,
}

impl Bench {
    fn new(manual: &'static Manual) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let before = folder.path().join("before");
        fs::create_dir(&before).expect("a folder");
        (manual.begin)(&before);
        retitle(&before.join(manual.step), "Now");
        edit(&before.join(manual.picture), "</svg>", "<path d=\"M0 0H9\" stroke=\"#000\"/></svg>");
        let made = folder.path().join("whole");
        copy(&before, &made);
        let run = program(&made, "manual-src", &NEXT, Done::Nothing);
        assert_eq!(run.status.code(), Some(0), "{}", words(&run));
        let log = fs::read(made.join("calls")).expect("the calls were written down");
        let whole = fs::read(made.join(manual.release())).expect("it was made");
        Self { manual, folder, whole, calls: calls(&log), root: made.join("manual-src") }
    }

    fn copy(&self, name: &str) -> PathBuf {
        let to = self.folder.path().join(name);
        copy(&self.folder.path().join("before"), &to);
        to
    }

    /// The next release is there whole or not at all; the next run makes it, and every digest is right.
    #[track_caller]
    fn ends_well(&self, folder: &Path, what: &str) {
        let path = folder.join(self.manual.release());
        match fs::read(&path) {
            Ok(bytes) => assert!(bytes == self.whole, "{what}: half a release"),
            Err(_) => drop(plain(folder, &NEXT, 0)),
        }
        assert!(fs::read(&path).expect("it is there") == self.whole, "{what}: another release");
        plain(folder, &["check"], 0);
        let checked = plain(folder, &["release", "--check"], 0);
        for line in words(&checked).lines().filter_map(|line| line.split_once("  releases/")) {
            let bytes = fs::read(folder.join("manual-src/releases").join(line.1)).expect("it is listed");
            assert_eq!(kitwright::change::hex_digest(&bytes), line.0, "{what}: {}", line.1);
        }
        let again = plain(folder, &NEXT, 2);
        let refused = format!("nothing has changed since release {}", self.manual.letter);
        assert!(words(&again).contains(&refused), "{what}: {}", words(&again));
        let left = files(&folder.join("manual-src/releases"));
        assert!(left.keys().all(|p| !p.contains(".kitwright-new")), "{what}: {:?} is left", left.keys());
        fs::remove_dir_all(folder).expect("removed");
    }

    /// A release one of whose calls fails: what is said to be made is there.
    #[track_caller]
    fn fails(&self, done: Done, call: &Call) {
        let folder = self.copy("failed");
        let run = program(&folder, "manual-src", &NEXT, done);
        ended_by_itself(&run, done);
        if run.status.success() {
            assert!(folder.join(self.manual.release()).exists(), "{done:?} {call:?}");
        }
        self.ends_well(&folder, &format!("{done:?} {call:?}"));
    }
}

#[test]
fn a_release_that_is_killed_is_whole_or_not_there() {
    for (manual, some) in manuals(4) {
        let bench = Bench::new(manual);
        let taken = taken(&bench.calls, some);
        for call in &taken {
            let folder = bench.copy("killed");
            let run = program(&folder, "manual-src", &NEXT, Done::Killed(*call));
            assert_eq!(run.status.code(), None, "{}", words(&run));
            bench.ends_well(&folder, &format!("killed before {:?}", bench.calls[call - 1]));
        }
        println!("{} kills", taken.len());
    }
}

#[test]
fn a_release_whose_calls_fail_is_whole_or_not_there() {
    for (manual, some) in manuals(4) {
        let bench = Bench::new(manual);
        let taken = taken(&bench.calls, some);
        let errors = if some.is_none() { &ERRORS[..] } else { &ERRORS[..2] };
        for call in &taken {
            for error in errors {
                bench.fails(Done::Failed(*call, *error), &bench.calls[call - 1]);
            }
        }
        println!("{} errors", taken.len() * errors.len());
    }
}

#[test]
fn a_release_that_cannot_look_is_whole_or_not_there() {
    let bench = Bench::new(&SMALL);
    let folder = bench.copy("watched");
    let run = program(&folder, "manual-src", &NEXT, Done::Watched);
    assert_eq!(run.status.code(), Some(0), "{}", words(&run));
    let looks = calls(&fs::read(folder.join("calls")).expect("the calls were written down"));
    let step = if long() { 1 } else { looks.len() / 6 };
    let taken: Vec<usize> = (1..=looks.len()).skip(step / 2).step_by(step).collect();
    for (at, call) in taken.iter().enumerate() {
        bench.fails(Done::Unread(*call, [5, 13, 24][at % 3]), &looks[call - 1]);
    }
    println!("{} errors of reading", taken.len());
}

#[test]
fn a_release_in_a_power_cut_is_whole_or_not_there() {
    for (manual, some) in manuals(4) {
        let bench = Bench::new(manual);
        let mut cuts = taken(&bench.calls, some);
        cuts.push(bench.calls.len());
        for cut in &cuts {
            for luck in [Luck::None, Luck::Entries, Luck::Chance(*cut as u64)] {
                let folder = bench.folder.path().join("cut");
                let before = bench.folder.path().join("before/manual-src");
                leave(&before, &bench.root, &bench.calls, *cut, luck, &folder.join("manual-src"));
                if *cut == bench.calls.len() {
                    let path = folder.join(manual.release());
                    assert!(fs::read(path).is_ok_and(|b| b == bench.whole), "{luck:?}: it was announced");
                }
                bench.ends_well(&folder, &format!("cut after {cut} calls, {luck:?}"));
            }
        }
        println!("{} cuts", cuts.len() * 3);
    }
}

/// Two releases at once while the author saves: one is made, of one state of the sources, and the other is told why not.
#[test]
fn of_two_releases_at_once_one_is_made() {
    let bench = Bench::new(&SMALL);
    let number = if long() { 200 } else { 2 };
    for race in 0..number {
        let folder = bench.copy("race");
        let step = folder.join(SMALL.step);
        let runs = ["One", "Two"].map(|summary| {
            start(&folder, &["release", "--summary", summary, "--class", "information", "--date", "2026-06-01"])
        });
        let text = fs::read_to_string(&step).expect("there");
        std::thread::sleep(std::time::Duration::from_millis(race % 40 * 5));
        // As editors save it: whole at every moment.
        let beside = folder.join("saved");
        fs::write(&beside, text.replacen("title: Now ", "title: Later ", 1)).expect("written");
        fs::rename(&beside, &step).expect("saved");
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
    println!("{number} races");
}
