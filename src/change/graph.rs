//! What hangs on what in a configuration: things, and the assumptions that tie one to another.
//!
//! A tie says: when this aspect of one thing changes, that other thing rests on it. The graph is made from what the
//! steps and lists say; what a change touches is found by following the ties, with no knowledge of what changed.
//!
//! Owns: things, aspects, ties, following them. Must not know: two sides, words for a reader beyond the reason of a tie.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use crate::model::{Hole, Joint, Manual, Opposite, PartAction, Step, StepItem, Through};
use crate::resolve::Resolved;
use crate::units::{Designation, Hand, PartNumber, StepId, StockId};

/// A thing that can change, or be touched by a change.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ImpactThing {
    Stock(StockId),
    Part(PartNumber),
    Hardware(Designation),
    Step(StepId),
    /// A joint by its number in its step's list as written, from 0.
    Joint(StepId, usize),
    Cut(StepId, usize),
    Hole(StepId, usize),
    Bend(StepId, usize),
    Flattened(StepId, usize),
    Cable(StepId, usize),
    /// What lies in a bag of a crate; the bag is empty where it lies in the crate itself.
    Bag {
        crate_: String,
        bag: String,
    },
    /// What the shop saws from a line of stock.
    Sawing(StockId),
}

/// What it is in a thing that changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Aspect {
    /// Outside diameter, wall, thickness; of hardware its diameter, grip, length.
    Size,
    /// Finished length, length supplied.
    Length,
    Material,
    /// Holes, finish and ends as they come.
    Supply,
    /// Crate, bag.
    Place,
    /// How many there are.
    Count,
    /// Which step comes before which.
    Order,
    /// What a step says, where nothing else is said to have changed.
    Words,
}

/// An assumption.
#[derive(Clone, Debug)]
struct Tie {
    on: &'static [Aspect],
    to: ImpactThing,
    /// What changes in `to` when the assumption no longer holds; none where it ends there.
    then: Option<Aspect>,
    why: &'static str,
}

/// The way by which a change reaches a thing.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Reach {
    /// The thing that it rests on.
    pub from: ImpactThing,
    /// What it takes from there: `fits round it`.
    pub why: &'static str,
}

/// All assumptions of a configuration.
#[derive(Debug, Default)]
pub struct Graph {
    ties: BTreeMap<ImpactThing, Vec<Tie>>,
}

const SHAPE: &[Aspect] = &[Aspect::Size, Aspect::Length, Aspect::Material, Aspect::Supply];

impl Graph {
    /// O(steps and their items), each a few ties.
    pub fn of(manual: &Manual, resolved: &Resolved) -> Self {
        let mut graph = Self::default();
        graph.lists(manual, resolved);
        let twins = twins(manual, resolved);
        let mut bolted: BTreeMap<(&Designation, &PartNumber), Vec<ImpactThing>> = BTreeMap::new();
        for s in &resolved.steps {
            for joint in &s.step.joints {
                for member in &joint.stack {
                    let key = (&joint.fastener.value, &member.part.value);
                    bolted.entry(key).or_default().push(ImpactThing::Joint(s.step.id.value.clone(), joint.index));
                }
            }
        }
        for s in &resolved.steps {
            let step = &s.step;
            let id = &step.id.value;
            let twin = twins.get(id).copied();
            step.joints.iter().for_each(|j| graph.joint(id, j, twin));
            graph.cuts(step, twin);
            graph.shaped(step, twin);
            step.holes.iter().for_each(|h| graph.hole(id, h, twin, &bolted));
            for after in &step.after {
                graph.tie(
                    ImpactThing::Step(after.value.value.clone()),
                    &[Aspect::Order],
                    ImpactThing::Step(id.clone()),
                    None,
                    "comes after it",
                );
            }
            // A made step changes with the one it is made from.
            if let Some(twin) = twin.filter(|_| matches!(step.opposite, Opposite::None)) {
                graph.tie(
                    ImpactThing::Step(id.clone()),
                    &[Aspect::Words],
                    ImpactThing::Step(twin.clone()),
                    None,
                    "is its opposite",
                );
            }
        }
        graph
    }

    fn tie(
        &mut self,
        from: ImpactThing,
        on: &'static [Aspect],
        to: ImpactThing,
        then: Option<Aspect>,
        why: &'static str,
    ) {
        self.ties.entry(from).or_default().push(Tie { on, to, then, why });
    }

