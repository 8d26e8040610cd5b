//! The account of holes over a configuration: what is drilled, opened, deburred, and what fasteners go into them.

use std::collections::{BTreeMap, BTreeSet};

use indexmap::IndexMap;

use super::Items;
use super::hole_record::{HoleRecord, Supply, Work};
use crate::model::{By, HardwareAction, Hole, HoleAction, Item, Joint, Manual, StackMember};
use crate::resolve::{Resolved, ResolvedStep};
use crate::source::Span;
use crate::trade::{Cited, Source, hole_for};
use crate::units::{Length, PartNumber, StepId};

/// A hole that is larger than its fastener by more than this is none for it (common practice).
const SAME_SIZE: (i64, i64) = (1, 16);
/// What a hole may be over its right size (common practice).
const LOOSE: (i64, i64) = (1, 64);

/// All holes of a configuration that are supplied or worked on.
#[derive(Clone, Debug, Default)]
pub struct HoleLedger<'a> {
    /// In the order in which they are first met.
    pub holes: IndexMap<(&'a PartNumber, &'a str), HoleRecord<'a>>,
    pub faults: Vec<HoleFault<'a>>,
}

/// Something about a hole that can't be right.
#[derive(Clone, Debug)]
pub struct HoleFault<'a> {
    pub kind: HoleFaultKind<'a>,
    pub part: &'a PartNumber,
    pub step: &'a StepId,
    pub span: Span,
}

