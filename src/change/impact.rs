//! What the sources as they are change against the last release, and what rests on that elsewhere.
//!
//! Owns: gathering the changes of all configurations, following them through the graph of each, and what that means
//! for documents, lists and kits. Must not know: how it is shown.

use std::collections::BTreeSet;

use super::compare::{Change, Side, StepMark, compare};
use super::graph::{Aspect, Graph, ImpactThing, Reach};
use crate::joint::{Items, read};
use crate::model::{Kit, Manual};
use crate::resolve::{Resolved, parse_configuration};
use crate::units::{Designation, Length, PartNumber, StepId, StockId};

/// A configuration on both sides, and what changed in it.
pub struct Pair<'a> {
    pub before: Side<'a>,
    pub after: Side<'a>,
    pub change: Change,
}

impl<'a> Pair<'a> {
    pub fn new(before: Side<'a>, after: Side<'a>) -> Self {
        let change = compare(&before, &after);
        Self { before, after, change }
    }
}

/// The names of configurations, in the order in which they were asked.
pub type Where = Vec<String>;

/// Something that the author changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Noted {
    /// `step`, `part`, `hardware`, `stock`, `page`, `setting`.
    pub kind: &'static str,
    pub name: String,
    pub title: String,
    pub what: String,
    pub configurations: Where,
    /// Configurations that have it too and where it stays as it was.
    pub unchanged: Where,
}

/// Something that the author did not change and that rests on a change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Touched {
    pub thing: ImpactThing,
    pub title: String,
    pub reasons: BTreeSet<Reach>,
    /// What can be said of it in values: a stack before and after, and whether the bolt still fits.
    pub detail: Option<JointImpact>,
    pub configurations: Where,
}

/// A joint that clamps something else than before.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JointImpact {
    pub fastener: Designation,
    pub places: i64,
    /// Thickness of the stack, before and after, where known.
    pub stack: (Option<Length>, Option<Length>),
    /// Whether the bolt still fits; none where that can't be told.
    pub fits: Option<bool>,
}

/// What the shop does again for the kits of a configuration.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ShopWork {
    pub configuration: String,
    /// Crates and bags to pack anew.
    pub bags: Vec<(String, String)>,
    /// Lines of stock to saw anew.
    pub sawing: Vec<StockId>,
}

/// The documents of a configuration that come out otherwise.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Documents {
    pub configuration: String,
    pub made: Vec<MadeDocument>,
    /// Steps that only have another place.
    pub moved: Vec<StepId>,
    /// The settings by which the head and the look of every page come out otherwise.
    pub settings: Vec<String>,
}

/// A document that comes out otherwise.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct MadeDocument {
    /// The name of its file or folder.
    pub name: String,
    /// Steps whose pages or cards differ, new and dropped ones included.
    pub steps: Vec<StepId>,
    /// The titles of other pages.
    pub pages: Vec<String>,
}

impl Documents {
    /// The steps whose pages differ in a document.
    pub fn steps_of(&self, document: &str) -> &[StepId] {
        self.made.iter().find(|d| d.name == document).map_or(&[], |d| &d.steps)
    }
}

/// A kit of the register whose configuration changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KitTouched {
    pub serial: u32,
    pub configuration: String,
    pub release: Option<String>,
    pub status: Option<String>,
}

/// What the sources as they are change.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Impact {
    /// The letter of the release that they are held against.
    pub since: String,
    pub changes: Vec<Noted>,
    pub touched: Vec<Touched>,
    pub work: Vec<ShopWork>,
    /// Told from what is printed, and not from what was written.
    pub documents: Vec<Documents>,
    pub kits: Vec<KitTouched>,
    /// Configurations that were not in the release, and those that are no more.
    pub new: Where,
    pub gone: Where,
}

impl Impact {
    /// Nothing differs.
    pub fn is_empty(&self) -> bool {
        self.changes.is_empty() && self.documents.is_empty() && self.new.is_empty() && self.gone.is_empty()
    }
}

