//! Two configurations of the same sources beside one another: which parts stand in the place of which, the steps of each
//! section that do the same work with them, and those that differ, with the conditions that make them differ.

use std::collections::{BTreeMap, BTreeSet};

use super::compare::{Change, ItemChange, Side, StepMark};
use crate::resolve::{Facts, PlacedCondition, Resolved, conditions, holds, in_words};
use crate::units::{PartNumber, StepId};

/// The sheet on which the author looks at a variant beside the one it is based on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Review {
    pub counterparts: Vec<Counterpart>,
    pub sections: Vec<ReviewSection>,
}

/// A part of the target that stands where the source has another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Counterpart {
    pub from: String,
    pub to: String,
    pub title: String,
    /// In how many steps.
    pub steps: usize,
}

/// The steps of a section.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReviewSection {
    pub title: String,
    /// How many steps say the same on both sides, word for word.
    pub same: usize,
    pub steps: Vec<ReviewedStep>,
}

/// A step that is otherwise on the two sides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReviewedStep {
    pub step: StepMark,
    pub standing: StepStanding,
    /// The conditions that are decided otherwise on the two sides, in words, each with its place.
    pub why: Vec<String>,
}

/// How a step stands on the two sides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StepStanding {
    OnlyInSource,
    OnlyInTarget,
    /// The same work, but for these parts: the one of the source, the one of the target.
    OtherParts(Vec<(String, String)>),
    /// What is left when counterparts are counted as the same.
    Differs(Vec<ItemChange>),
}

impl StepStanding {
    /// The parts in which it differs and nothing else, as `SK-112 for SK-110`.
    pub fn other_parts(&self) -> Option<String> {
        let Self::OtherParts(parts) = self else { return None };
        Some(parts.iter().map(|(from, to)| format!("{to} for {from}")).collect::<Vec<_>>().join(", "))
    }
}

/// The review of a change between two configurations of one state of the sources.
pub(super) fn review(change: &Change, from: &Side, to: &Side) -> Review {
    let pairs = pairs(change, from, to);
    let reasons = reasons(from, to);
    let mut used: BTreeMap<(String, String), BTreeSet<&StepId>> = BTreeMap::new();
    let mut standings: BTreeMap<&StepId, (&StepMark, StepStanding)> = BTreeMap::new();
    for step in &change.changed {
        let (left, swapped) = without(&step.items, &pairs);
        for pair in &swapped {
            used.entry(pair.clone()).or_default().insert(&step.step.id);
        }
        let standing = if left.is_empty() { StepStanding::OtherParts(swapped) } else { StepStanding::Differs(left) };
        standings.insert(&step.step.id, (&step.step, standing));
    }
    standings.extend(change.added.iter().map(|mark| (&mark.id, (mark, StepStanding::OnlyInTarget))));
    standings.extend(change.removed.iter().map(|mark| (&mark.id, (mark, StepStanding::OnlyInSource))));
    let title =
        |number: &str| to.manual.parts.get(&PartNumber::new(number)).map_or_else(String::new, |p| p.name.clone());
    let counterparts = used
        .into_iter()
        .map(|((a, b), steps)| Counterpart { title: title(&b), from: a, to: b, steps: steps.len() })
        .collect();
    let mut sections: Vec<ReviewSection> = Vec::new();
    let named = |r: &Resolved| r.sections.iter().map(|s| (s.id.clone(), s.title.clone())).collect::<Vec<_>>();
    let mut order = named(to.resolved);
    order.extend(named(from.resolved).into_iter().filter(|s| !order.contains(s)).collect::<Vec<_>>());
    for (id, title) in order {
        // Those of the target in their order, then those that only the source has.
        let here = to.resolved.steps.iter().filter(|s| s.step.section.value == id);
        let is_gone = |id| matches!(standings.get(id), Some((_, StepStanding::OnlyInSource)));
        let gone = from.resolved.steps.iter().filter(|s| s.step.section.value == id && is_gone(&s.step.id.value));
        let (mut same, mut steps) = (0, Vec::new());
        for s in here.chain(gone) {
            match standings.get(&s.step.id.value) {
                Some((mark, standing)) => {
                    let why = reasons.get(&mark.id).cloned().unwrap_or_default();
                    steps.push(ReviewedStep { step: (*mark).clone(), standing: standing.clone(), why });
                }
                None => same += 1,
            }
        }
        sections.push(ReviewSection { title, same, steps });
    }
    Review { counterparts, sections }
}

/// The conditions of each step that are decided otherwise on the two sides.
fn reasons(from: &Side, to: &Side) -> BTreeMap<StepId, Vec<String>> {
    let applies = |side: &Side, placed: &PlacedCondition| {
        let facts = Facts { settings: &side.manual.settings, configuration: &side.resolved.configuration };
        holds(placed.condition, &facts)
    };
    let mut all: BTreeMap<StepId, Vec<String>> = BTreeMap::new();
    let mut seen: BTreeSet<(&StepId, String)> = BTreeSet::new();
    for placed in conditions(to.manual) {
        let Some(step) = placed.step else { continue };
        if applies(from, &placed) != applies(to, &placed) && seen.insert((&step.id.value, in_words(placed.condition))) {
            let (line, _) = to.sources.line_column(placed.span);
            let words = format!("only: {} (line {line})", in_words(placed.condition));
            all.entry(step.id.value.clone()).or_default().push(words);
        }
    }
    all
}

