//! Damaged input, made at random from a stored corpus: nothing may panic, abort, hang or take more than its room.
//!
//! A run is told by a target, a seed and a number, and is the same each time. What once went wrong is kept in
//! `tests/fuzz/faults/<target>` and read again in every run. By hand, for hours:
//!
//!     KITWRIGHT_FUZZ_COUNT=100000 KITWRIGHT_FUZZ_SEED=7 cargo test --release --test fuzz
//!
//! Each target is run by a process of its own, so that an abort is seen and its input is kept.

mod change;
#[path = "../random/dice.rs"]
#[allow(dead_code)]
mod dice;
#[path = "../outside/mod.rs"]
#[allow(dead_code)]
mod outside;
mod target;

use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

use dice::Dice;
use target::Target;

/// Says to a process of this program which batch it is to run: target, seed and count.
const BATCH: &str = "KITWRIGHT_FUZZ_BATCH";
/// The most memory that one input may take, in bytes; and the longest time, unoptimised and beside others.
const MOST_MEMORY: u64 = 1 << 30;
const LONGEST: Duration = Duration::from_secs(60);

fn number(name: &str, usual: u64) -> u64 {
    std::env::var(name).ok().map_or(usual, |n| n.parse().unwrap_or_else(|_| panic!("{name} is no number: {n}")))
}

fn scratch(target: Target) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("fuzz").join(target.name());
    std::fs::create_dir_all(&folder).expect("a folder of the build can be made");
    folder
}

/// Runs a target in a process of its own.
#[track_caller]
fn batch(target: Target, usual: u64) {
    let (seed, count) = (number("KITWRIGHT_FUZZ_SEED", 1), number("KITWRIGHT_FUZZ_COUNT", usual));
    let current = std::env::current_exe().expect("this program has a place");
    let output = Command::new(current)
        .args(["--exact", "a_batch", "--nocapture", "--test-threads", "1"])
        .env(BATCH, format!("{} {seed} {count}", target.name()))
        .output()
        .expect("this program runs");
    let said = String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
    let input = scratch(target).join("input");
    assert!(output.status.success(), "{}: {}; the input is {}\n{said}", target.name(), output.status, input.display());
    for line in said.lines().filter(|l| l.starts_with(target.name())) {
        println!("{line}");
    }
}

/// One batch, where this process was started for one.
#[test]
fn a_batch() {
    let Ok(batch) = std::env::var(BATCH) else { return };
    let [name, seed, count] = batch.split(' ').collect::<Vec<_>>()[..] else { panic!("{batch}") };
    let target = Target::ALL.into_iter().find(|t| t.name() == name).expect("a target");
    let (seed, count): (u64, u64) = (seed.parse().expect("a seed"), count.parse().expect("a count"));
    let corpus = read_folder(&Path::new("corpus").join(target.corpus()));
    assert!(!corpus.is_empty(), "{name} has no corpus");
    let mut watch = Watch { target, taken: 0, slowest: Duration::ZERO };
    for input in corpus.iter().chain(&read_folder(&Path::new("faults").join(name))) {
        watch.run(input);
    }
    for number in 0..count {
        let mut dice = Dice::new(seed.wrapping_mul(0x1_0000_0001).wrapping_add(number));
        watch.run(&target.damaged(&corpus, &mut dice));
    }
    println!("{name}: {count} runs from seed {seed}, {} taken, slowest {:.2?}", watch.taken, watch.slowest);
}

struct Watch {
    target: Target,
    /// How many inputs were read without an error.
    taken: u64,
    slowest: Duration,
}

impl Watch {
    fn run(&mut self, input: &[u8]) {
        // Written first: after an abort it is all there is.
        let path = scratch(self.target).join("input");
        std::fs::write(&path, input).expect("the input can be written");
        let (before, began) = (most_memory(), Instant::now());
        let target = self.target;
        let ended = std::panic::catch_unwind(|| target.run(input));
        let time = began.elapsed();
        self.slowest = self.slowest.max(time);
        match ended {
            Ok(taken) => self.taken += u64::from(taken),
            Err(_) => panic!("{}: a panic; the input is {}", target.name(), path.display()),
        }
        assert!(time < LONGEST, "{}: {time:?}; the input is {}", target.name(), path.display());
        let grown = most_memory().saturating_sub(before);
        assert!(grown < MOST_MEMORY, "{}: {} MB; the input is {}", target.name(), grown >> 20, path.display());
    }
}

/// The most memory that this process ever had, in bytes; 0 where the system does not say.
fn most_memory() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|l| l.strip_prefix("VmHWM:"));
    line.and_then(|l| l.trim().trim_end_matches(" kB").parse::<u64>().ok()).map_or(0, |kb| kb << 10)
}

/// The files of a folder beside this one, in the order of their names.
fn read_folder(below: &Path) -> Vec<Vec<u8>> {
    let folder = outside::project().join("tests/fuzz").join(below);
    let mut paths: Vec<PathBuf> =
        std::fs::read_dir(folder).into_iter().flatten().map(|e| e.expect("an entry").path()).collect();
    paths.retain(|path| path.extension().is_none_or(|ending| ending != "rs"));
    paths.sort();
    paths.iter().map(|path| std::fs::read(path).expect("a file of the corpus")).collect()
}

#[test]
fn svg() {
    batch(Target::Svg, 150);
}

#[test]
fn jpeg() {
    batch(Target::Jpeg, 300);
}

#[test]
fn png() {
    batch(Target::Png, 300);
}

#[test]
fn yaml() {
    batch(Target::Yaml, 300);
}

#[test]
fn markdown() {
    batch(Target::Markdown, 300);
}

#[test]
fn tables() {
    batch(Target::Table, 300);
}

#[test]
fn workbooks() {
    batch(Target::Workbook, 100);
}

#[test]
fn releases() {
    batch(Target::Release, 60);
}

#[test]
fn whole_manuals() {
    batch(Target::Manual, 60);
}

/// The builder's record is read by the pages' script.
#[test]
fn records() {
    let check = "damaged records, in node";
    let Some(node) = outside::program("node", check) else { return };
    let (seed, count) = (number("KITWRIGHT_FUZZ_SEED", 1), number("KITWRIGHT_FUZZ_COUNT", 500));
    let mut command = outside::script(&node, "records.cjs");
    command.arg(outside::project().join("templates/script")).arg(outside::project().join("tests/fuzz/corpus/record"));
    println!("{}", outside::run(command.args([seed.to_string(), count.to_string()])));
}