/// What `pairs` change, each pair a configuration before and after, without the documents and the kits. `since` is the
/// letter of the release before.
pub fn impact(since: &str, pairs: &[Pair]) -> Impact {
    let mut impact = Impact { since: since.to_owned(), ..Impact::default() };
    let mut noted: Vec<(Noted, Vec<String>)> = Vec::new();
    let mut touched: Vec<Touched> = Vec::new();
    for pair in pairs {
        let change = &pair.change;
        if change.is_empty() {
            continue;
        }
        let name = &pair.after.resolved.name;
        for note in notes(change) {
            match noted.iter_mut().find(|(n, _)| (n.kind, &n.name, &n.what) == (note.kind, &note.name, &note.what)) {
                Some((_, here)) => here.push(name.clone()),
                None => noted.push((note, vec![name.clone()])),
            }
        }
        let reached = reached(change, &pair.before, &pair.after);
        let changed = directly(change, pair.after.resolved);
        for (thing, reasons) in &reached {
            // A step in which something is named anyway is not named once more.
            let named = |id: &StepId| {
                reached.iter().any(|(t, _)| matches!(t, ImpactThing::Joint(i, _) | ImpactThing::Cut(i, _) | ImpactThing::Hole(i, _) | ImpactThing::Bend(i, _) | ImpactThing::Flattened(i, _) | ImpactThing::Cable(i, _) if i == id))
            };
            let skip = match thing {
                ImpactThing::Bag { .. } | ImpactThing::Sawing(_) => true,
                ImpactThing::Step(id) => named(id),
                _ => false,
            };
            if skip || changed.contains(thing) {
                continue;
            }
            let found = self::touched(thing, reasons, pair);
            match touched
                .iter_mut()
                .find(|t| t.thing == found.thing && t.detail == found.detail && t.reasons == found.reasons)
            {
                Some(t) => t.configurations.push(name.clone()),
                None => touched.push(Touched { configurations: vec![name.clone()], ..found }),
            }
        }
        impact.work.extend(work(name, &reached));
    }
    impact.changes = noted
        .into_iter()
        .map(|(note, configurations)| {
            let unchanged = pairs
                .iter()
                .filter(|p| !configurations.contains(&p.after.resolved.name) && has(p.after.resolved, &note))
                .map(|p| p.after.resolved.name.clone())
                .collect();
            Noted { configurations, unchanged, ..note }
        })
        .collect();
    touched.sort_by(|a, b| a.thing.cmp(&b.thing));
    impact.touched = touched;
    impact
}

/// The kits of a register that a change concerns: those whose documents come out otherwise, and those for which the shop
/// would saw or pack otherwise now. `of` gives the name of the configuration that a kit's documents are made of.
pub fn kits_touched(manual: &Manual, impact: &Impact, of: impl Fn(&Kit) -> Option<String>) -> Vec<KitTouched> {
    let mut names: BTreeSet<&str> = impact.documents.iter().map(|d| d.configuration.as_str()).collect();
    names.extend(impact.work.iter().map(|w| w.configuration.as_str()));
    let changes = |kit: &&Kit| of(kit).is_some_and(|name| names.contains(name.as_str()));
    // By what the register means: `LONG + brake`, the options in any order.
    let kits = manual.kits.iter().filter(changes).filter_map(|k| {
        Some((k, parse_configuration(&manual.settings, &k.configuration.value).ok()?.name(&manual.settings)))
    });
    kits.map(|(k, configuration)| KitTouched {
        serial: k.serial.value,
        configuration,
        release: k.release.as_ref().map(|r| r.value.clone()),
        status: k.status.as_ref().map(|s| s.value.clone()),
    })
    .collect()
}

/// Whether a configuration has the thing that a note is about.
fn has(resolved: &Resolved, note: &Noted) -> bool {
    match note.kind {
        "step" => resolved.steps.iter().any(|s| s.step.id.value.as_str() == note.name),
        "part" => resolved.listed.contains_key(&PartNumber::new(&note.name)),
        "hardware" => resolved.ledger.hardware.contains_key(&Designation::new(&note.name)),
        _ => false,
    }
}

/// The changes of a configuration, one a thing.
fn notes(change: &Change) -> Vec<Noted> {
    let note = |kind, name: &str, title: &str, what: String| Noted {
        kind,
        name: name.to_owned(),
        title: title.to_owned(),
        what,
        configurations: Vec::new(),
        unchanged: Vec::new(),
    };
    let mut notes = Vec::new();
    for (steps, what) in [(&change.added, "new"), (&change.removed, "removed"), (&change.moved, "in another place")] {
        let split = |s: &StepMark| change.split.iter().any(|x| x.to == *s);
        notes
            .extend(steps.iter().filter(|s| !split(s)).map(|s| note("step", s.id.as_str(), &s.title, what.to_owned())));
    }
    notes.extend(
        change
            .split
            .iter()
            .map(|s| note("step", s.to.id.as_str(), &s.to.title, format!("split off from {}", s.from.id))),
    );
    notes.extend(
        change.renumbered.iter().map(|r| note("part", &r.to, &r.title, format!("renumbered, it was {}", r.from))),
    );
    for changed in &change.changed {
        let mut fields: Vec<&str> = changed.items.iter().map(|i| i.field.as_str()).collect();
        fields.dedup();
        notes.push(note(
            "step",
            changed.step.id.as_str(),
            &changed.step.title,
            format!("changed: {}", fields.join(", ")),
        ));
    }
    let quantity = |q: Option<crate::units::Quantity>| q.map_or_else(|| "none".to_owned(), |q| q.to_string());
    for (kind, list) in [("part", &change.parts), ("hardware", &change.hardware)] {
        let words = |q: &super::Quantities| format!("{} becomes {}", quantity(q.before), quantity(q.after));
        notes.extend(list.iter().map(|q| note(kind, &q.name, &q.title, words(q))));
    }
    for (kind, rows) in
        [("part", &change.part_rows), ("hardware", &change.hardware_rows), ("stock", &change.stock_rows)]
    {
        notes.extend(rows.iter().map(|r| note(kind, &r.name, "", super::report::row_words(r))));
    }
    notes.extend(change.pages.iter().map(|(page, _)| note("page", page, "", "changed".to_owned())));
    let mut settings: Vec<_> = change.settings.iter().map(|s| s.field.as_str()).collect();
    settings.dedup();
    notes.extend(settings.into_iter().map(|s| note("setting", s, "", "changed".to_owned())));
    notes
}