#[derive(Clone, Debug)]
pub enum HoleFaultKind<'a> {
    /// A fastener goes through a part that has fewer holes of its size than fasteners by then. `pilot` are those that
    /// are there and too small.
    NoHoleForFastener { joint: &'a Item<Joint>, member: &'a Item<StackMember>, there: i64, needed: i64, pilot: Vec<&'a str> },
    /// Match-drilled from a part that is not there yet.
    FromNotInPlace { from: &'a PartNumber, later: Option<&'a StepId> },
    /// Match-drilled with a smaller drill than the hole it is guided by, which was opened before: the drill wanders.
    OpenedTooEarly { from: &'a PartNumber, guide: Length, drill: Length, opened: Span },
    /// Drilled and never deburred.
    NeverDeburred { name: &'a str },
    /// In the end larger than right for its fastener.
    TooLarge { size: Length, right: Cited<Length>, for_: &'a str },
    /// In the end smaller than its fastener.
    TooSmall { size: Length, fastener: Cited<Length>, for_: &'a str },
}

impl<'a> HoleLedger<'a> {
    pub fn new(manual: &'a Manual, items: &Items, resolved: &'a Resolved) -> Self {
        let mut book = Book { manual, items, resolved, ledger: Self::default(), at_hand: BTreeSet::new(), used: BTreeMap::new() };
        book.supplied();
        for step in &resolved.steps {
            book.step(step);
        }
        book.close();
        book.ledger
    }
}

struct Book<'a, 'i> {
    manual: &'a Manual,
    items: &'i Items,
    resolved: &'a Resolved,
    ledger: HoleLedger<'a>,
    /// Parts that a step has named by now.
    at_hand: BTreeSet<&'a PartNumber>,
    /// Holes that fasteners have taken, by part and diameter.
    used: BTreeMap<(&'a PartNumber, Length), i64>,
}

impl<'a> Book<'a, '_> {
    fn supplied(&mut self) {
        for (number, part) in &self.manual.parts {
            let here = self.resolved.ledger.parts.get(number).is_some_and(|a| !a.steps.is_empty() || a.listed > 0);
            if !here {
                continue;
            }
            let pilot = part.supplied.pilot_holes.iter().map(|name| (name, Supply::Pilot));
            let full = part.supplied.holes.iter().map(|name| (name, Supply::Full));
            for (name, supply) in pilot.chain(full) {
                let name = name.as_str();
                self.ledger.holes.entry((number, name)).or_insert_with(|| HoleRecord::new(number, name, supply));
            }
        }
    }

    fn step(&mut self, s: &'a ResolvedStep) {
        self.at_hand.extend(s.step.parts.iter().map(|p| &p.part.value));
        for hole in &s.step.holes {
            self.work(s, hole);
        }
        let deburrs = self.manual.settings.fastening.deburr_with.as_ref().is_some_and(|tool| s.step.tools.iter().any(|t| t.value.value == tool.value));
        if deburrs {
            for hole in &s.step.holes {
                self.deburr(hole);
            }
        }
        for joint in &s.step.joints {
            self.fasten(s, joint);
        }
    }

    fn fault(&mut self, s: &'a ResolvedStep, part: &'a PartNumber, span: Span, kind: HoleFaultKind<'a>) {
        self.ledger.faults.push(HoleFault { kind, part, step: &s.step.id.value, span });
    }

    fn work(&mut self, s: &'a ResolvedStep, hole: &'a Item<Hole>) {
        let part = &hole.part.value;
        if hole.action == HoleAction::Deburr {
            self.deburr(hole);
            return;
        }
        let name = hole.hole.as_ref().map_or("", |h| h.value.as_str());
        let fastener = hole.for_.as_ref().and_then(|f| self.items.get(&f.value));
        let size = match &hole.drill {
            Some(drill) => Some(drill.value.size().value),
            None => fastener.and_then(|f| hole_for(f)).map(|h| h.value.drill.size().value),
        };
        if hole.action == HoleAction::MatchDrill {
            self.guided(s, hole, size);
        }
        let record = self.ledger.holes.entry((part, name)).or_insert_with(|| HoleRecord::new(part, name, Supply::None));
        let makes = matches!(hole.action, HoleAction::Drill | HoleAction::MatchDrill);
        if makes {
            record.drill(size, hole.count);
        } else {
            record.open(size, hole.count);
        }
        record.work.push(Work { step: s, hole });
        record.for_ = hole.for_.as_ref().map(|f| &f.value).or(record.for_);
        if hole.by == By::Builder {
            record.burred = Some(record.burred.unwrap_or(Work { step: s, hole }));
        }
    }

    /// A hole that is drilled through a hole of another part.
    fn guided(&mut self, s: &'a ResolvedStep, hole: &'a Item<Hole>, size: Option<Length>) {
        let Some(from) = &hole.from else { return };
        if !self.manual.parts.contains_key(&from.value) {
            return;
        }
        if !self.at_hand.contains(&from.value) {
            let later = self.resolved.steps.iter().find(|o| o.step.parts.iter().any(|p| p.part.value == from.value));
            let later = later.map(|o| &o.step.id.value);
            self.fault(s, &hole.part.value, from.span, HoleFaultKind::FromNotInPlace { from: &from.value, later });
            return;
        }
        // Which of its holes guides the drill is known where only one is for the same fastener or only one is there.
        let all: Vec<&HoleRecord> = self.ledger.holes.values().filter(|r| r.part == &from.value).collect();
        let same: Vec<_> = all.iter().filter(|r| r.for_.is_some() && r.for_ == hole.for_.as_ref().map(|f| &f.value)).copied().collect();
        let guide = match (same.as_slice(), all.as_slice()) {
            ([one], _) | ([], [one]) => *one,
            _ => return,
        };
        let (Some(drill), Some(largest), Some(last)) = (size, guide.largest(), guide.work.last()) else { return };
        if largest > drill + Length::inches(LOOSE.0, LOOSE.1) {
            let kind = HoleFaultKind::OpenedTooEarly { from: &from.value, guide: largest, drill, opened: last.hole.span };
            self.fault(s, &hole.part.value, hole.drill.as_ref().map_or(hole.span, |d| d.span), kind);
        }
    }

    fn deburr(&mut self, hole: &'a Item<Hole>) {
        let name = hole.hole.as_ref().map(|h| h.value.as_str());
        for record in self.ledger.holes.values_mut().filter(|r| *r.part == hole.part.value) {
            if name.is_none_or(|name| name == record.name) {
                record.burred = None;
            }
        }
    }

    /// A fastener takes a hole in each part it goes through.
    fn fasten(&mut self, s: &'a ResolvedStep, joint: &'a Item<Joint>) {
        if !matches!(joint.action, HardwareAction::Fit | HardwareAction::FitTemporarily) {
            return;
        }
        let Some(diameter) = self.items.get(&joint.fastener.value).and_then(|f| f.diameter) else { return };
        let mut counted: BTreeMap<&PartNumber, (i64, &'a Item<StackMember>)> = BTreeMap::new();
        for member in &joint.stack {
            counted.entry(&member.part.value).or_insert((0, member)).0 += joint.places;
        }
        for (part, (needed, member)) in counted {
            let Some(listed) = self.manual.parts.get(part) else { continue };
            let records: Vec<&HoleRecord> = self.ledger.holes.values().filter(|r| r.part == part).collect();
            let told = listed.supplied.span.is_some() && !listed.supplied.assembled || records.iter().any(|r| !r.work.is_empty());
            // How many holes of full size the maker has made, and how large, is not told.
            let unknown = records.iter().any(|r| r.supply == Supply::Full || r.sizes.iter().any(|s| s.0.is_none()));
            if !told || unknown {
                continue;
            }
            let most = diameter.value + Length::inches(SAME_SIZE.0, SAME_SIZE.1);
            let fits = |size: Option<Length>| size.is_some_and(|size| size >= diameter.value && size <= most);
            let there: i64 = records.iter().flat_map(|r| &r.sizes).filter(|s| fits(s.0)).map(|s| s.1).sum();
            let used = self.used.get(&(part, diameter.value)).copied().unwrap_or(0);
            if there < used + needed {
                let small = |r: &&HoleRecord| {
                    r.supply == Supply::Pilot && r.sizes.is_empty()
                        || r.sizes.iter().any(|s| s.0.is_some_and(|size| size < diameter.value))
                };
                let pilot = records.iter().filter(|r| small(r)).map(|r| r.name).collect();
                let there = (there - used).max(0);
                let kind = HoleFaultKind::NoHoleForFastener { joint, member, there, needed, pilot };
                self.fault(s, part, member.part.span, kind);
            }
            if joint.action == HardwareAction::Fit {
                *self.used.entry((part, diameter.value)).or_default() += needed;
            }
        }
    }

    /// What is still so when all steps are done.
    fn close(&mut self) {
        let faulted: BTreeSet<&PartNumber> = self.ledger.faults.iter().map(|f| f.part).collect();
        let mut faults = Vec::new();
        for record in self.ledger.holes.values() {
            if let Some(work) = record.burred {
                let kind = HoleFaultKind::NeverDeburred { name: record.name };
                let span = work.hole.hole.as_ref().map_or(work.hole.span, |h| h.span);
                faults.push(HoleFault { kind, part: record.part, step: &work.step.step.id.value, span });
            }
            let (Some(size), Some(last)) = (record.largest(), record.work.last()) else { continue };
            let Some(for_) = record.for_ else { continue };
            let Some(fastener) = self.items.get(for_) else { continue };
            let step = &last.step.step.id.value;
            let span = last.hole.drill.as_ref().map_or(last.hole.span, |d| d.span);
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
    }
}
