//! A kit of one configuration made into another: what comes off, what is added, which steps are to be done.
//!
//! Owns: what the comparison and the steps written for just this conversion give together. Must not know: documents.

use std::collections::{BTreeMap, BTreeSet};

use super::compare::{Change, Side, StepMark, compare};
use crate::model::{Manual, WhenRemoved};
use crate::resolve::{Ledger, Listed, PartAccount, Pull, Resolved, ResolvedSection, ResolvedStep, StepNumber};
use crate::units::{AssemblyId, Designation, PartNumber, Quantity, Rational, StepId, Unit};

/// A part or an item of hardware, and how many.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CountedItem {
    pub name: String,
    pub title: String,
    pub quantity: Quantity,
}

/// A part that comes off for good.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Off {
    pub item: CountedItem,
    pub then: WhenRemoved,
}

/// The difference in weight, in pounds: what is added less what comes off.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WeightChange {
    pub pounds: Rational,
    /// Parts whose weight the lists do not give; they are not counted.
    pub unknown: Vec<String>,
}

/// A conversion.
#[derive(Clone, Debug)]
pub struct Conversion {
    pub from: String,
    pub to: String,
    pub change: Change,
    /// The steps to do, in order and numbered, with what they take that is not there yet.
    pub resolved: Resolved,
    /// Of these the ones written for just this conversion.
    pub own: BTreeSet<StepId>,
    /// Steps of the source that no longer hold: last one first, as things come apart.
    pub undone: Vec<StepMark>,
    pub off: Vec<Off>,
    /// Hardware of what comes off; it is not used again.
    pub hardware_off: Vec<CountedItem>,
    /// Parts that come off and are used in a step to do.
    pub reused: Vec<CountedItem>,
    pub weight: WeightChange,
    /// Steps of the target that are not done again and rest on what is: by their numbers in the target's manual.
    pub look_again: Vec<StepMark>,
    /// What was closed for good and is opened again.
    pub opened: Vec<AssemblyId>,
}

/// Fields of a step in which a difference asks for work.
const WORK: [&str; 11] =
    ["parts", "hardware", "joints", "cuts", "holes", "measure", "inspect", "closes", "makes", "safety", "text"];

/// Fields of a step that is taken apart where they differ.
const APART: [&str; 5] = ["parts", "hardware", "joints", "cuts", "holes"];