/// Columns of the lists and what they are of a thing; others say nothing that anything rests on.
const COLUMNS: [(&str, Aspect); 21] = [
    ("stock", Aspect::Size),
    ("outside diameter", Aspect::Size),
    ("wall", Aspect::Size),
    ("shape", Aspect::Size),
    ("diameter", Aspect::Size),
    ("length", Aspect::Size),
    ("grip", Aspect::Size),
    ("least grip", Aspect::Size),
    ("thickness", Aspect::Size),
    ("height", Aspect::Size),
    ("thread", Aspect::Size),
    ("hole", Aspect::Size),
    ("cut length", Aspect::Length),
    ("blank length", Aspect::Length),
    ("cut from", Aspect::Length),
    ("material", Aspect::Material),
    ("as supplied", Aspect::Supply),
    ("holes", Aspect::Supply),
    ("finish", Aspect::Supply),
    ("bag", Aspect::Place),
    ("crate", Aspect::Place),
];

/// Where a change begins: things with what changes in them.
fn seeds(change: &Change) -> BTreeSet<(ImpactThing, Aspect)> {
    let mut seeds = BTreeSet::new();
    let part = |name: &str| ImpactThing::Part(PartNumber::new(name));
    let hardware = |name: &str| ImpactThing::Hardware(Designation::new(name));
    let stock = |name: &str| ImpactThing::Stock(StockId::new(name));
    let rows = change.part_rows.iter().map(|r| (part(&r.name), r));
    let rows = rows.chain(change.hardware_rows.iter().map(|r| (hardware(&r.name), r)));
    for (thing, row) in rows.chain(change.stock_rows.iter().map(|r| (stock(&r.name), r))) {
        for (column, ..) in &row.cells {
            seeds.extend(COLUMNS.iter().filter(|(c, _)| c == column).map(|(_, aspect)| (thing.clone(), *aspect)));
        }
    }
    seeds.extend(change.parts.iter().map(|q| (part(&q.name), Aspect::Count)));
    // Its bag is labelled anew.
    seeds.extend(change.renumbered.iter().flat_map(|r| [&r.from, &r.to]).map(|name| (part(name), Aspect::Count)));
    seeds.extend(change.hardware.iter().map(|q| (hardware(&q.name), Aspect::Count)));
    seeds.extend(change.removed.iter().chain(&change.moved).map(|s| (ImpactThing::Step(s.id.clone()), Aspect::Order)));
    for changed in &change.changed {
        let id = &changed.step.id;
        seeds.insert((ImpactThing::Step(id.clone()), Aspect::Words));
        for item in &changed.items {
            let Some(index) = item.index else { continue };
            match item.field.as_str() {
                "joints" => seeds.insert((ImpactThing::Joint(id.clone(), index), Aspect::Size)),
                "cuts" => seeds.insert((ImpactThing::Cut(id.clone(), index), Aspect::Size)),
                "bends" => seeds.insert((ImpactThing::Bend(id.clone(), index), Aspect::Size)),
                "flattened" => seeds.insert((ImpactThing::Flattened(id.clone(), index), Aspect::Size)),
                "cables" => seeds.insert((ImpactThing::Cable(id.clone(), index), Aspect::Size)),
                "holes" => seeds.insert((ImpactThing::Hole(id.clone(), index), Aspect::Supply)),
                _ => false,
            };
        }
    }
    seeds
}

