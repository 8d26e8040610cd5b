//! Mistakes with whole files: one that is missing, one in the place of another, steps in the other order.

use std::collections::BTreeSet;

use super::labels::Group;
use super::manuals::CleanManual;
use super::seed::{Change, Seed, number_of};
use crate::random::dice::Dice;

pub fn seeds(manual: usize, c: &CleanManual) -> Vec<Seed> {
    let mut all = Vec::new();
    let mut put = |group, kind: &str, path: &str, change: Change, about: &[&str]| {
        let about: BTreeSet<String> = about.iter().map(|&a| a.to_owned()).collect();
        all.push(Seed { manual, group, kind: kind.to_owned(), path: path.to_owned(), change, item: 0..0, about });
    };
    let steps: Vec<(&str, &str)> = c.steps().map(|(s, _)| (s.id.value.as_str(), s.path.as_str())).collect();
    for (id, path) in &steps {
        put(Group::Order, "a step's file left out", path, Change::FileOut, &[id, path]);
        // One that has no rank among the others of its folder: it comes last, or first.
        let (folder, name) = path.rsplit_once('/').expect("steps lie in folders");
        let siblings = || steps.iter().filter(|s| s.1.starts_with(&format!("{folder}/")));
        if siblings().next_back().is_some_and(|s| s.1 != *path) {
            let renamed = format!("{folder}/99-{}", name.split_once('-').map_or(name, |n| n.1));
            put(Group::Order, "a step moved to the end of its folder", path, Change::FileNamed(renamed), &[id, path]);
        }
        if siblings().next().is_some_and(|s| s.1 != *path) {
            let renamed = format!("{folder}/00-{}", name.split_once('-').map_or(name, |n| n.1));
            put(Group::Order, "a step moved to the top of its folder", path, Change::FileNamed(renamed), &[id, path]);
        }
    }
    let figures: Vec<String> = c.manual().figures.keys().map(|f| format!("figures/{f}")).collect();
    for path in &figures {
        let name = path.trim_start_matches("figures/");
        let ending = path.rsplit('.').next();
        put(Group::Figures, "a figure's file left out", path, Change::FileOut, &[name]);
        let others: Vec<&String> = figures.iter().filter(|f| *f != path && f.rsplit('.').next() == ending).collect();
        if !others.is_empty() {
            let other = (*Dice::new(number_of(path)).pick(&others)).clone();
            put(Group::Figures, "a figure's file that holds another", path, Change::FileOf(other), &[name]);
        }
    }
    all
}
