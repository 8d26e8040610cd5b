//! What has to be before each step can be begun: the steps it waits for, what must have cured, who signs, how long it takes.

use std::collections::BTreeMap;

use super::spoken;
use crate::document::bench::StepBeginning;
use crate::model::Step;
use crate::plan::bonds;
use crate::resolve::Resolved;
use crate::units::{AssemblyId, PartNumber, StepId};

/// By step. A step waits for those that its `after` stands for, for the step that makes an assembly or cuts a piece that it
/// takes, and for the last step before it that has worked on a part which is out of the crate already.
pub(super) fn beginnings(resolved: &Resolved) -> BTreeMap<StepId, StepBeginning> {
    let places: BTreeMap<&StepId, usize> =
        resolved.steps.iter().enumerate().map(|(at, s)| (&s.step.id.value, at)).collect();
    let mut makers: BTreeMap<&AssemblyId, usize> = BTreeMap::new();
    let mut cutters: BTreeMap<&PartNumber, usize> = BTreeMap::new();
    for (at, s) in resolved.steps.iter().enumerate() {
        for makes in &s.step.makes {
            makers.entry(&makes.value.value).or_insert(at);
        }
        for piece in s.step.parts.iter().flat_map(|p| &p.becomes) {
            cutters.entry(&piece.0.value).or_insert(at);
        }
    }
    let glued = bonds(resolved);
    let mut all = BTreeMap::new();
    for (at, s) in resolved.steps.iter().enumerate() {
        let (step, id) = (&s.step, &s.step.id.value);
        // By the place of the step that is waited for. What a later step gives is a fault of the manual, told elsewhere.
        let mut waits: BTreeMap<usize, Vec<String>> = BTreeMap::new();
        let mut wait = |before: Option<usize>, what: Option<String>| {
            if let Some(before) = before.filter(|before| *before < at) {
                let given = waits.entry(before).or_default();
                given.extend(what.filter(|what| !given.contains(what)));
            }
        };
        for before in &s.before {
            wait(places.get(before).copied(), None);
        }
        for item in &step.assemblies {
            let assembly = &item.assembly.value;
            wait(makers.get(assembly).copied(), Some(spoken(assembly.as_str())));
        }
        for number in not_from_the_crate(resolved, step) {
            let before = resolved.ledger.parts.get(number).and_then(|account| {
                account.steps.iter().filter_map(|id| places.get(id).copied()).filter(|place| *place < at).max()
            });
            wait(before.max(cutters.get(number).copied().filter(|place| *place < at)), Some(number.to_string()));
        }
        let mut cured = Vec::new();
        for item in &step.cured {
            if let Some(bond) = glued.get(item.bond.value.as_str()) {
                wait(Some(bond.place), None);
                cured.push((spoken(&item.bond.value), bond.step.step.id.value.clone(), item.index));
            }
        }
        let beginning = StepBeginning {
            hours: step.hours.as_ref().map(|hours| hours.value),
            waits: waits.into_iter().map(|(at, what)| (resolved.steps[at].step.id.value.clone(), what)).collect(),
            signs: step.sign_off.iter().map(|role| role.value.clone()).collect(),
            glues: step.bonds.iter().map(|item| (spoken(&item.bond.value), item.index)).collect(),
            cured,
        };
        all.insert(id.clone(), beginning);
    }
    all
}

/// The parts of a step that it does not take, or not all of them, anew out of the crate.
fn not_from_the_crate<'a>(resolved: &Resolved, step: &'a Step) -> Vec<&'a PartNumber> {
    let mut numbers: Vec<&PartNumber> = Vec::new();
    for item in &step.parts {
        let number = &item.part.value;
        let Some(account) = resolved.ledger.parts.get(number) else { continue };
        let anew: i64 = account.pulled.iter().filter(|p| p.step == step.id.value).map(|p| p.count).sum();
        let most = step.parts.iter().filter(|p| p.part.value == *number).map(|p| p.quantity).max();
        if (account.piece || most.is_some_and(|most| most > anew)) && !numbers.contains(&number) {
            numbers.push(number);
        }
    }
    numbers
}