/// What depends on a change, in the target; of what was removed, what depended on it and is still there.
pub(super) fn reached(change: &Change, before: &Side, after: &Side) -> Vec<(ImpactThing, BTreeSet<Reach>)> {
    let seeds = seeds(change);
    let mut reached = Graph::of(after.manual, after.resolved).follow(&seeds);
    // In the source: who waited for a step that is gone, and where a thing lay or what it was sawn from before.
    let gone = change.removed.iter().map(|s| (ImpactThing::Step(s.id.clone()), Aspect::Order));
    let gone: BTreeSet<_> = gone.chain(seeds.into_iter().filter(|s| !matches!(s.0, ImpactThing::Step(_)))).collect();
    if gone.is_empty() {
        return reached;
    }
    for (thing, ways) in Graph::of(before.manual, before.resolved).follow(&gone) {
        let ways: BTreeSet<Reach> = match &thing {
            ImpactThing::Bag { .. } | ImpactThing::Sawing(_) => ways,
            ImpactThing::Step(id) if after.resolved.step(id).is_some() => ways
                .into_iter()
                .filter(|w| change.removed.iter().any(|s| w.from == ImpactThing::Step(s.id.clone())))
                .collect(),
            _ => continue,
        };
        match reached.iter_mut().find(|(t, _)| *t == thing) {
            Some((_, all)) => all.extend(ways),
            None if !ways.is_empty() => reached.push((thing, ways)),
            None => {}
        }
    }
    reached
}

/// What the author has changed himself: it is told as a change and not as touched.
fn directly(change: &Change, after: &Resolved) -> BTreeSet<ImpactThing> {
    let mut all: BTreeSet<ImpactThing> = seeds(change).into_iter().map(|(thing, _)| thing).collect();
    for added in &change.added {
        all.insert(ImpactThing::Step(added.id.clone()));
        let Some(s) = after.step(&added.id) else { continue };
        all.extend(s.step.joints.iter().map(|j| ImpactThing::Joint(added.id.clone(), j.index)));
        all.extend(s.step.cuts.iter().map(|c| ImpactThing::Cut(added.id.clone(), c.index)));
        all.extend(s.step.holes.iter().map(|h| ImpactThing::Hole(added.id.clone(), h.index)));
        all.extend(s.step.bends.iter().map(|b| ImpactThing::Bend(added.id.clone(), b.index)));
        all.extend(s.step.flattened.iter().map(|f| ImpactThing::Flattened(added.id.clone(), f.index)));
        all.extend(s.step.cables.iter().map(|c| ImpactThing::Cable(added.id.clone(), c.index)));
    }
    all
}

fn touched(thing: &ImpactThing, reasons: &BTreeSet<Reach>, pair: &Pair) -> Touched {
    let manual = pair.after.manual;
    let step_title =
        |id: &StepId| pair.after.resolved.step(id).map_or_else(String::new, |s| s.step.title.value.clone());
    let title = match thing {
        ImpactThing::Part(n) => manual.parts.get(n).map_or_else(String::new, |p| p.name.clone()),
        ImpactThing::Hardware(d) => manual.hardware.get(d).map_or_else(String::new, |h| h.name.clone()),
        ImpactThing::Step(id)
        | ImpactThing::Joint(id, _)
        | ImpactThing::Cut(id, _)
        | ImpactThing::Hole(id, _)
        | ImpactThing::Bend(id, _)
        | ImpactThing::Flattened(id, _)
        | ImpactThing::Cable(id, _) => step_title(id),
        _ => String::new(),
    };
    let detail = match thing {
        ImpactThing::Joint(id, index) => detail(id, *index, pair),
        _ => None,
    };
    Touched { thing: thing.clone(), title, reasons: reasons.clone(), detail, configurations: Vec::new() }
}

fn detail(id: &StepId, index: usize, pair: &Pair) -> Option<JointImpact> {
    let joint = |side: &Side| -> Option<(Designation, i64, Option<Length>, Option<bool>)> {
        let joint = side.resolved.step(id)?.step.joints.iter().find(|j| j.index == index)?;
        // Items of one joint only: the whole list is not needed to judge it.
        let reading = read(side.manual, &Items::of_joint(side.manual, joint), joint);
        let fits = reading.fit.as_ref().map(|fit| fit.as_ref().is_ok_and(|f| f.faults.is_empty()));
        Some((joint.fastener.value.clone(), joint.places, reading.thickness.map(|t| t.value), fits))
    };
    let (fastener, places, after, fits) = joint(&pair.after)?;
    let before = joint(&pair.before).and_then(|j| j.2);
    Some(JointImpact { fastener, places, stack: (before, after), fits })
}

/// Crates, bags and stock that a change reaches; none where it reaches none.
fn work(configuration: &str, reached: &[(ImpactThing, BTreeSet<Reach>)]) -> Option<ShopWork> {
    let mut work = ShopWork { configuration: configuration.to_owned(), ..ShopWork::default() };
    for (thing, _) in reached {
        match thing {
            ImpactThing::Bag { crate_, bag } => work.bags.push((crate_.clone(), bag.clone())),
            ImpactThing::Sawing(stock) => work.sawing.push(stock.clone()),
            _ => {}
        }
    }
    work.bags.sort();
    work.sawing.sort();
    (!(work.bags.is_empty() && work.sawing.is_empty())).then_some(work)
}
