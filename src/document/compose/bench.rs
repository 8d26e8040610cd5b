//! What the pages at the bench need beside the words.

use std::collections::BTreeMap;

use super::pick_rows;
use crate::document::bench::{Bench, BenchThing, CureTimes, Limits, ThingKind};
use crate::model::{Cure, CureState, Manual, MeasureUse};
use crate::plan::bonds;
use crate::resolve::Resolved;
use crate::trade;
use crate::units::{
    ConsumableId, Designation, Measure, PartNumber, Period, Quantity, StepId, Temperature, natural_cmp,
};

/// The data of a configuration's pages.
pub fn bench(manual: &Manual, resolved: &Resolved) -> Bench {
    let mut limits = BTreeMap::new();
    for s in &resolved.steps {
        for m in &s.step.measures {
            limits.insert((s.step.id.value.clone(), m.index), limits_of(&m.value));
        }
    }
    let cures = cures(manual, resolved);
    let order: Order = resolved.steps.iter().enumerate().map(|(at, s)| (&s.step.id.value, at)).collect();
    let mut things = parts(manual, resolved, &order);
    things.extend(hardware(manual, resolved, &order));
    things.extend(extra(manual, resolved));
    things.extend(equipment(manual, resolved));
    let waits = resolved.waits.iter().flat_map(|(step, waits)| waits.iter().map(|w| (step.clone(), w.item.clone())));
    Bench {
        picks: pick_rows(manual, resolved),
        things,
        limits,
        cures,
        owed: waits.collect(),
        beginnings: super::beginnings::beginnings(resolved),
        everyday: super::everyday::everyday(&manual.settings.everyday_words),
    }
}

/// The times of what is glued and of what is waited for.
fn cures(manual: &Manual, resolved: &Resolved) -> BTreeMap<(StepId, &'static str, usize), CureTimes> {
    let mut all = BTreeMap::new();
    let glued = bonds(resolved);
    let times = |adhesive: &ConsumableId, states: &[CureState]| {
        let adhesive = manual.settings.adhesives.get(adhesive)?;
        let minutes = |cure: &Cure| states.iter().map(|to| cure.time(*to).map(Period::minutes_up)).collect();
        Some(CureTimes {
            least: adhesive.least.map(Temperature::as_celsius),
            times: adhesive.cures.iter().map(|cure| (cure.at.as_celsius(), minutes(cure))).collect(),
        })
    };
    for s in &resolved.steps {
        let id = &s.step.id.value;
        for bond in &s.step.bonds {
            let known = times(&bond.adhesive.value, &[CureState::Handling, CureState::Full]);
            all.insert((id.clone(), "bonds", bond.index), known.unwrap_or_default());
        }
        for wait in &s.step.cured {
            let bond = glued.get(wait.bond.value.as_str());
            let known = bond.and_then(|g| times(&g.item.adhesive.value, &[wait.to]));
            all.insert((id.clone(), "cured", wait.index), known.unwrap_or_default());
        }
    }
    all
}

fn limits_of(m: &MeasureUse) -> Limits {
    let value = |v: &Option<crate::source::Spanned<Measure>>| v.as_ref().map(|v| v.value);
    let (target, tolerance) = (value(&m.target), value(&m.tolerance));
    match (target, tolerance) {
        (Some(t), Some(tolerance)) => Limits {
            low: Some(Measure { value: t.value - tolerance.value, unit: t.unit }),
            high: Some(Measure { value: t.value + tolerance.value, unit: t.unit }),
            target,
        },
        _ => Limits { low: value(&m.min), high: value(&m.max), target },
    }
}

/// Where each step stands in the work.
type Order<'a> = BTreeMap<&'a StepId, usize>;

/// Steps in the order of the work, each once.
fn in_order(order: &Order, ids: &[StepId]) -> Vec<StepId> {
    let mut places: Vec<(usize, &StepId)> = ids.iter().filter_map(|id| Some((*order.get(id)?, id))).collect();
    places.sort_unstable();
    places.dedup();
    places.into_iter().map(|(_, id)| id.clone()).collect()
}

/// What is needed, without what is on back order and with what came in addition.
fn in_its_bag(resolved: &Resolved, item: &str, needed: Quantity) -> Quantity {
    resolved.counts.get(item).map_or(needed, |count| count.in_its_bag())
}

