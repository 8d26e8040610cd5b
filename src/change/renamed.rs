//! What is there under another name: steps that came back under a new id, steps split off from others, parts under a new
//! number.

use std::collections::BTreeMap;

use super::compare::{ItemChange, Quantities, Side, StepMark};
use super::entries::StepEntry;
use super::list_rows::part_cells;
use crate::units::{PartNumber, StepId};

/// A step that was probably given a new id.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Renamed {
    pub from: StepMark,
    pub to: StepMark,
    /// How much of the two is the same, in percent.
    pub alike: u32,
}

/// A step whose contents stood in another one that has them no more.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Split {
    /// The step that it was split off from, as it is now.
    pub from: StepMark,
    pub to: StepMark,
}

/// A part that is the same under another number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Renumbered {
    pub from: String,
    pub to: String,
    pub title: String,
}

/// Less than this, in percent, is another step.
const ALIKE: u32 = 70;

/// For each vanished step the new one that is most like it, where it is alike enough.
pub(super) fn renamed<'a>(
    removed: &[StepMark],
    added: &[StepMark],
    before: impl Fn(&StepId) -> &'a Vec<StepEntry>,
    after: impl Fn(&StepId) -> &'a Vec<StepEntry>,
) -> Vec<Renamed> {
    let mut left: Vec<&StepMark> = added.iter().collect();
    let mut found = Vec::new();
    for from in removed {
        let old = counts(before(&from.id));
        let best = left.iter().enumerate().map(|(i, to)| (alike(&old, &counts(after(&to.id))), i)).max_by_key(|b| b.0);
        if let Some((alike, at)) = best.filter(|b| b.0 >= ALIKE) {
            found.push(Renamed { from: from.clone(), to: left.remove(at).clone(), alike });
        }
    }
    found
}

/// For each new step the changed one that lost what it consists of, where that is the most of it. `pairs` are the steps
/// that both sides have, before and after.
pub(super) fn split<'a>(
    added: &[StepMark],
    changed: &[StepMark],
    before: impl Fn(&StepId) -> &'a Vec<StepEntry>,
    after: impl Fn(&StepId) -> &'a Vec<StepEntry>,
) -> Vec<Split> {
    let lost: Vec<(&StepMark, Counts)> = changed
        .iter()
        .map(|step| {
            let (mut old, new) = (counts(before(&step.id)), counts(after(&step.id)));
            old.iter_mut().for_each(|(entry, n)| *n = n.saturating_sub(*new.get(entry).unwrap_or(&0)));
            old.retain(|_, n| *n > 0);
            (step, old)
        })
        .filter(|(_, lost)| !lost.is_empty())
        .collect();
    let mut found = Vec::new();
    for to in added {
        // What a new step has of its own: its title, its section, its hours.
        let new = counts(after(&to.id));
        let new: Counts = new.into_iter().filter(|((field, ..), _)| WORK.contains(field)).collect();
        let all: usize = new.values().sum();
        let share = |lost: &Counts| new.iter().map(|(e, n)| n.min(lost.get(e).unwrap_or(&0))).sum::<usize>() * 100;
        let best =
            lost.iter().map(|(from, lost)| (share(lost).checked_div(all).unwrap_or(0), *from)).max_by_key(|b| b.0);
        if let Some((_, from)) = best.filter(|b| b.0 >= ALIKE as usize) {
            found.push(Split { from: from.clone(), to: to.clone() });
        }
    }
    found
}

/// Fields that say what is done in a step.
const WORK: [&str; 15] = [
    "text",
    "parts",
    "hardware",
    "joints",
    "cuts",
    "bends",
    "flattened",
    "cables",
    "bonds",
    "cured",
    "wires",
    "holes",
    "measure",
    "safety",
    "picture",
];

/// Parts that are gone under one number and there under another, with the same row and as many of them. They are taken
/// out of `parts`: nothing comes off and nothing is sent.
pub(super) fn renumbered(parts: &mut Vec<Quantities>, from: &Side, to: &Side) -> Vec<Renumbered> {
    // A number that both lists know is that of another part, which this configuration takes in place of the first.
    let known = |side: &Side, q: &Quantities| side.manual.parts.contains_key(&PartNumber::new(&q.name));
    let gone: Vec<Quantities> = parts.iter().filter(|q| q.after.is_none() && !known(to, q)).cloned().collect();
    let new: Vec<Quantities> = parts.iter().filter(|q| q.before.is_none() && !known(from, q)).cloned().collect();
    if gone.is_empty() || new.is_empty() {
        return Vec::new();
    }
    // Its own number, and that of the part for the other hand, which is given another one with it.
    let without_numbers = |side: &Side| {
        let mut cells = part_cells(side);
        cells.values_mut().for_each(|row| row.retain(|column, _| !matches!(column.as_str(), "number" | "opposite")));
        cells
    };
    let (old_rows, new_rows) = (without_numbers(from), without_numbers(to));
    let mut left: Vec<&Quantities> = new.iter().collect();
    let mut found = Vec::new();
    for old in &gone {
        let same = |q: &&Quantities| {
            q.after == old.before
                && old_rows.contains_key(&old.name)
                && old_rows.get(&old.name) == new_rows.get(&q.name)
        };
        if let Some(at) = left.iter().position(same) {
            let now = left.remove(at);
            found.push(Renumbered { from: old.name.clone(), to: now.name.clone(), title: now.title.clone() });
        }
    }
    parts.retain(|q| {
        !found.iter().any(|r| r.from == q.name && q.after.is_none() || r.to == q.name && q.before.is_none())
    });
    found
}

/// A part taken out and put in again under its new number is one change: that of its number.
pub(super) fn under_new_numbers(items: &mut Vec<ItemChange>, renumbered: &[Renumbered]) {
    for r in renumbered {
        while let Some((out, into)) = pair(items, r) {
            let value = items[into].after.take().unwrap_or_default();
            items[into].before = Some(format!("{} {value}", r.from).trim().to_owned());
            items[into].after = Some(format!("{} {value}", r.to).trim().to_owned());
            items.remove(out);
        }
    }
}

/// The places of the two in a list of changes.
fn pair(items: &[ItemChange], r: &Renumbered) -> Option<(usize, usize)> {
    let gone = |i: &ItemChange| i.name == r.from && i.after.is_none();
    items.iter().enumerate().filter(|(_, i)| gone(i)).find_map(|(out, old)| {
        let same =
            |i: &ItemChange| i.name == r.to && i.before.is_none() && i.field == old.field && i.after == old.before;
        items.iter().position(same).map(|into| (out, into))
    })
}

type Counts<'a> = BTreeMap<(&'a str, &'a str, &'a str), usize>;

fn counts(entries: &[StepEntry]) -> Counts<'_> {
    let mut counts = Counts::new();
    for e in entries {
        *counts.entry((&e.field, &e.name, &e.value)).or_default() += 1;
    }
    counts
}

/// Twice what is common over the sum of both, in percent (L. R. Dice, 1945).
fn alike(a: &Counts, b: &Counts) -> u32 {
    let common: usize = a.iter().map(|(e, n)| n.min(b.get(e).unwrap_or(&0))).sum();
    let all: usize = a.values().chain(b.values()).sum();
    (200 * common).checked_div(all).map_or(0, |share| share as u32)
}