/// The parts that stand where others were: as often as possible in the same place with the same words, each once.
fn pairs(change: &Change, from: &Side, to: &Side) -> Vec<(String, String)> {
    fn only<'s>(side: &'s Side, other: &Side) -> BTreeSet<&'s str> {
        let has = |side: &Side, n: &PartNumber| {
            side.resolved.ledger.parts.get(n).is_some_and(|account| account.listed > 0 || account.taken() > 0)
        };
        let there = side.resolved.ledger.parts.keys().filter(|n| has(side, n) && !has(other, n));
        there.map(|n| n.as_str()).collect()
    }
    let (gone, new) = (only(from, to), only(to, from));
    let mut votes: BTreeMap<(&str, &str), usize> = BTreeMap::new();
    for step in &change.changed {
        for out in step.items.iter().filter(|i| i.after.is_none() && gone.contains(i.name.as_str())) {
            let same = |i: &&ItemChange| {
                i.before.is_none() && new.contains(i.name.as_str()) && i.field == out.field && i.after == out.before
            };
            for into in step.items.iter().filter(same) {
                *votes.entry((&out.name, &into.name)).or_default() += 1;
            }
        }
        for item in &step.items {
            let (Some(before), Some(after)) = (&item.before, &item.after) else { continue };
            let (a, b): (Vec<&str>, Vec<&str>) = (names(before).collect(), names(after).collect());
            if a.len() == b.len() {
                for (x, y) in a.into_iter().zip(b).filter(|(x, y)| gone.contains(x) && new.contains(y)) {
                    *votes.entry((x, y)).or_default() += 1;
                }
            }
        }
    }
    let mut best: Vec<((&str, &str), usize)> = votes.into_iter().collect();
    best.sort_by(|x, y| y.1.cmp(&x.1).then(x.0.cmp(&y.0)));
    let mut pairs: Vec<(String, String)> = Vec::new();
    for ((a, b), _) in best {
        if !pairs.iter().any(|(x, y)| x == a || y == b) {
            pairs.push((a.to_owned(), b.to_owned()));
        }
    }
    pairs
}

/// The words of a text as names are written.
fn names(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !in_name(c)).filter(|w| !w.is_empty())
}

fn in_name(c: char) -> bool {
    c.is_alphanumeric() || matches!(c, '-' | '_' | '/' | '.')
}

/// A text of the source with the counterparts put in, and whether that changed it.
fn under(pairs: &[(String, String)], text: &str) -> (String, BTreeSet<usize>) {
    let (mut out, mut used, mut rest) = (String::new(), BTreeSet::new(), text);
    while !rest.is_empty() {
        let end = rest.find(|c: char| !in_name(c)).unwrap_or(rest.len());
        let (word, after) = rest.split_at(end);
        match pairs.iter().position(|(a, _)| a == word) {
            Some(at) => {
                used.insert(at);
                out.push_str(&pairs[at].1);
            }
            None => out.push_str(word),
        }
        let skip = after.chars().next().map_or(0, char::len_utf8);
        out.push_str(&after[..skip]);
        rest = &after[skip..];
    }
    (out, used)
}

/// What is left of the changes of a step when counterparts count as the same, and which of these it uses.
fn without(items: &[ItemChange], pairs: &[(String, String)]) -> (Vec<ItemChange>, Vec<(String, String)>) {
    let mut used: BTreeSet<usize> = BTreeSet::new();
    let mut left: Vec<ItemChange> = Vec::new();
    for item in items {
        if let (Some(before), Some(after)) = (&item.before, &item.after) {
            let (as_target, swapped) = under(pairs, before);
            if as_target == *after {
                used.extend(swapped);
                continue;
            }
        }
        left.push(item.clone());
    }
    let mut i = 0;
    while i < left.len() {
        let out = &left[i];
        let (name, mut swapped) = under(pairs, &out.name);
        let (value, more) = under(pairs, out.before.as_deref().unwrap_or_default());
        swapped.extend(more);
        let into = left.iter().position(|o| {
            out.after.is_none()
                && o.before.is_none()
                && o.field == out.field
                && o.name == name
                && o.after.as_deref().unwrap_or_default() == value
        });
        match into {
            Some(j) if !swapped.is_empty() => {
                used.extend(swapped);
                left.remove(i.max(j));
                left.remove(i.min(j));
                i = 0;
            }
            _ => i += 1,
        }
    }
    // What is said of a counterpart in other words is one change, not one taken out and one put in.
    let mut i = 0;
    while i < left.len() {
        let out = &left[i];
        let (name, swapped) = under(pairs, &out.name);
        let into = left.iter().position(|o| {
            out.after.is_none() && o.before.is_none() && !swapped.is_empty() && o.field == out.field && o.name == name
        });
        if let Some(j) = into {
            let before = under(pairs, left[i].before.as_deref().unwrap_or_default()).0;
            left[j].before = Some(before);
            left.remove(i);
            used.extend(swapped);
            i = 0;
        } else {
            i += 1;
        }
    }
    (left, used.into_iter().map(|at| pairs[at].clone()).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_counterpart_in_the_same_place_is_the_same_work() {
        let item = |name: &str, before: Option<&str>, after: Option<&str>| ItemChange {
            field: "parts".into(),
            name: name.into(),
            before: before.map(str::to_owned),
            after: after.map(str::to_owned),
            index: None,
            near: None,
        };
        let pairs = [("AB-1".to_owned(), "AB-2".to_owned())];
        let swap = [item("AB-1", Some("do use"), None), item("AB-2", None, Some("do use"))];
        assert_eq!(without(&swap, &pairs), (vec![], pairs.to_vec()));
        // A name that only begins like it is another.
        let text = [item("", Some("stack AB-1 + AB-11"), Some("stack AB-2 + AB-11"))];
        assert_eq!(without(&text, &pairs), (vec![], pairs.to_vec()));
        let other = [item("", Some("offset 0, onto AB-1"), Some("offset 1, onto AB-2"))];
        assert_eq!(without(&other, &pairs).0, other.to_vec());
    }
}
