//! What the sources as they are change against the last release, and what rests on that elsewhere.
//!
//! Owns: gathering the changes of all configurations, following them through the graph of each, and what that means
//! for documents, lists and kits. Must not know: how it is shown.

use std::collections::{BTreeMap, BTreeSet};

use super::compare::{Change, Side, compare};
use super::graph::{Aspect, Graph, ImpactThing, Reach};
use crate::joint::{Items, read};
use crate::model::{Kit, Manual};
use crate::resolve::{Resolved, parse_configuration};
use crate::units::{Designation, Length, PartNumber, StepId, StockId};

/// A configuration on both sides.
pub struct Pair<'a> {
    pub before: Side<'a>,
    pub after: Side<'a>,
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

/// The documents of a configuration that come out otherwise.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Documents {
    pub configuration: String,
    /// Steps whose pages differ, new and dropped ones included.
    pub pages: Vec<StepId>,
    /// Steps that only have another place.
    pub moved: Vec<StepId>,
    /// Pages around the steps.
    pub texts: Vec<String>,
    pub pick_lists: Vec<StepId>,
    pub templates: Vec<PartNumber>,
    /// Joints whose line in the register differs, by step and number.
    pub joints: Vec<(StepId, usize)>,
    /// Crates and bags to pack anew.
    pub bags: Vec<(String, String)>,
    /// Lines of stock to saw anew.
    pub sawing: Vec<StockId>,
    /// The parts list, the hardware list.
    pub lists: Vec<&'static str>,
    /// What every page shows.
    pub settings: Vec<String>,
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

