//! How long releases take to answer: `cargo bench --bench changes -- [STEPS] [RELEASES]`, 1,000 steps and 10 releases where
//! none are named. Prints the best of several runs.

mod synthetic;

use std::hint::black_box;
use std::time::{Duration, Instant};

use kitwright::change::{Class, normalise};
use kitwright::compile::{check, compared, freeze, impacts, release_notice};
use kitwright::source::{Files as _, Memory};
use kitwright::units::Date;

use synthetic::Size;

fn main() {
    let mut numbers = std::env::args().skip(1).filter_map(|a| a.parse().ok());
    let (steps, releases) = (numbers.next().unwrap_or(1_000), numbers.next().unwrap_or(10));
    let mut files = synthetic::manual(Size { steps, photographs: 50, pixels: (1600, 1200) });
    for number in 1..=releases {
        release(&mut files, number);
        edit(&mut files, number * 7 % steps);
    }
    let size: usize =
        files.list().expect("listed").iter().filter(|e| e.path.ends_with(".release")).map(|e| e.size as usize).sum();
    println!("{steps} steps, {releases} releases, {} kB of them", size / 1000);
    files.insert("kits.csv", "serial,configuration,release\n1,ONE,A\n2,ONE,B\n3,ONE,\n");

    measure("the normal form", || normalise(&files).expect("listed").len());
    measure("read the sources", || kitwright::model::read(&files).expect("listed").sources.files().count());
    measure("compare A/ONE ONE", || compared(&files, "A/ONE", "ONE").expect("it can be compared").changed.len());
    measure("compare A/ONE B/ONE", || compared(&files, "A/ONE", "B/ONE").expect("it can be compared").changed.len());
    measure("impact of a word", || impacts(&files).expect("it can be told").0.documents.len());
    let mut other = files.clone();
    let parts = String::from_utf8(files.read("parts.csv").expect("there")).expect("UTF-8");
    other.insert("parts.csv", parts.replace(",finished,", ",no holes,"));
    measure("impact of every part", || impacts(&other).expect("it can be told").0.documents.len());
    let four = four_variants(steps);
    measure("a word, four configurations", || impacts(&four).expect("it can be told").0.documents.len());
    measure("notice B", || release_notice(&files, "B").expect("it can be told").notice.kits.len());
    measure("check", || check(&files, &|_| ()).expect("listed").findings.len());
}

/// The manual in four variants, released, and one word in it changed since.
fn four_variants(steps: usize) -> Memory {
    let mut files = synthetic::manual(Size { steps, photographs: 50, pixels: (1600, 1200) });
    let settings = String::from_utf8(files.read("manual.yaml").expect("there")).expect("UTF-8");
    let more: String =
        ["TWO", "THREE", "FOUR"].map(|name| format!("  {name}: {{ title: Another, based-on: ONE }}\n")).concat();
    let settings =
        settings.replace("configurations: [ONE]\n", &format!("{more}configurations: [ONE, TWO, THREE, FOUR]\n"));
    files.insert("manual.yaml", settings);
    release(&mut files, 1);
    edit(&mut files, steps / 2);
    assert_eq!(impacts(&files).expect("it can be told").0.documents.len(), 4);
    files
}

/// Freezes the sources as they are.
fn release(files: &mut Memory, number: usize) {
    let checked = check(files, &|_| ()).expect("memory can be listed");
    assert!(!checked.findings.has_errors(), "{:?}", checked.findings.iter().next());
    let date = Date::parse(&format!("2026-01-{number:02}")).expect("a date");
    let frozen = freeze(&checked, files, date, Class::Information, "Words").expect("it can be released");
    for (path, bytes) in frozen.store {
        files.insert(path, bytes);
    }
    files.insert(frozen.path, frozen.release.text());
}

/// Adds a sentence to a step.
fn edit(files: &mut Memory, step: usize) {
    let name = format!("/{step:05}.md");
    let path = files
        .list()
        .expect("listed")
        .into_iter()
        .map(|e| e.path)
        .find(|p| p.ends_with(&name))
        .expect("the step is there");
    let text = String::from_utf8(files.read(&path).expect("there")).expect("UTF-8");
    files.insert(path, text + "\nLook at it once more.\n");
}

/// The best of some runs, at least two and until three seconds have passed.
fn measure(what: &str, run: impl Fn() -> usize) {
    let begin = Instant::now();
    let (mut best, mut runs) = (Duration::MAX, 0);
    while runs < 2 || (begin.elapsed() < Duration::from_secs(3) && runs < 20) {
        let start = Instant::now();
        black_box(run());
        best = best.min(start.elapsed());
        runs += 1;
    }
    println!("{what:<28} {:>10.1} ms   best of {runs}", best.as_secs_f64() * 1e3);
}