    /// What rests on the rows of the lists.
    fn lists(&mut self, manual: &Manual, resolved: &Resolved) {
        for (number, account) in &resolved.ledger.parts {
            let Some(part) = manual.parts.get(number).filter(|_| account.listed != 0 || !account.steps.is_empty())
            else {
                continue;
            };
            let here = ImpactThing::Part(number.clone());
            if let Some(stock) = &part.stock {
                let from = ImpactThing::Stock(stock.value.clone());
                self.tie(from.clone(), &[Aspect::Size], here.clone(), Some(Aspect::Size), "is cut from it");
                self.tie(from, &[Aspect::Material], here.clone(), Some(Aspect::Material), "is cut from it");
                if part.cut_length.is_some() || part.blank_length.is_some() {
                    const SAWN: &[Aspect] = &[Aspect::Size, Aspect::Length, Aspect::Material, Aspect::Count];
                    self.tie(here.clone(), SAWN, ImpactThing::Sawing(stock.value.clone()), None, "is sawn from it");
                }
            }
            if let Some(whole) = &part.cut_from {
                let from = ImpactThing::Part(whole.value.clone());
                self.tie(from.clone(), &[Aspect::Size], here.clone(), Some(Aspect::Size), "is cut out of it");
                self.tie(from.clone(), &[Aspect::Material], here.clone(), Some(Aspect::Material), "is cut out of it");
                self.tie(from, &[Aspect::Length], here.clone(), None, "is cut out of its length");
            }
            if let Some(other) = &part.opposite {
                self.tie(here.clone(), SHAPE, ImpactThing::Part(other.value.clone()), None, "is its opposite");
            }
            if account.listed != 0 && !account.piece {
                self.packed(here, &part.crate_, &part.bag);
            }
        }
        for designation in resolved.ledger.hardware.keys() {
            let Some(row) = manual.hardware.get(designation) else { continue };
            self.packed(ImpactThing::Hardware(designation.clone()), &row.crate_, &row.bag);
        }
    }

    fn packed(&mut self, thing: ImpactThing, crate_: &str, bag: &str) {
        if !(crate_.is_empty() && bag.is_empty()) {
            const PACKED: &[Aspect] =
                &[Aspect::Size, Aspect::Length, Aspect::Material, Aspect::Supply, Aspect::Place, Aspect::Count];
            let bag = ImpactThing::Bag { crate_: crate_.to_owned(), bag: bag.to_owned() };
            self.tie(thing, PACKED, bag, None, "lies in it");
        }
    }

    fn joint(&mut self, id: &StepId, joint: &StepItem<Joint>, twin: Option<&StepId>) {
        let here = ImpactThing::Joint(id.clone(), joint.index);
        for member in &joint.stack {
            let from = ImpactThing::Part(member.part.value.clone());
            // A thickness that the author gives rests on nothing.
            if member.thickness.is_none() {
                let on: &[Aspect] = if member.through == Through::Length { &[Aspect::Length] } else { &[Aspect::Size] };
                self.tie(from.clone(), on, here.clone(), Some(Aspect::Size), "is clamped in it");
            }
            self.tie(from, &[Aspect::Material], here.clone(), Some(Aspect::Material), "is clamped in it");
        }
        for pair in joint.stack.windows(2) {
            if let [a, b] = pair
                && a.through == Through::Tube
                && b.through == Through::Tube
            {
                let [a, b] = [a, b].map(|m| ImpactThing::Part(m.part.value.clone()));
                self.tie(a.clone(), &[Aspect::Size], b.clone(), None, "slides into or over it");
                self.tie(b, &[Aspect::Size], a, None, "slides into or over it");
            }
        }
        for item in joint.with_fastener() {
            const ON: &[Aspect] = &[Aspect::Size, Aspect::Material];
            self.tie(ImpactThing::Hardware(item.value.clone()), ON, here.clone(), Some(Aspect::Size), "is used in it");
        }
        self.opposite(here, twin);
    }

    /// The opposite of a step in which something rests on a change is looked at too.
    fn opposite(&mut self, here: ImpactThing, twin: Option<&StepId>) {
        if let Some(twin) = twin {
            self.tie(here, SHAPE, ImpactThing::Step(twin.clone()), None, "is the opposite step");
        }
    }

    fn cuts(&mut self, step: &Step, twin: Option<&StepId>) {
        let id = &step.id.value;
        for cut in &step.cuts {
            let here = ImpactThing::Cut(id.clone(), cut.index);
            const ON: &[Aspect] = &[Aspect::Size, Aspect::Length];
            self.tie(ImpactThing::Part(cut.part.value.clone()), ON, here.clone(), Some(Aspect::Size), "is cut there");
            if let Some(onto) = &cut.onto {
                self.tie(
                    ImpactThing::Part(onto.value.clone()),
                    &[Aspect::Size],
                    here.clone(),
                    Some(Aspect::Size),
                    "fits round it",
                );
            }
            self.opposite(here, twin);
        }
    }

    /// What is bent, pressed flat or made up to a length.
    fn shaped(&mut self, step: &Step, twin: Option<&StepId>) {
        let id = &step.id.value;
        const ON: &[Aspect] = &[Aspect::Size, Aspect::Length, Aspect::Material];
        let bends = step.bends.iter().map(|b| (&b.part, ImpactThing::Bend(id.clone(), b.index), "is bent there"));
        let flats = step
            .flattened
            .iter()
            .map(|f| (&f.part, ImpactThing::Flattened(id.clone(), f.index), "is pressed flat there"));
        let cables = step
            .cables
            .iter()
            .filter_map(|c| Some((c.part.as_ref()?, ImpactThing::Cable(id.clone(), c.index), "is made up there")));
        for (part, here, why) in bends.chain(flats).chain(cables) {
            self.tie(ImpactThing::Part(part.value.clone()), ON, here.clone(), Some(Aspect::Size), why);
            self.opposite(here, twin);
        }
    }