/// What `pairs` change, each pair a configuration before and after. `since` is the letter of the release before.
pub fn impact(since: &str, pairs: &[Pair]) -> Impact {
    let mut impact = Impact { since: since.to_owned(), ..Impact::default() };
    let mut noted: Vec<(Noted, Vec<String>)> = Vec::new();
    let mut touched: Vec<Touched> = Vec::new();
    for pair in pairs {
        let change = compare(&pair.before, &pair.after);
        if change.is_empty() {
            continue;
        }
        let name = &pair.after.resolved.name;
        for note in notes(&change) {
            match noted.iter_mut().find(|(n, _)| (n.kind, &n.name, &n.what) == (note.kind, &note.name, &note.what)) {
                Some((_, here)) => here.push(name.clone()),
                None => noted.push((note, vec![name.clone()])),
            }
        }
        let reached = reached(&change, &pair.before, &pair.after);
        let changed = directly(&change, pair.after.resolved);
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
        impact.documents.push(documents(&change, &reached, pair));
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

/// The kits of a register whose documents are among those that change; `of` gives the name of the configuration that a
/// kit's documents are made of.
pub fn kits_touched(manual: &Manual, documents: &[Documents], of: impl Fn(&Kit) -> Option<String>) -> Vec<KitTouched> {
    let changes = |kit: &&Kit| of(kit).is_some_and(|name| documents.iter().any(|d| d.configuration == name));
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
        notes.extend(steps.iter().map(|s| note("step", s.id.as_str(), &s.title, what.to_owned())));
    }
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

fn documents(change: &Change, reached: &[(ImpactThing, BTreeSet<Reach>)], pair: &Pair) -> Documents {
    let (before, after) = (pair.before.resolved, pair.after.resolved);
    let mut documents = Documents { configuration: after.name.clone(), ..Documents::default() };
    let gone = before.steps.iter().enumerate().map(|(i, s)| (&s.step.id.value, after.steps.len() + i));
    let order: BTreeMap<&StepId, usize> =
        gone.chain(after.steps.iter().enumerate().map(|(i, s)| (&s.step.id.value, i))).collect();
    let sorted = |set: BTreeSet<StepId>| {
        let mut list: Vec<StepId> = set.into_iter().collect();
        list.sort_by_key(|id| order.get(id).copied());
        list
    };
    let marks = change.added.iter().chain(&change.removed).chain(change.changed.iter().map(|c| &c.step));
    let mut pages: BTreeSet<StepId> = marks.map(|s| s.id.clone()).collect();
    let shown = |rows: &[super::ListRow]| -> BTreeSet<String> {
        let shows = |r: &&super::ListRow| r.cells.iter().any(|(c, ..)| super::SHOWN_COLUMNS.contains(&c.as_str()));
        rows.iter().filter(shows).map(|r| r.name.clone()).collect()
    };
    let (part_rows, hardware_rows) = (shown(&change.part_rows), shown(&change.hardware_rows));
    let old_pulls = pulls(before);
    let new_pulls = pulls(after);
    for s in &after.steps {
        let id = &s.step.id.value;
        let part = s.step.parts.iter().any(|p| part_rows.contains(p.part.as_str()));
        let hardware = s.hardware.iter().any(|h| hardware_rows.contains(h.designation.as_str()));
        if part || hardware {
            pages.insert(id.clone());
        }
        let new = change.added.iter().any(|a| a.id == *id);
        let changed = change.changed.iter().find(|c| c.step.id == *id);
        for joint in &s.step.joints {
            let own =
                changed.is_some_and(|c| c.items.iter().any(|i| i.field == "joints" && i.index == Some(joint.index)));
            let thing = ImpactThing::Joint(id.clone(), joint.index);
            if new || own || reached.iter().any(|(t, _)| *t == thing) {
                documents.joints.push((id.clone(), joint.index));
            }
        }
    }
    let places = |rows: &[super::ListRow]| -> BTreeSet<String> {
        let moves = |r: &&super::ListRow| {
            r.cells.iter().any(|(c, ..)| matches!(c.as_str(), "bin" | "bag" | "crate" | "name" | "hand"))
        };
        rows.iter().filter(moves).map(|r| r.name.clone()).collect()
    };
    let moved: BTreeSet<String> = places(&change.part_rows).into_iter().chain(places(&change.hardware_rows)).collect();
    let none = BTreeMap::new();
    let pick_lists = old_pulls.keys().chain(new_pulls.keys()).filter(|id| {
        let (a, b) = (old_pulls.get(*id).unwrap_or(&none), new_pulls.get(*id).unwrap_or(&none));
        a != b || b.keys().any(|name| moved.contains(*name))
    });
    documents.pick_lists = sorted(pick_lists.map(|id| (*id).clone()).collect());
    documents.pages = sorted(pages);
    documents.moved = change.moved.iter().map(|s| s.id.clone()).filter(|id| !documents.pages.contains(id)).collect();
    documents.templates = change.redo.iter().map(|r| r.part.clone()).collect::<BTreeSet<_>>().into_iter().collect();
    for (thing, _) in reached {
        match thing {
            ImpactThing::Bag { crate_, bag } => documents.bags.push((crate_.clone(), bag.clone())),
            ImpactThing::Sawing(stock) => documents.sawing.push(stock.clone()),
            _ => {}
        }
    }
    documents.bags.sort();
    documents.sawing.sort();
    documents.texts = change.pages.iter().map(|(page, _)| page.clone()).collect();
    if !(change.parts.is_empty() && part_rows.is_empty()) {
        documents.lists.push("parts list");
    }
    if !(change.hardware.is_empty() && hardware_rows.is_empty()) {
        documents.lists.push("hardware list");
    }
    documents.settings = change.settings.iter().map(|s| s.field.clone()).collect();
    documents.settings.dedup();
    documents
}

/// What each step pulls, by name.
fn pulls(resolved: &Resolved) -> BTreeMap<&StepId, BTreeMap<&str, String>> {
    let mut pulls: BTreeMap<&StepId, BTreeMap<&str, String>> = BTreeMap::new();
    for (number, account) in resolved.ledger.parts.iter().filter(|(_, a)| !a.piece) {
        for pull in &account.pulled {
            let entry = pulls.entry(&pull.step).or_default().entry(number.as_str()).or_default();
            entry.push_str(&format!("{} ", pull.count));
        }
    }
    for (designation, account) in &resolved.ledger.hardware {
        for (step, _, quantity) in &account.taken {
            let entry = pulls.entry(step).or_default().entry(designation.as_str()).or_default();
            entry.push_str(&format!("{quantity} "));
        }
    }
    pulls
}
