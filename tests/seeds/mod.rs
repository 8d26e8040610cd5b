//! How much of what people get wrong is found: single mistakes, put one at a time into copies of the clean manuals. Of each
//! it is asked whether it is reported, at the right place, and by how many findings.
//!
//! The kinds follow from the schema and from what a text is made of, not from the rules that there are. Places are drawn, the
//! same each time, and kinds count alike, however many places they have. A change after which no page of the manual is
//! printed otherwise is counted apart. The sample keeps to the small manuals and to a share of the kinds; with
//! `KITWRIGHT_TRIES` set, as `tests/long.sh` does, every kind is tried in every manual, at as many places as
//! `KITWRIGHT_PLACES` says, and with `--show-output` what stayed silent is listed.

mod cells;
mod items;
mod judge;
mod keys;
mod labels;
mod manuals;
mod seed;
mod texts;
mod values;
mod whole_files;

use std::collections::BTreeMap;

use rayon::prelude::*;

use crate::random::dice::Dice;
use judge::{Outcome, judge};
use labels::Group;
use manuals::{CleanManual, FOLDERS};
use seed::{Seed, number_of};

/// Places of a kind, in the full run where nothing else is said, and in the sample.
const PLACES: usize = 4;
const PLACES_IN_SAMPLE: usize = 1;
/// One kind of so many is in the sample.
const KINDS_IN_SAMPLE: usize = 8;
/// The share of the sample that was reported when it was last looked at, in percent, with a little room.
const FLOOR: f64 = 57.0;
/// The same of all kinds in the three manuals.
const FLOOR_IN_FULL: f64 = 51.0;

fn in_full() -> bool {
    std::env::var_os("KITWRIGHT_TRIES").is_some()
}

fn places() -> usize {
    let said = std::env::var("KITWRIGHT_PLACES").map(|n| n.parse().expect("a whole number"));
    if in_full() { said.unwrap_or(PLACES) } else { PLACES_IN_SAMPLE }
}

fn all_seeds(manuals: &[CleanManual]) -> BTreeMap<String, Vec<Seed>> {
    let mut kinds: BTreeMap<String, Vec<Seed>> = BTreeMap::new();
    for (i, c) in manuals.iter().enumerate() {
        let seeds =
            [keys::seeds(i, c), items::seeds(i, c), cells::seeds(i, c), texts::seeds(i, c), whole_files::seeds(i, c)];
        for seed in seeds.into_iter().flatten() {
            kinds.entry(seed.kind.clone()).or_default().push(seed);
        }
    }
    kinds
}

/// Some of the places of a kind, of each manual in turn.
fn drawn(kind: &str, seeds: Vec<Seed>, count: usize) -> Vec<Seed> {
    let mut dice = Dice::new(number_of(kind));
    let mut of_manual: BTreeMap<usize, Vec<Seed>> = BTreeMap::new();
    for seed in seeds {
        of_manual.entry(seed.manual).or_default().push(seed);
    }
    let mut taken = Vec::new();
    while taken.len() < count && of_manual.values().any(|s| !s.is_empty()) {
        for seeds in of_manual.values_mut().filter(|s| !s.is_empty()) {
            if taken.len() < count {
                taken.push(seeds.swap_remove(dice.below(seeds.len())));
            }
        }
    }
    taken
}

#[test]
fn mistakes_are_reported_where_they_were_made() {
    let folders = if in_full() { &FOLDERS[..] } else { &FOLDERS[1..] };
    let manuals: Vec<CleanManual> = folders.par_iter().map(|folder| CleanManual::read(folder)).collect();
    for c in &manuals {
        assert!(c.found.is_empty(), "{} is not clean: {:#?}", c.folder, c.found);
    }
    let kinds = all_seeds(&manuals);
    println!("{} places of {} kinds", kinds.values().map(Vec::len).sum::<usize>(), kinds.len());
    let seeds: Vec<Seed> = kinds
        .into_iter()
        .enumerate()
        .filter(|(i, _)| in_full() || i % KINDS_IN_SAMPLE == 0)
        .flat_map(|(_, (kind, seeds))| drawn(&kind, seeds, places()))
        .collect();
    let judged: Vec<(Seed, Outcome)> = seeds
        .into_par_iter()
        .map(|seed| {
            let outcome = judge(&manuals[seed.manual], &seed);
            (seed, outcome)
        })
        .collect();
    list(&manuals, &judged);
    let share = table(&judged);
    assert!(judged.iter().all(|(_, o)| !o.broken), "a seed breaks the form of its file");
    let floor = if in_full() { FLOOR_IN_FULL } else { FLOOR };
    assert!(share >= floor, "{share:.1} % of the mistakes are reported, less than the {floor} % before");
}