/// The conversion of `from` to `to`. The target is resolved as converted (its configuration names the variant it comes
/// from); `plain` is the same configuration built as it is.
pub fn conversion(from: &Side, to: &Side, plain: &Resolved) -> Conversion {
    let change = compare(from, to);
    let in_plain: BTreeSet<&StepId> = plain.steps.iter().map(|s| &s.step.id.value).collect();
    let own: BTreeSet<StepId> =
        to.resolved.steps.iter().map(|s| &s.step.id.value).filter(|id| !in_plain.contains(id)).cloned().collect();
    let added: BTreeSet<&StepId> = change.added.iter().map(|s| &s.id).collect();
    let works = |id: &StepId| {
        let changed = change.changed.iter().find(|c| c.step.id == *id);
        changed.is_some_and(|c| c.items.iter().any(|i| WORK.contains(&i.field.as_str())))
    };
    let undone: Vec<StepMark> = change.removed.iter().rev().cloned().collect();
    let gone: BTreeSet<&StepId> = undone.iter().map(|s| &s.id).collect();

    let before = taken(from.resolved);
    let after = taken(to.resolved);
    let parts = balance(&before.parts, &after.parts);
    let mut ledger = Ledger::default();
    let (mut off, mut reused) = (Vec::new(), Vec::new());
    let mut listed = BTreeMap::new();
    let title = |n: &PartNumber| part_title(to.manual, n).or_else(|| part_title(from.manual, n)).unwrap_or_default();
    for (number, b) in &parts {
        let each = |n| CountedItem { name: number.to_string(), title: title(number), quantity: Quantity::each(n) };
        // What only another step takes now stays where it is.
        let comes_off =
            b.freed_by.iter().filter(|(step, _)| gone.contains(step) || works(step)).map(|f| f.1).sum::<i64>();
        if b.reused().min(comes_off) > 0 {
            reused.push(each(b.reused().min(comes_off)));
        }
        if b.left() > 0 {
            let then = from.manual.parts.get(number).map_or(WhenRemoved::Keep, |p| p.when_removed);
            off.push(Off { item: each(b.left()), then });
        }
        if b.to_send() > 0 {
            let piece = to.resolved.ledger.parts.get(number).is_some_and(|a| a.piece);
            // What is at hand is used first.
            let mut at_hand = b.reused();
            let mut pulled = Vec::new();
            for (pull, more) in &b.takes {
                let from_hand = at_hand.min(*more);
                at_hand -= from_hand;
                if more - from_hand > 0 {
                    pulled.push(Pull { count: more - from_hand, ..(*pull).clone() });
                }
            }
            let steps = pulled.iter().map(|p| p.step.clone()).collect();
            ledger.parts.insert(number.clone(), PartAccount { listed: b.to_send(), pulled, piece, steps });
            if !piece {
                listed.insert(number.clone(), Listed { count: b.to_send(), cells: Vec::new() });
            }
        }
    }
    let mut hardware_off = Vec::new();
    // What is put together otherwise is taken apart first, and its hardware is not used again.
    let apart = |id: &StepId| {
        let changed = change.changed.iter().find(|c| c.step.id == *id);
        changed.is_some_and(|c| c.items.iter().any(|i| APART.contains(&i.field.as_str())))
    };
    hardware(from, to, (&apart, &works), &mut ledger, &mut hardware_off);
    // A step that says the same and takes now what another took before is done too.
    let takes: BTreeSet<StepId> = ledger
        .parts
        .values()
        .flat_map(|a| &a.steps)
        .chain(ledger.hardware.values().flat_map(|a| &a.steps))
        .cloned()
        .collect();
    let is_kept = |id: &StepId| added.contains(id) || works(id) || takes.contains(id);
    let kept: Vec<&ResolvedStep> = to.resolved.steps.iter().filter(|s| is_kept(&s.step.id.value)).collect();
    let made: BTreeSet<&AssemblyId> = kept.iter().flat_map(|s| &s.step.makes).map(|m| &m.value.value).collect();
    let kept_ids: BTreeSet<&StepId> = kept.iter().map(|s| &s.step.id.value).collect();
    let rests = |s: &&ResolvedStep| {
        !kept_ids.contains(&s.step.id.value) && s.step.assemblies.iter().any(|a| made.contains(&a.assembly.value))
    };
    let look_again = plain.steps.iter().filter(rests).map(|s| StepMark {
        id: s.step.id.value.clone(),
        title: s.step.title.value.clone(),
        number: s.number.to_string(),
    });
    let look_again = look_again.collect();
    let mut opened: Vec<AssemblyId> = Vec::new();
    for s in &from.resolved.steps {
        if gone.contains(&s.step.id.value) || works(&s.step.id.value) {
            opened.extend(
                s.step.closes.iter().map(|c| c.value.value.clone()).filter(|c| !opened.contains(c)).collect::<Vec<_>>(),
            );
        }
    }
    let mut resolved = numbered(to.resolved, &kept);
    renumber(&mut ledger, &resolved);
    resolved.name = format!("{}-to-{}", file_name(from), file_name(to));
    resolved.title = format!("Conversion of {} to {}", from.resolved.title, lower_first(&to.resolved.title));
    resolved.listed = listed;
    resolved.ledger = ledger;
    let weight = weight(from.manual, to.manual, &resolved, &off);
    Conversion {
        from: from.name.to_owned(),
        to: to.name.to_owned(),
        resolved,
        own,
        undone,
        off,
        hardware_off,
        reused,
        weight,
        look_again,
        opened,
        change,
    }
}

fn file_name(side: &Side) -> String {
    side.resolved.configuration.name(&side.manual.settings)
}

fn lower_first(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| c.to_lowercase().chain(chars).collect())
}