    fn hole(
        &mut self,
        id: &StepId,
        hole: &StepItem<Hole>,
        twin: Option<&StepId>,
        bolted: &BTreeMap<(&Designation, &PartNumber), Vec<ImpactThing>>,
    ) {
        let here = ImpactThing::Hole(id.clone(), hole.index);
        self.tie(
            ImpactThing::Part(hole.part.value.clone()),
            &[Aspect::Supply],
            here.clone(),
            Some(Aspect::Supply),
            "is drilled there",
        );
        if let Some(from) = &hole.from {
            self.tie(
                ImpactThing::Part(from.value.clone()),
                &[Aspect::Supply],
                here.clone(),
                Some(Aspect::Supply),
                "its holes are taken over",
            );
        }
        if let Some(fastener) = &hole.for_ {
            self.tie(
                ImpactThing::Hardware(fastener.value.clone()),
                &[Aspect::Size],
                here.clone(),
                Some(Aspect::Size),
                "passes through it",
            );
            for joint in bolted.get(&(&fastener.value, &hole.part.value)).into_iter().flatten() {
                self.tie(here.clone(), &[Aspect::Supply], joint.clone(), None, "is the hole of it");
            }
        }
        self.opposite(here, twin);
    }

    /// Everything that rests on `seeds`, nearest first, each with the ways that lead to it.
    pub fn follow(&self, seeds: &BTreeSet<(ImpactThing, Aspect)>) -> Vec<(ImpactThing, BTreeSet<Reach>)> {
        let mut open: VecDeque<(ImpactThing, Aspect)> = seeds.iter().cloned().collect();
        let mut seen: BTreeSet<(ImpactThing, Aspect)> = seeds.clone();
        let mut order: Vec<ImpactThing> = Vec::new();
        let mut reached: BTreeMap<ImpactThing, BTreeSet<Reach>> = BTreeMap::new();
        while let Some((thing, aspect)) = open.pop_front() {
            for tie in self.ties.get(&thing).into_iter().flatten().filter(|t| t.on.contains(&aspect)) {
                let ways = reached.entry(tie.to.clone()).or_default();
                if ways.is_empty() {
                    order.push(tie.to.clone());
                }
                ways.insert(Reach { from: thing.clone(), why: tie.why });
                if let Some(then) = tie.then
                    && seen.insert((tie.to.clone(), then))
                {
                    open.push_back((tie.to.clone(), then));
                }
            }
        }
        order
            .into_iter()
            .map(|thing| {
                let ways = reached.remove(&thing).unwrap_or_default();
                (thing, ways)
            })
            .collect()
    }
}

/// Each step of one hand and its opposite: the made one, else the one of the other hand that takes the most opposites
/// of its parts.
fn twins<'a>(manual: &Manual, resolved: &'a Resolved) -> BTreeMap<&'a StepId, &'a StepId> {
    let mut twins = BTreeMap::new();
    let mut takers: BTreeMap<&PartNumber, Vec<&'a Step>> = BTreeMap::new();
    let steps: BTreeMap<&str, &'a StepId> =
        resolved.steps.iter().map(|s| (s.step.id.value.as_str(), &s.step.id.value)).collect();
    for s in &resolved.steps {
        if let Opposite::Of(written) = &s.step.opposite
            && let Some(written) = steps.get(written.as_str())
        {
            twins.insert(&s.step.id.value, *written);
            twins.insert(*written, &s.step.id.value);
        }
        for part in s.step.parts.iter().filter(|p| p.action != PartAction::Use) {
            takers.entry(&part.part.value).or_default().push(&s.step);
        }
    }
    for s in &resolved.steps {
        let (id, Some(hand)) = (&s.step.id.value, s.step.hand) else { continue };
        if twins.contains_key(id) {
            continue;
        }
        let mut score: BTreeMap<&'a StepId, usize> = BTreeMap::new();
        for part in &s.step.parts {
            let other = manual.parts.get(&part.part.value).and_then(|p| p.opposite.as_ref());
            for taker in other.and_then(|o| takers.get(&o.value)).into_iter().flatten() {
                let opposite = |h: Hand| h == hand.value.opposite();
                if taker.hand.is_some_and(|h| opposite(h.value)) && taker.section.value == s.step.section.value {
                    *score.entry(&taker.id.value).or_default() += 1;
                }
            }
        }
        if let Some((other, _)) = score.iter().max_by_key(|(_, n)| **n) {
            twins.insert(id, *other);
        }
    }
    twins
}
