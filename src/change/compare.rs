//! The change between two configurations, whether they differ by release, variant, options or kit.
//!
//! Steps are followed by their ids, items by their names. Numbers of steps do not count: they follow from the order.

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;

use super::entries::{StepEntry, of_page, of_step};
use super::graph::ImpactThing;
use super::impact::reached;
use super::list_rows::{self, ListRow};
use super::normal::{LineMark, SourceLine};
use super::renamed::{Renamed, Renumbered, Split, renamed, renumbered, split, under_new_numbers};
use super::review::{Review, review};
use super::words::{Edit, edits};
use crate::model::{Manual, Step, TubeEnd};
use crate::resolve::{Facts, Resolved, ResolvedStep};
use crate::source::{SourceMap, Spanned};
use crate::units::{PartNumber, Quantity, Rational, StepId};

/// A configuration that is compared.
#[derive(Clone, Copy)]
pub struct Side<'a> {
    /// As it was asked for: `B/ICE`.
    pub name: &'a str,
    pub manual: &'a Manual,
    pub sources: &'a SourceMap,
    pub resolved: &'a Resolved,
    /// The sources in normal form, for the settings.
    pub lines: &'a [SourceLine],
}

/// What became of an item.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ItemChange {
    /// The key of the front matter, or `text`, or `picture`.
    pub field: String,
    /// What names the item; empty for texts and single values.
    pub name: String,
    pub before: Option<String>,
    pub after: Option<String>,
    /// The item's number in the target as documents count it.
    pub index: Option<usize>,
    /// Of what was taken out: the number of what stands in its place in the target.
    pub near: Option<usize>,
}

impl ItemChange {
    /// The words taken out and put in, where the item is there on both sides.
    pub fn words(&self) -> Vec<Edit<String>> {
        let split =
            |t: &Option<String>| t.iter().flat_map(|t| t.split_whitespace()).map(str::to_owned).collect::<Vec<_>>();
        edits(&split(&self.before), &split(&self.after))
    }
}

/// A step, as a list of changes names it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepMark {
    pub id: StepId,
    pub title: String,
    /// Its number in the target, or in the source where it is gone.
    pub number: String,
}

/// A step or page that is there on both sides and says something else.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepChange {
    pub step: StepMark,
    pub items: Vec<ItemChange>,
}

/// A quantity before and after.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quantities {
    pub name: String,
    pub title: String,
    pub before: Option<Quantity>,
    pub after: Option<Quantity>,
}

/// A cut, bend, flattened end, row of holes or cable that is made or made otherwise, and so its template too.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Redo {
    pub step: StepId,
    pub part: PartNumber,
    /// `A`, `B` or `both`; empty where the step does not say it.
    pub end: String,
    /// What is done, in words: `saddle onto SK-100`.
    pub cut: String,
}

/// A change.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Change {
    pub from: String,
    pub to: String,
    pub added: Vec<StepMark>,
    pub removed: Vec<StepMark>,
    /// In another section, or in another place among the steps that both sides have.
    pub moved: Vec<StepMark>,
    pub changed: Vec<StepChange>,
    /// Gone under one id and there under another, nearly the same: offered, not decided.
    pub renamed: Vec<Renamed>,
    /// New steps with what another one had.
    pub split: Vec<Split>,
    /// Parts that are the same under another number; they are not among `parts`.
    pub renumbered: Vec<Renumbered>,
    /// Pages around the steps.
    pub pages: Vec<(String, Vec<ItemChange>)>,
    pub parts: Vec<Quantities>,
    pub hardware: Vec<Quantities>,
    pub part_rows: Vec<ListRow>,
    pub hardware_rows: Vec<ListRow>,
    /// Lines of stock that parts of the target are cut from.
    pub stock_rows: Vec<ListRow>,
    pub redo: Vec<Redo>,
    pub tools_added: Vec<String>,
    pub tools_removed: Vec<String>,
    /// Hours of all steps, before and after, where they differ.
    pub hours: Option<(Rational, Rational)>,
    pub settings: Vec<ItemChange>,
    /// What is otherwise in the kits that are compared as they were shipped, in words. It is counted in the quantities.
    pub shipped: Vec<String>,
    /// Section by section, where two configurations of the same sources are compared and something differs.
    pub review: Option<Review>,
}

impl Change {
    /// Nothing differs.
    pub fn is_empty(&self) -> bool {
        let Self { from, to, shipped, .. } = self;
        *self == Self { from: from.clone(), to: to.clone(), shipped: shipped.clone(), ..Self::default() }
    }
}

