//! The account of holes over a configuration: how they come, what is drilled, opened, deburred, primed, and what
//! fasteners go into them.

use std::collections::{BTreeMap, BTreeSet};

use indexmap::IndexMap;

use super::Items;
use super::hole_fault::{HoleFault, HoleFaultKind};
use super::hole_record::{HoleGroup, HoleRecord, Supply, Work};
use crate::model::{
    By, HardwareAction, Hole, HoleAction, Joint, Manual, PartAction, StackMember, StepItem, ThreadedInto,
};
use crate::resolve::{Resolved, ResolvedStep};
use crate::source::{Span, Spanned};
use crate::trade::{Cited, Source, Substance, hole_for, reamed_hole, substance};
use crate::units::{Designation, Length, PartNumber, Rational, StepId};

/// A hole that is larger than its fastener by more than this, or by a quarter of a small one, is none for it (common
/// practice).
const SAME_SIZE: (i64, i64) = (1, 16);
/// What a hole may be over its right size (common practice).
const LOOSE: (i64, i64) = (1, 64);
/// The most that a reamer takes off in diameter (common practice).
const REAMED_OFF: (i64, i64) = (1, 32);

/// All holes of a configuration that are supplied or worked on.
#[derive(Clone, Debug, Default)]
pub struct HoleLedger<'a> {
    /// In the order in which they are first met.
    pub holes: IndexMap<(&'a PartNumber, &'a str), HoleRecord<'a>>,
    pub faults: Vec<HoleFault<'a>>,
}

impl<'a> HoleLedger<'a> {
    pub fn new(manual: &'a Manual, items: &Items, resolved: &'a Resolved) -> Self {
        let mut book = HoleBook {
            manual,
            items,
            resolved,
            ledger: Self::default(),
            in_place: BTreeMap::new(),
            used: BTreeMap::new(),
            for_a_time: BTreeMap::new(),
            most_used: BTreeMap::new(),
            untold: BTreeSet::new(),
            tapped: tapped(resolved),
        };
        book.supplied();
        for step in &resolved.steps {
            book.step(step);
        }
        book.close();
        super::hole_blame::put_to_their_joints(items, resolved, &mut book.ledger);
        book.ledger
    }
}

/// Whether a hole of this size is one for a fastener of this diameter.
pub(super) fn same_size(hole: Length, diameter: Length) -> bool {
    let quarter = Length::from_inches(diameter.as_inches() * Rational::new(1, 4));
    hole >= diameter && hole <= diameter + quarter.min(Length::inches(SAME_SIZE.0, SAME_SIZE.1))
}

/// The parts that screws are screwed into.
fn tapped(resolved: &Resolved) -> BTreeMap<(&PartNumber, &Designation), ThreadedInto> {
    let joints = resolved.steps.iter().flat_map(|s| &s.step.joints).filter(|j| j.into.is_some());
    joints.filter_map(|j| Some(((&j.stack.last()?.part.value, &j.fastener.value), j.into.as_ref()?.value))).collect()
}