/// What came in addition and no step uses.
fn extra(manual: &Manual, resolved: &Resolved) -> Vec<BenchThing> {
    let is_extra = |name: &str| {
        !resolved.ledger.parts.contains_key(&PartNumber::new(name))
            && !resolved.ledger.hardware.contains_key(&Designation::new(name))
    };
    let mut things = Vec::new();
    for (name, count) in resolved.counts.iter().filter(|(name, _)| is_extra(name)) {
        let part = manual.parts.get(&PartNumber::new(name));
        let row = manual.hardware.get(&Designation::new(name)).filter(|_| part.is_none());
        let get = |a: Option<&String>, b: Option<&String>| a.or(b).cloned().unwrap_or_default();
        things.push(BenchThing {
            kind: if part.is_some() { ThingKind::Part } else { ThingKind::Hardware },
            designation: name.clone(),
            name: get(part.map(|p| &p.name), row.map(|h| &h.name)),
            quantity: Some(count.in_its_bag()),
            notes: super::kit::count_words(resolved, name),
            spares: Quantity { value: count.spares, ..count.needed },
            bag: get(part.map(|p| &p.bag), row.map(|h| &h.bag)),
            crate_: get(part.map(|p| &p.crate_), row.map(|h| &h.crate_)),
            steps: Vec::new(),
        });
    }
    things
}

fn parts(manual: &Manual, resolved: &Resolved, order: &Order) -> Vec<BenchThing> {
    let mut things = Vec::new();
    for (number, account) in &resolved.ledger.parts {
        if account.listed == 0 && account.steps.is_empty() {
            continue;
        }
        let lies = |text: &String| if account.piece { String::new() } else { text.clone() };
        let own = number;
        let Some((number, part, name)) = super::replaced::part(manual, number) else { continue };
        things.push(BenchThing {
            kind: ThingKind::Part,
            designation: number.to_string(),
            name,
            quantity: (!account.piece).then(|| in_its_bag(resolved, own.as_str(), Quantity::each(account.listed))),
            notes: super::kit::count_words(resolved, own.as_str()),
            spares: Quantity::each(0),
            bag: lies(&part.bag),
            crate_: lies(&part.crate_),
            steps: in_order(order, &account.steps),
        });
    }
    things
}

fn hardware(manual: &Manual, resolved: &Resolved, order: &Order) -> Vec<BenchThing> {
    let mut things = Vec::new();
    for (designation, account) in &resolved.ledger.hardware {
        let (now, h, name) = super::replaced::hardware(manual, designation);
        let get = |f: fn(&crate::model::Hardware) -> &String| h.map_or_else(String::new, |h| f(h).clone());
        let told = trade::decode(designation.as_str()).filter(|_| now == designation).map(|decoded| {
            let words = decoded.pieces().into_iter().map(|piece| match piece {
                trade::Words::Text(text) => text.to_string(),
                trade::Words::Length(length) => crate::units::plain(&length.pieces(manual.settings.units)),
            });
            words.collect::<String>()
        });
        things.push(BenchThing {
            kind: ThingKind::Hardware,
            designation: now.to_string(),
            name: told.unwrap_or(name),
            quantity: Some(in_its_bag(resolved, designation.as_str(), account.need)),
            notes: super::kit::count_words(resolved, designation.as_str()),
            spares: Quantity {
                value: resolved.counts.get(designation.as_str()).map_or_else(Default::default, |c| c.spares),
                ..account.need
            },
            bag: get(|h| &h.bag),
            crate_: get(|h| &h.crate_),
            steps: in_order(order, &account.steps),
        });
    }
    things
}

fn equipment(manual: &Manual, resolved: &Resolved) -> Vec<BenchThing> {
    let settings = &manual.settings;
    let mut found: BTreeMap<(ThingKind, &str), Vec<StepId>> = BTreeMap::new();
    for s in &resolved.steps {
        let tools = s.step.tools.iter().map(|t| {
            let name = settings.tool_title(&t.value.value);
            (ThingKind::Tool, name)
        });
        let consumables = s.step.consumables.iter().map(|t| {
            let name = settings.consumable_title(&t.value.value);
            (ThingKind::Consumable, name)
        });
        for key in tools.chain(consumables) {
            let steps = found.entry(key).or_default();
            if steps.last() != Some(&s.step.id.value) {
                steps.push(s.step.id.value.clone());
            }
        }
    }
    let mut things: Vec<BenchThing> = found
        .into_iter()
        .map(|((kind, name), steps)| BenchThing {
            kind,
            designation: String::new(),
            name: name.to_owned(),
            quantity: None,
            notes: Vec::new(),
            spares: Quantity::each(0),
            bag: String::new(),
            crate_: String::new(),
            steps,
        })
        .collect();
    things.sort_by(|a, b| a.kind.cmp(&b.kind).then_with(|| natural_cmp(&a.name, &b.name)));
    things
}