fn part_title(manual: &Manual, number: &PartNumber) -> Option<String> {
    manual.parts.get(number).map(|p| p.name.clone())
}

/// What each step of a configuration takes of each part.
struct Taken<'a> {
    parts: BTreeMap<&'a PartNumber, Vec<&'a Pull>>,
}

fn taken(resolved: &Resolved) -> Taken<'_> {
    let parts = resolved.ledger.parts.iter().filter(|(_, a)| !a.piece);
    Taken { parts: parts.map(|(n, a)| (n, a.pulled.iter().collect())).collect() }
}

/// How a part stands between two configurations.
struct ConversionBalance<'a> {
    /// Taken by steps that are gone, or that take fewer now.
    freed_by: Vec<(StepId, i64)>,
    /// Where more of it is taken than before, in the order of the steps.
    takes: Vec<(&'a Pull, i64)>,
}

impl ConversionBalance<'_> {
    fn need(&self) -> i64 {
        self.takes.iter().map(|t| t.1).sum()
    }

    fn freed(&self) -> i64 {
        self.freed_by.iter().map(|f| f.1).sum()
    }

    fn reused(&self) -> i64 {
        self.freed().min(self.need())
    }

    fn to_send(&self) -> i64 {
        self.need() - self.reused()
    }

    fn left(&self) -> i64 {
        self.freed() - self.reused()
    }
}

fn balance<'a>(
    before: &BTreeMap<&'a PartNumber, Vec<&'a Pull>>,
    after: &BTreeMap<&'a PartNumber, Vec<&'a Pull>>,
) -> BTreeMap<PartNumber, ConversionBalance<'a>> {
    let numbers: BTreeSet<&PartNumber> = before.keys().chain(after.keys()).copied().collect();
    let none = Vec::new();
    let by_step = |pulls: &[&Pull]| {
        let mut counts: BTreeMap<StepId, i64> = BTreeMap::new();
        pulls.iter().for_each(|p| *counts.entry(p.step.clone()).or_default() += p.count);
        counts
    };
    let one = |number: &&PartNumber| {
        let (a, b) = (before.get(number).unwrap_or(&none), after.get(number).unwrap_or(&none));
        let (old, new) = (by_step(a), by_step(b));
        let fewer = |(step, n): (&StepId, &i64)| (step.clone(), (n - new.get(step).unwrap_or(&0)).max(0));
        let freed_by = old.iter().map(fewer).filter(|f| f.1 > 0).collect();
        let mut had = old;
        let mut takes = Vec::new();
        for pull in b {
            let had = had.entry(pull.step.clone()).or_default();
            let same = pull.count.min(*had);
            *had -= same;
            if pull.count > same {
                takes.push((*pull, pull.count - same));
            }
        }
        ((*number).clone(), ConversionBalance { freed_by, takes })
    };
    numbers.iter().map(one).collect()
}

/// Says of a step whether something is done with it.
type StepTest<'a> = &'a dyn Fn(&StepId) -> bool;