/// What `to` has that `from` has not, and the other way round.
pub fn compare(from: &Side, to: &Side) -> Change {
    let (a, b) = rayon::join(|| Steps::of(from), || Steps::of(to));
    let mark = |s: &ResolvedStep| StepMark {
        id: s.step.id.value.clone(),
        title: s.step.title.value.clone(),
        number: s.number.to_string(),
    };
    let gone = |side: &Side, other: &Steps| -> Vec<StepMark> {
        side.resolved.steps.iter().filter(|s| !other.at.contains_key(&s.step.id.value)).map(mark).collect()
    };
    let common: Vec<&ResolvedStep> = to.resolved.steps.iter().filter(|s| a.at.contains_key(&s.step.id.value)).collect();
    let places: Vec<usize> = common.iter().map(|s| a.at[&s.step.id.value]).collect();
    let still = longest_rise(&places);
    let elsewhere = |s: &ResolvedStep| {
        let before = &from.resolved.steps[a.at[&s.step.id.value]];
        before.step.section.value != s.step.section.value
    };
    let moved = common.iter().enumerate().filter(|(i, s)| !still.contains(i) || elsewhere(s)).map(|(_, s)| mark(s));
    let moved = moved.collect();
    let mut changed: Vec<StepChange> = common
        .iter()
        .filter_map(|s| {
            let id = &s.step.id.value;
            let items = items(&a.entries[a.at[id]], &b.entries[b.at[id]]);
            (!items.is_empty()).then(|| StepChange { step: mark(s), items })
        })
        .collect();
    let (added, removed) = (gone(to, &a), gone(from, &b));
    let renamed = renamed(&removed, &added, |id| &a.entries[a.at[id]], |id| &b.entries[b.at[id]]);
    let marks: Vec<StepMark> = changed.iter().map(|c| c.step.clone()).collect();
    let split = split(&added, &marks, |id| &a.entries[a.at[id]], |id| &b.entries[b.at[id]]);
    let split = split.into_iter().filter(|s| !renamed.iter().any(|r| r.to == s.to)).collect();
    let mut parts = quantities(parts(from), parts(to));
    let renumbered = renumbered(&mut parts, from, to);
    changed.iter_mut().for_each(|step| under_new_numbers(&mut step.items, &renumbered));
    let (tools_before, tools_after) = (tools(from), tools(to));
    let hours =
        |side: &Side| -> Rational { side.resolved.steps.iter().filter_map(|s| s.step.hours.map(|h| h.value)).sum() };
    let (hours_before, hours_after) = (hours(from), hours(to));
    let mut change = Change {
        from: from.name.to_owned(),
        to: to.name.to_owned(),
        added,
        removed,
        moved,
        changed,
        renamed,
        split,
        renumbered,
        pages: pages(from, to),
        parts,
        hardware: quantities(hardware(from), hardware(to)),
        part_rows: list_rows::parts(from, to),
        hardware_rows: list_rows::hardware(from, to),
        stock_rows: list_rows::stock(from, to),
        tools_added: tools_after.difference(&tools_before).cloned().collect(),
        tools_removed: tools_before.difference(&tools_after).cloned().collect(),
        hours: (hours_before != hours_after).then_some((hours_before, hours_after)),
        settings: settings(from.lines, to.lines),
        redo: Vec::new(),
        shipped: Vec::new(),
        review: None,
    };
    change.redo = redo(&change, from, to);
    if std::ptr::eq(from.manual, to.manual) && !change.is_empty() {
        change.review = Some(review(&change, from, to));
    }
    change
}

/// Cuts of the target that are new, that are changed, or that rest on a size that changed.
fn redo(change: &Change, from: &Side, to: &Side) -> Vec<Redo> {
    if change.is_empty() {
        return Vec::new();
    }
    let reached: BTreeSet<ImpactThing> = reached(change, from, to).into_iter().map(|(thing, _)| thing).collect();
    let mut redo = Vec::new();
    for s in &to.resolved.steps {
        let id = &s.step.id.value;
        let new = change.added.iter().any(|a| a.id == *id);
        let changed = change.changed.iter().find(|c| c.step.id == *id);
        for (field, index, thing, work) in works(&s.step) {
            let own = changed.is_some_and(|c| c.items.iter().any(|i| i.field == field && i.index == Some(index)));
            if new || own || reached.contains(&thing) {
                redo.push(work);
            }
        }
    }
    redo
}