struct HoleBook<'a, 'i> {
    manual: &'a Manual,
    items: &'i Items,
    resolved: &'a Resolved,
    ledger: HoleLedger<'a>,
    /// How many of a part are fitted by now, on trial or for good.
    in_place: BTreeMap<&'a PartNumber, i64>,
    /// Holes that fasteners have taken, by part and diameter.
    used: BTreeMap<(&'a PartNumber, Length), i64>,
    /// Of these, those that are to come out again, and the most that were taken at one time.
    for_a_time: BTreeMap<(&'a PartNumber, Length), i64>,
    most_used: BTreeMap<(&'a PartNumber, Length), i64>,
    /// Parts with holes of unknown size that a finding names already.
    untold: BTreeSet<&'a PartNumber>,
    /// Parts that have the thread of a screw.
    tapped: BTreeMap<(&'a PartNumber, &'a Designation), ThreadedInto>,
}

impl<'a> HoleBook<'a, '_> {
    fn supplied(&mut self) {
        for (number, part) in &self.manual.parts {
            let account = self.resolved.ledger.parts.get(number);
            let Some(account) = account.filter(|a| !a.steps.is_empty() || a.listed > 0) else { continue };
            let pieces = account.listed.max(1);
            let pilot = part.supplied.pilot_holes.iter().map(|name| (name, Supply::Pilot));
            let full = part.supplied.holes.iter().map(|name| (name, Supply::Full));
            for (name, supply) in pilot.chain(full) {
                let mut record = HoleRecord::new(number, name, supply);
                for row in self.manual.holes_of(number).iter().filter(|h| h.hole.value == *name) {
                    let count = row.count * pieces;
                    record.listed = Some(record.listed.unwrap_or(0) + count);
                    let size = row.size.map(|s| s.value.size().value);
                    record.groups.push(HoleGroup { pilot: supply == Supply::Pilot, size, count });
                }
                self.ledger.holes.entry((number, record.name)).or_insert(record);
            }
        }
    }

    fn step(&mut self, s: &'a ResolvedStep) {
        for part in &s.step.parts {
            let fitted = matches!(part.action, PartAction::Pull | PartAction::TrialFit | PartAction::Refit);
            *self.in_place.entry(&part.part.value).or_default() += if fitted { part.quantity } else { 0 };
        }
        for hole in s.step.holes.iter().filter(|h| h.action != HoleAction::Prime) {
            self.work(s, hole);
        }
        let fastening = &self.manual.settings.fastening;
        let deburrs =
            fastening.deburr_with.as_ref().is_some_and(|tool| s.step.tools.iter().any(|t| t.value.value == tool.value));
        let primes = fastening
            .prime_with
            .as_ref()
            .is_some_and(|with| s.step.consumables.iter().any(|c| c.value.value == with.value));
        for hole in &s.step.holes {
            if deburrs {
                self.deburr(hole);
            }
            if primes || hole.action == HoleAction::Prime || hole.touch_up.is_some() {
                self.prime(&hole.part.value, hole.hole.as_ref().map(|h| h.value.as_str()));
            }
            if hole.action == HoleAction::Prime {
                self.named(hole, s);
            }
        }
        for joint in &s.step.joints {
            self.fasten(s, joint);
        }
        for part in &s.step.parts {
            match part.action {
                // Paint and primer go into the holes too.
                PartAction::Finish => self.prime(&part.part.value, None),
                PartAction::Remove => *self.in_place.entry(&part.part.value).or_default() -= part.quantity,
                _ => {}
            }
        }
    }

    fn fault(&mut self, s: &'a ResolvedStep, part: &'a PartNumber, span: Span, kind: HoleFaultKind<'a>) {
        self.ledger.faults.push(HoleFault { kind, part, step: &s.step.id.value, span });
    }

    /// The size a hole has after this work.
    fn size(&self, hole: &Hole) -> Option<Length> {
        let fastener = hole.for_.as_ref().and_then(|f| self.items.get(&f.value));
        if let Some(reamer) = &hole.reamer {
            return Some(reamer.value.size().value);
        }
        if hole.action == HoleAction::Ream {
            return fastener.and_then(|f| reamed_hole(f)).map(|r| r.value.reamer.size().value);
        }
        match &hole.drill {
            Some(drill) => Some(drill.value.size().value),
            None if hole.for_.as_ref().is_some_and(|f| self.tapped.contains_key(&(&hole.part.value, &f.value))) => {
                fastener.and_then(|f| f.thread).map(|t| t.value.tap_drill().size().value)
            }
            None => fastener.and_then(|f| hole_for(f)).map(|h| h.value.drill.size().value),
        }
    }

    fn work(&mut self, s: &'a ResolvedStep, hole: &'a StepItem<Hole>) {
        let part = &hole.part.value;
        if hole.action == HoleAction::Deburr {
            self.deburr(hole);
            self.named(hole, s);
            return;
        }
        let name = hole.hole.as_ref().map_or("", |h| h.value.as_str());
        let size = self.size(hole);
        let guide = if hole.action == HoleAction::MatchDrill { self.guided(s, hole) } else { None };
        let makes = matches!(hole.action, HoleAction::Drill | HoleAction::MatchDrill);
        let apart = if makes { None } else { self.apart(s, part, name, size) };
        let record = self.ledger.holes.entry((part, name)).or_insert_with(|| HoleRecord::new(part, name, Supply::None));
        let had =
            record.least().filter(|had| hole.action == HoleAction::OpenUp && size.is_some_and(|size| size <= *had));
        let before = hole.drill.map(|d| d.value.size().value).or(if makes { None } else { record.largest() });
        let missing = if makes {
            record.drill(size, hole.count);
            0
        } else {
            record.open(size, hole.count)
        };
        if let Some(from) = &hole.from
            && guide.is_some()
        {
            record.partners.push(&from.value);
        }
        record.work.push(Work { step: s, hole });
        record.for_ = hole.for_.as_ref().map(|f| &f.value).or(record.for_);
        if hole.by == By::Builder {
            record.burred = Some(record.burred.unwrap_or(Work { step: s, hole }));
            record.bare = Some(Work { step: s, hole });
        }
        // A hole that is not there at all is another finding.
        let there = hole.count - missing;
        if missing > 0 && there > 0 {
            let span = hole.hole.as_ref().map_or(hole.span, |h| h.span);
            self.fault(s, part, span, HoleFaultKind::MoreThanThere { name, there, wanted: hole.count });
        }
        if let (Some(had), Some(drill)) = (had, size) {
            let span = hole.drill.as_ref().map_or(hole.span, |d| d.span);
            self.fault(s, part, span, HoleFaultKind::OpensNothing { name, had, drill });
        }
        // Nobody can drill it, whether a fastener goes in or not.
        if size.is_none() && hole.by == By::Builder && self.untold.insert(part) {
            self.fault(s, part, hole.span, HoleFaultKind::SizeNotKnown { name, supplied: false });
        }
        if let Some(other) = apart {
            self.fault(s, part, hole.part.span, HoleFaultKind::OpenedApart { name, other });
        }
        let reams = hole.reamer.is_some() || hole.action == HoleAction::Ream;
        if let (true, Some(before), Some(reamer)) = (reams, before, size)
            && (before >= reamer || reamer > before + Length::inches(REAMED_OFF.0, REAMED_OFF.1))
        {
            let span = hole.reamer.map_or(hole.span, |r| r.span);
            self.fault(s, part, span, HoleFaultKind::ReamerAllowance { before, reamer });
        }
        if let Some(guide) = guide
            && let Some(guide) = self.ledger.holes.get_mut(&guide)
        {
            guide.partners.push(part);
        }
    }

    /// Work that leaves the size as it is stands in the record of the holes it names.
    fn named(&mut self, hole: &'a StepItem<Hole>, step: &'a ResolvedStep) {
        let Some(name) = &hole.hole else { return };
        if let Some(record) = self.ledger.holes.get_mut(&(&hole.part.value, name.value.as_str())) {
            record.work.push(Work { step, hole });
        }
    }

    fn here(&self, s: &ResolvedStep, part: &PartNumber) -> bool {
        self.in_place.get(part).is_some_and(|n| *n > 0) || s.step.parts.iter().any(|p| p.part.value == *part)
    }

    /// A part that a hole was drilled through together with, which is not there when it is made larger.
    fn apart(
        &self,
        s: &ResolvedStep,
        part: &'a PartNumber,
        name: &'a str,
        size: Option<Length>,
    ) -> Option<&'a PartNumber> {
        let record = self.ledger.holes.get(&(part, name))?;
        // A hole that has its size already is only run through again.
        record.largest().filter(|&largest| size.is_some_and(|size| size > largest))?;
        record.partners.iter().copied().find(|other| !self.here(s, other))
    }

    /// A hole that is drilled through a hole of another part. Answers which one that is, where it is known.
    fn guided(&mut self, s: &'a ResolvedStep, hole: &'a StepItem<Hole>) -> Option<(&'a PartNumber, &'a str)> {
        let from = hole.from.as_ref()?;
        let (from_number, _) = self.manual.parts.get_key_value(&from.value)?;
        if !self.here(s, &from.value) {
            let later = self
                .resolved
                .steps
                .iter()
                .find(|o| o.number > s.number && o.step.parts.iter().any(|p| p.part.value == from.value));
            let later = later.map(|o| &o.step.id.value);
            self.fault(s, &hole.part.value, from.span, HoleFaultKind::FromNotInPlace { from: from_number, later });
            return None;
        }
        // Which of its holes guides the drill is known where only one is for the same fastener or only one is there.
        let all: Vec<&HoleRecord> = self.ledger.holes.values().filter(|r| r.part == from_number).collect();
        let same: Vec<_> = all
            .iter()
            .filter(|r| r.for_.is_some() && r.for_ == hole.for_.as_ref().map(|f| &f.value))
            .copied()
            .collect();
        let guide = match (same.as_slice(), all.as_slice()) {
            ([one], _) | ([], [one]) => *one,
            _ => return None,
        };
        let key = (guide.part, guide.name);
        // What follows the guide is the drill; a reamer comes after it.
        let drill = hole.drill.map(|d| d.value.size().value).or_else(|| self.size(hole));
        let (Some(drill), Some(largest), Some(last)) = (drill, guide.largest(), guide.work.last()) else {
            return Some(key);
        };
        if largest > drill + Length::inches(LOOSE.0, LOOSE.1) {
            let kind =
                HoleFaultKind::OpenedTooEarly { from: from_number, guide: largest, drill, opened: last.hole.span };
            self.fault(s, &hole.part.value, hole.drill.as_ref().map_or(hole.span, |d| d.span), kind);
        }
        Some(key)
    }

    fn deburr(&mut self, hole: &'a StepItem<Hole>) {
        let name = hole.hole.as_ref().map(|h| h.value.as_str());
        for record in self.ledger.holes.values_mut().filter(|r| *r.part == hole.part.value) {
            if name.is_none_or(|name| name == record.name) {
                record.burred = None;
            }
        }
    }

    fn prime(&mut self, part: &PartNumber, name: Option<&str>) {
        for record in self.ledger.holes.values_mut().filter(|r| r.part == part) {
            if name.is_none_or(|name| name == record.name) {
                record.primed = true;
                record.bare = None;
            }
        }
    }

    /// A fastener takes a hole in each part it goes through.
    fn fasten(&mut self, s: &'a ResolvedStep, joint: &'a StepItem<Joint>) {
        let Some(diameter) = self.items.get(&joint.fastener.value).and_then(|f| f.diameter) else { return };
        // A wood screw makes its own way; its pilot hole is smaller than it is.
        if self.items.get(&joint.fastener.value).is_some_and(|f| f.form.into_wood()) {
            return;
        }
        let mut counted: BTreeMap<&PartNumber, (i64, &'a StepItem<StackMember>)> = BTreeMap::new();
        let threaded = joint.stack.len().checked_sub(1).filter(|_| joint.into.is_some());
        for (at, member) in joint.stack.iter().enumerate() {
            if let Some(bore) = &member.bore {
                self.bore(s, joint, member, bore, diameter);
                continue;
            }
            // The thread has a hole of its own, which is the size of its core.
            if Some(at) == threaded {
                continue;
            }
            counted.entry(&member.part.value).or_insert((0, member)).0 += joint.places;
        }
        for (part, (needed, member)) in counted {
            let Some((number, listed)) = self.manual.parts.get_key_value(part) else { continue };
            let key = (number, diameter.value);
            match joint.action {
                HardwareAction::Fit | HardwareAction::FitTemporarily => {}
                HardwareAction::Refit => {
                    *self.used.entry(key).or_default() += needed;
                    continue;
                }
                // What comes out leaves its hole free; what was fitted for a time comes out first.
                HardwareAction::Remove => {
                    let waiting = self.for_a_time.entry(key).or_default();
                    let temporary = needed.min(*waiting);
                    *waiting -= temporary;
                    let used = self.used.entry(key).or_default();
                    *used = (*used - (needed - temporary)).max(0);
                    continue;
                }
            }
            let records: Vec<&HoleRecord> = self.ledger.holes.values().filter(|r| r.part == part).collect();
            let known = |r: &&HoleRecord| !r.work.is_empty() || r.supply != Supply::None;
            let supplied = &listed.supplied;
            let told =
                supplied.span.is_some() && (!supplied.assembled || supplied.no_holes) || records.iter().any(known);
            if !told {
                continue;
            }
            let fits = |g: &&HoleGroup| !g.pilot && g.size.is_some_and(|size| same_size(size, diameter.value));
            let there: i64 = records.iter().flat_map(|r| &r.groups).filter(fits).map(|g| g.count).sum();
            let used = self.used.get(&(number, diameter.value)).copied().unwrap_or(0);
            let short = there < used + needed;
            if joint.action == HardwareAction::Fit {
                let used = self.used.entry(key).or_default();
                *used += needed;
                let most = self.most_used.entry(key).or_default();
                *most = (*most).max(*used);
            } else {
                *self.for_a_time.entry(key).or_default() += needed;
            }
            // A part that a later step takes is another finding.
            let later =
                !self.here(s, part) && self.resolved.ledger.parts.get(part).is_some_and(|a| !a.steps.is_empty());
            if !short || later || self.untold.contains(part) {
                continue;
            }
            // A hole whose size or number is not told may be the one.
            if let Some(record) = records.iter().find(|r| r.unknown()) {
                let supplied = record.work.is_empty();
                let cell = listed.supplied.span.filter(|_| supplied);
                let span = cell.or_else(|| record.work.last().map(|w| w.hole.span)).unwrap_or(member.part.span);
                let kind = HoleFaultKind::SizeNotKnown { name: record.name, supplied };
                self.untold.insert(number);
                self.fault(s, number, span, kind);
                continue;
            }
            let small = |r: &&HoleRecord| {
                r.supply == Supply::Pilot && r.groups.is_empty()
                    || r.groups.iter().any(|g| g.pilot || g.size.is_some_and(|size| size < diameter.value))
            };
            let pilot = records.iter().filter(|r| small(r)).map(|r| r.name).collect();
            let there = (there - used).max(0);
            let kind = HoleFaultKind::NoHoleForFastener { joint, member, there, needed, pilot };
            self.fault(s, number, member.part.span, kind);
        }
    }

    /// A bore that a spacer or a bearing has of itself.
    fn bore(
        &mut self,
        s: &'a ResolvedStep,
        joint: &'a StepItem<Joint>,
        member: &'a StepItem<StackMember>,
        bore: &Spanned<Length>,
        diameter: Cited<Length>,
    ) {
        let Some((part, _)) = self.manual.parts.get_key_value(&member.part.value) else { return };
        let (size, for_) = (bore.value, joint.fastener.as_str());
        let right = diameter.map(|d| d + Length::inches(LOOSE.0, LOOSE.1));
        if size < diameter.value {
            self.fault(s, part, bore.span, HoleFaultKind::TooSmall { size, fastener: diameter, for_ });
        } else if size > right.value + Length::inches(LOOSE.0, LOOSE.1) {
            self.fault(s, part, bore.span, HoleFaultKind::TooLarge { size, right: diameter, for_ });
        }
    }

    /// Wood, plastic and the like, which no primer is for.
    fn soft(&self, part: &PartNumber) -> bool {
        let Some(part) = self.manual.parts.get(part) else { return false };
        let stock = part.stock.as_ref().and_then(|s| self.manual.stock.get(&s.value));
        let own = part.material.as_str();
        substance(if own.is_empty() { stock.map_or("", |s| s.material.as_str()) } else { own }) == Substance::Soft
    }

    /// What is still so when all steps are done.
    fn close(&mut self) {
        let faulted: BTreeSet<&PartNumber> = self.ledger.faults.iter().map(|f| f.part).collect();
        let mut faults = Vec::new();
        for record in self.ledger.holes.values() {
            let mut found = |work: Work<'a>, kind| {
                let span = work.hole.hole.as_ref().map_or(work.hole.span, |h| h.span);
                faults.push(HoleFault { kind, part: record.part, step: &work.step.step.id.value, span });
            };
            if let Some(work) = record.burred {
                found(work, HoleFaultKind::NeverDeburred { name: record.name });
            }
            let wanted = record.primed || self.manual.settings.fastening.prime_with.is_some();
            if let Some(work) = record.bare.filter(|_| wanted && !self.soft(record.part)) {
                found(work, HoleFaultKind::NeverPrimed { name: record.name, again: record.primed });
            }
            let sized = |w: &&Work| !matches!(w.hole.action, HoleAction::Deburr | HoleAction::Prime);
            let (Some(size), Some(last)) = (record.largest(), record.work.iter().rev().find(sized)) else { continue };
            let Some(for_) = record.for_ else { continue };
            let Some(fastener) = self.items.get(for_) else { continue };
            let step: &StepId = &last.step.step.id.value;
            let span = last.hole.reamer.or(last.hole.drill).map_or(last.hole.span, |d| d.span);
            let into = self.tapped.get(&(record.part, for_)).copied();
            // The hole of an insert is its maker's.
            if into == Some(ThreadedInto::ThreadedInsert) {
                continue;
            }
            let tap = fastener.thread.filter(|_| into.is_some());
            if let Some(thread) = tap {
                let right = Cited::new(thread.value.tap_drill().size().value, Source::CommonPractice);
                // Too large a hole leaves too little thread; too small a one breaks the tap.
                let slack = Length::from_inches(thread.value.pitch().as_inches() * Rational::new(1, 5));
                let kind = if size > right.value + slack {
                    Some(HoleFaultKind::TooLarge { size, right, for_: for_.as_str() })
                } else if size + slack < right.value {
                    Some(HoleFaultKind::TooSmall { size, fastener: right, for_: for_.as_str() })
                } else {
                    None
                };
                faults.extend(kind.map(|kind| HoleFault { kind, part: record.part, step, span }));
                continue;
            }
            if fastener.form.into_wood() {
                continue;
            }
            let right = hole_for(fastener).map(|hole| {
                let limit = hole.value.limits.map_or(Length::ZERO, |limits| limits.1);
                Cited::new(hole.value.drill.size().value.max(limit), hole.source.min(Source::CommonPractice))
            });
            if let Some(diameter) = fastener.diameter.filter(|d| size < d.value) {
                if !faulted.contains(record.part) {
                    let kind = HoleFaultKind::TooSmall { size, fastener: diameter, for_: for_.as_str() };
                    faults.push(HoleFault { kind, part: record.part, step, span });
                }
            } else if let Some(right) = right.filter(|right| size > right.value + Length::inches(LOOSE.0, LOOSE.1)) {
                let kind = HoleFaultKind::TooLarge { size, right, for_: for_.as_str() };
                faults.push(HoleFault { kind, part: record.part, step, span });
            }
        }
        self.ledger.faults.extend(faults);
        let empty = super::hole_use::unused(self.items, self.resolved, &self.ledger, &self.most_used);
        self.ledger.faults.extend(empty);
    }
}