/// What stayed silent, and what was reported elsewhere, each with its place.
fn list(manuals: &[CleanManual], judged: &[(Seed, Outcome)]) {
    let told = |seed: &Seed| format!("{}: {}  {}", seed.group.title(), seed.kind, seed.told(&manuals[seed.manual]));
    for (seed, outcome) in judged {
        match outcome {
            Outcome { broken: true, .. } => println!("broken  {}", told(seed)),
            Outcome { changes: false, found: 0, .. } => println!("no change  {}", told(seed)),
            Outcome { found: 0, .. } => println!("silent  {}", told(seed)),
            Outcome { placed: false, .. } => println!("elsewhere  {}  by {}", told(seed), outcome.said.join("; ")),
            Outcome { changes: false, .. } => {
                println!("no change, found  {}  by {}", told(seed), outcome.said.join("; "))
            }
            Outcome { .. } => println!("found  {}  by {}", told(seed), outcome.said.join("; ")),
        }
    }
}

/// What the kinds of a group come to.
#[derive(Default)]
struct Tally {
    /// Of each kind: how many edits, reported, and at the right place.
    kinds: BTreeMap<String, [usize; 3]>,
    changes_nothing: usize,
    /// How many findings each reported edit brought.
    findings: Vec<usize>,
}

impl Tally {
    fn add(&mut self, seed: &Seed, outcome: &Outcome) {
        if !outcome.changes {
            self.changes_nothing += 1;
            return;
        }
        let kind = self.kinds.entry(seed.kind.clone()).or_default();
        kind[0] += 1;
        if outcome.found > 0 {
            kind[1] += 1;
            kind[2] += usize::from(outcome.placed);
            self.findings.push(outcome.found);
        }
    }

    fn edits(&self) -> usize {
        self.kinds.values().map(|k| k[0]).sum()
    }

    /// In percent, each kind counted alike.
    fn share(&self, which: usize, of: usize) -> f64 {
        let shares: Vec<f64> =
            self.kinds.values().filter(|k| k[of] > 0).map(|k| k[which] as f64 / k[of] as f64).collect();
        if shares.is_empty() { 100.0 } else { shares.iter().sum::<f64>() / shares.len() as f64 * 100.0 }
    }

    fn line(&mut self, title: &str) -> String {
        self.findings.sort_unstable();
        let median = self.findings.get(self.findings.len() / 2).copied().unwrap_or(0);
        format!(
            "{title:22} {:5} {:5} {:8.1} % {:8.1} % {median:6} {:8}",
            self.kinds.len(),
            self.edits(),
            self.share(1, 0),
            self.share(2, 1),
            self.changes_nothing
        )
    }
}

/// Prints the table, and gives the share of all that is reported.
fn table(judged: &[(Seed, Outcome)]) -> f64 {
    let mut groups: BTreeMap<Group, Tally> = BTreeMap::new();
    let mut all = Tally::default();
    for (seed, outcome) in judged {
        groups.entry(seed.group).or_default().add(seed, outcome);
        all.add(seed, outcome);
    }
    println!(
        "{:22} {:>5} {:>5} {:>10} {:>10} {:>6} {:>8}",
        "", "kinds", "edits", "reported", "placed", "median", "no change"
    );
    for group in Group::ALL {
        if let Some(tally) = groups.get_mut(&group) {
            println!("{}", tally.line(group.title()));
        }
    }
    println!("{}", all.line("all"));
    all.share(1, 0)
}