/// Whatever of a step is set out, cut, bent or drilled by numbers, each with its field and its place there.
fn works(step: &Step) -> Vec<(&'static str, usize, ImpactThing, Redo)> {
    let id = &step.id.value;
    let end = |end: &Option<Spanned<TubeEnd>>| end.as_ref().map_or_else(String::new, |e| e.value.word().to_owned());
    let work = |part: &PartNumber, end: String, cut: String| Redo { step: id.clone(), part: part.clone(), end, cut };
    let mut all = Vec::new();
    for bend in &step.bends {
        let redo = work(&bend.part.value, String::new(), "bends, and its flat pattern".to_owned());
        all.push(("bends", bend.index, ImpactThing::Bend(id.clone(), bend.index), redo));
    }
    for flat in &step.flattened {
        let redo = work(&flat.part.value, end(&flat.end), "flattened".to_owned());
        all.push(("flattened", flat.index, ImpactThing::Flattened(id.clone(), flat.index), redo));
    }
    for cut in &step.cuts {
        let kind = cut.kind.word();
        let words = cut.onto.as_ref().map_or_else(|| kind.to_owned(), |onto| format!("{kind} onto {}", onto.value));
        all.push((
            "cuts",
            cut.index,
            ImpactThing::Cut(id.clone(), cut.index),
            work(&cut.part.value, end(&cut.end), words),
        ));
    }
    for hole in &step.holes {
        let Some(row) = &hole.row else { continue };
        let redo = work(&hole.part.value, row.from.word().to_owned(), "row of holes, and its strip".to_owned());
        all.push(("holes", hole.index, ImpactThing::Hole(id.clone(), hole.index), redo));
    }
    for cable in &step.cables {
        let Some(part) = &cable.part else { continue };
        let redo = work(&part.value, String::new(), format!("cable {}", cable.cable.value));
        all.push(("cables", cable.index, ImpactThing::Cable(id.clone(), cable.index), redo));
    }
    all
}

/// The steps of a side by id, and what they say.
struct Steps<'a> {
    at: BTreeMap<&'a StepId, usize>,
    entries: Vec<Vec<StepEntry>>,
}

impl<'a> Steps<'a> {
    fn of(side: &Side<'a>) -> Self {
        let facts = Facts { settings: &side.manual.settings, configuration: &side.resolved.configuration };
        let steps = &side.resolved.steps;
        let digests = side.lines.iter().filter(|l| l.key == "sha256");
        let pictures: BTreeMap<&str, &str> =
            digests.filter_map(|l| Some((l.file.strip_prefix("figures/")?, l.value.trim_matches('"')))).collect();
        Self {
            at: steps.iter().enumerate().map(|(i, s)| (&s.step.id.value, i)).collect(),
            entries: steps.par_iter().map(|s| of_step(s, side.manual, &facts, &pictures)).collect(),
        }
    }
}

/// Items of the same name are paired in their order; texts by the shortest script.
fn items(from: &[StepEntry], to: &[StepEntry]) -> Vec<ItemChange> {
    if from == to {
        return Vec::new();
    }
    let fields: BTreeSet<&str> = from.iter().chain(to).map(|e| e.field.as_str()).collect();
    let mut changes = Vec::new();
    for field in fields {
        let of = |side: &'_ [StepEntry]| side.iter().filter(|e| e.field == field).cloned().collect::<Vec<_>>();
        let (a, b) = (of(from), of(to));
        let names: BTreeSet<&str> = a.iter().chain(&b).map(|e| e.name.as_str()).collect();
        for name in names {
            let of = |side: &'_ [StepEntry]| side.iter().filter(|e| e.name == name).cloned().collect::<Vec<_>>();
            paired(field, name, &of(&a), &of(&b), &mut changes);
        }
    }
    changes.sort_by(|x, y| (&x.field, x.index, &x.name).cmp(&(&y.field, y.index, &y.name)));
    changes
}

/// What was taken out and what was put in at the same place is one change.
fn paired(field: &str, name: &str, from: &[StepEntry], to: &[StepEntry], changes: &mut Vec<ItemChange>) {
    let values = |side: &[StepEntry]| side.iter().map(|e| e.value.clone()).collect::<Vec<_>>();
    let (mut removed, mut added): (Vec<&StepEntry>, Vec<&StepEntry>) = (Vec::new(), Vec::new());
    let (mut i, mut j) = (0, 0);
    let mut close = |removed: &mut Vec<&StepEntry>, added: &mut Vec<&StepEntry>, j: usize| {
        for at in 0..removed.len().max(added.len()) {
            changes.push(ItemChange {
                field: field.to_owned(),
                name: name.to_owned(),
                before: removed.get(at).map(|e| e.value.clone()),
                after: added.get(at).map(|e| e.value.clone()),
                index: added.get(at).map(|e| e.index),
                near: to.get(j).or(to.last()).map(|e| e.index),
            });
        }
        removed.clear();
        added.clear();
    };
    for edit in edits(&values(from), &values(to)) {
        match edit {
            Edit::Same(_) => {
                close(&mut removed, &mut added, j);
                (i, j) = (i + 1, j + 1);
            }
            Edit::Removed(_) => {
                removed.push(&from[i]);
                i += 1;
            }
            Edit::Added(_) => {
                added.push(&to[j]);
                j += 1;
            }
        }
    }
    close(&mut removed, &mut added, j);
}