/// Hardware by step: what a step takes more than before is sent new, what it takes less is done with. Of a step that is
/// taken apart, all of it; of one that is only done again, what is new each time: cotter pins, safety wire.
fn hardware(
    from: &Side,
    to: &Side,
    (apart, again): (StepTest, StepTest),
    ledger: &mut Ledger,
    off: &mut Vec<CountedItem>,
) {
    let zero = Rational::from_integer(0);
    let names: BTreeSet<&Designation> =
        from.resolved.ledger.hardware.keys().chain(to.resolved.ledger.hardware.keys()).collect();
    for name in names {
        let by_step = |resolved: &Resolved| {
            let mut counts: BTreeMap<StepId, (StepNumber, Quantity)> = BTreeMap::new();
            let taken = resolved.ledger.hardware.get(name).map_or(&[][..], |a| &a.taken);
            for (step, number, quantity) in taken {
                let entry = counts.entry(step.clone()).or_insert((*number, Quantity::none(quantity.unit)));
                entry.1.value += quantity.value;
            }
            counts
        };
        let (old, new) = (by_step(from.resolved), by_step(to.resolved));
        let unit = new.values().chain(old.values()).next().map_or(Unit::Each, |q| q.1.unit);
        let value =
            |side: &BTreeMap<StepId, (StepNumber, Quantity)>, step: &StepId| side.get(step).map_or(zero, |q| q.1.value);
        let one_use = to.manual.hardware.get(name).is_some_and(|h| h.one_use);
        let stays =
            |s: &StepId| if apart(s) || one_use && again(s) { zero } else { value(&old, s).min(value(&new, s)) };
        let gone: Rational = old.keys().map(|s| value(&old, s) - stays(s)).sum();
        if gone > zero {
            let title = from.manual.hardware.get(name).map_or_else(String::new, |h| h.name.clone());
            off.push(CountedItem { name: name.to_string(), title, quantity: Quantity { value: gone, unit } });
        }
        let order = to.resolved.steps.iter().filter_map(|s| new.get_key_value(&s.step.id.value));
        let taken: Vec<_> = order
            .map(|(step, (number, q))| (step.clone(), *number, q.value - stays(step)))
            .filter(|t| t.2 > zero)
            .map(|(step, number, value)| (step, number, Quantity { value, unit }))
            .collect();
        if !taken.is_empty() {
            let need = Quantity { value: taken.iter().map(|t| t.2.value).sum(), unit };
            let steps = taken.iter().map(|t| t.0.clone()).collect();
            ledger.hardware.insert(name.clone(), crate::resolve::HardwareAccount { need, taken, steps });
        }
    }
}

/// The steps to do under numbers of their own.
fn numbered(to: &Resolved, kept: &[&ResolvedStep]) -> Resolved {
    let mut sections: Vec<ResolvedSection> = Vec::new();
    let mut steps: Vec<ResolvedStep> = Vec::new();
    for s in kept {
        let Some(of) = to.sections.iter().find(|x| x.number == s.number.section) else { continue };
        if sections.last().is_none_or(|x| x.id != of.id) {
            let number = sections.len() as u32 + 1;
            sections.push(ResolvedSection { number, steps: steps.len()..steps.len(), intro: None, ..of.clone() });
        }
        let Some(section) = sections.last_mut() else { continue };
        let number = StepNumber { section: section.number, step: section.steps.len() as u32 + 1 };
        section.steps.end += 1;
        steps.push(ResolvedStep { number, ..(*s).clone() });
    }
    // What is sent is not what lies in the crates of the kit.
    Resolved {
        sections,
        steps,
        order_faults: Vec::new(),
        pages: Vec::new(),
        counts: BTreeMap::new(),
        waits: BTreeMap::new(),
        ..to.clone()
    }
}

fn renumber(ledger: &mut Ledger, resolved: &Resolved) {
    let numbers: BTreeMap<&StepId, StepNumber> = resolved.steps.iter().map(|s| (&s.step.id.value, s.number)).collect();
    let new = |step: &StepId, number: &mut StepNumber| {
        if let Some(n) = numbers.get(step) {
            *number = *n;
        }
    };
    ledger.parts.values_mut().flat_map(|a| &mut a.pulled).for_each(|p| new(&p.step, &mut p.number));
    ledger.hardware.values_mut().flat_map(|a| &mut a.taken).for_each(|t| new(&t.0, &mut t.1));
}

fn weight(from: &Manual, to: &Manual, resolved: &Resolved, off: &[Off]) -> WeightChange {
    let mut change = WeightChange::default();
    let mut count =
        |manual: &Manual, name: &str, n: i64| match manual.parts.get(&PartNumber::new(name)).and_then(|p| p.weight) {
            Some(weight) => change.pounds += weight.as_pounds() * Rational::from_integer(n),
            None => change.unknown.push(name.to_owned()),
        };
    for (number, listed) in &resolved.listed {
        count(to, number.as_str(), listed.count);
    }
    for part in off {
        count(from, &part.item.name, -*part.item.quantity.value.numer());
    }
    change
}