fn pages(from: &Side, to: &Side) -> Vec<(String, Vec<ItemChange>)> {
    let of = |side: &Side| {
        let mut pages: BTreeMap<&'static str, Vec<StepEntry>> = BTreeMap::new();
        for page in &side.resolved.pages {
            pages.entry(page.kind.word()).or_default().extend(of_page(page));
        }
        pages
    };
    let (a, b) = (of(from), of(to));
    let kinds: BTreeSet<_> = a.keys().chain(b.keys()).copied().collect();
    let none = Vec::new();
    kinds
        .into_iter()
        .map(|k| (k.to_owned(), items(a.get(k).unwrap_or(&none), b.get(k).unwrap_or(&none))))
        .filter(|(_, items)| !items.is_empty())
        .collect()
}

type CountedNames = BTreeMap<String, (Quantity, String)>;

fn parts(side: &Side) -> CountedNames {
    let title = |n| side.manual.parts.get(n).map_or_else(String::new, |p| p.name.clone());
    side.resolved.listed.iter().map(|(n, l)| (n.to_string(), (Quantity::each(l.count), title(n)))).collect()
}

fn hardware(side: &Side) -> CountedNames {
    let title = |n| side.manual.hardware.get(n).map_or_else(String::new, |h| h.name.clone());
    side.resolved.ledger.hardware.iter().map(|(n, a)| (n.to_string(), (a.need, title(n)))).collect()
}

fn quantities(from: CountedNames, to: CountedNames) -> Vec<Quantities> {
    let names: BTreeSet<&String> = from.keys().chain(to.keys()).collect();
    let changed = names.into_iter().filter_map(|name| {
        let (before, after) = (from.get(name), to.get(name));
        let title = after.or(before).map_or_else(String::new, |q| q.1.clone());
        let (before, after) = (before.map(|q| q.0), after.map(|q| q.0));
        (before != after).then(|| Quantities { name: name.clone(), title, before, after })
    });
    changed.collect()
}

fn tools(side: &Side) -> BTreeSet<String> {
    let titles = &side.manual.settings.tools;
    let all = side.resolved.steps.iter().flat_map(|s| &s.step.tools);
    all.map(|t| titles.get(&t.value.value).map_or(t.value.as_str(), |x| x.value.as_str()).to_owned()).collect()
}

/// Settings that stand in documents. What a configuration is made of shows in its steps and quantities.
fn is_setting(line: &SourceLine) -> bool {
    const ELSEWHERE: [&str; 9] = [
        "variants",
        "options",
        "option-groups",
        "configurations",
        "serial",
        "accept",
        "levels",
        "tools",
        "consumables",
    ];
    line.file == "manual.yaml" && !ELSEWHERE.contains(&line.key.as_str())
}

fn settings(from: &[SourceLine], to: &[SourceLine]) -> Vec<ItemChange> {
    let of = |lines: &[SourceLine]| -> Vec<StepEntry> {
        let settings = lines.iter().filter(|l| is_setting(l));
        settings
            .enumerate()
            .map(|(index, l)| {
                let plain =
                    (l.mark == LineMark::Value).then(|| serde_json::from_str::<String>(&l.value).ok()).flatten();
                let value = plain.unwrap_or_else(|| l.value.clone());
                StepEntry { field: l.key.clone(), name: String::new(), value, index }
            })
            .collect()
    };
    items(&of(from), &of(to))
}

/// The places of a longest rising run. O(n log n).
fn longest_rise(values: &[usize]) -> BTreeSet<usize> {
    let mut ends: Vec<usize> = Vec::new();
    let mut before: Vec<Option<usize>> = Vec::with_capacity(values.len());
    for (i, value) in values.iter().enumerate() {
        let at = ends.partition_point(|&e| values[e] < *value);
        before.push(at.checked_sub(1).map(|at| ends[at]));
        if at == ends.len() {
            ends.push(i);
        } else {
            ends[at] = i;
        }
    }
    let mut run = BTreeSet::new();
    let mut next = ends.last().copied();
    while let Some(i) = next {
        run.insert(i);
        next = before[i];
    }
    run
}
