//! Why a step is in or out, what it waits for, and which of its items are.

use std::collections::BTreeMap;

use super::WhyCase;
use super::condition::{met, tree};
use crate::action::{Deed, actions};
use crate::cli::place::{aligned, place};
use crate::cli::used::conditions;
use crate::model::{Step, StepItem};
use crate::resolve::in_words;
use crate::source::Spanned;
use crate::units::StepId;

pub(super) fn why(case: &WhyCase, step: &Step) -> String {
    let id = &step.id.value;
    let at = place(case.sources, step.id.span);
    let title = &step.title.value;
    let name = &case.resolved.name;
    let mut text = match case.resolved.step(id) {
        Some(s) => format!("Step `{id}` ({title}) is in {name}, as step {}.\nIt is written at {at}.\n", s.number),
        None => format!("Step `{id}` ({title}) is not in {name}.\nIt is written at {at}.\n"),
    };
    match &step.only {
        None if case.resolved.step(id).is_some() => {
            text.push_str("\nIt has no condition, so it is in every configuration.\n")
        }
        None => text
            .push_str(&format!("\nIts section `{}` is not in manual.yaml, so it has no place.\n", step.section.value)),
        Some(only) => text
            .push_str(&format!("\nIts condition, and whether each part of it applies:\n{}", tree(case, only.into()))),
    }
    text.push_str(&waits(case, step));
    text.push_str(&waited_for(case, step));
    if let Some(s) = case.resolved.step(id) {
        text.push_str(&items(case, step));
        text.push_str(&actions_of(case, &s.step));
    }
    text
}

/// What each action of the step does of what the front matter says, and how that is known.
fn actions_of(case: &WhyCase, step: &Step) -> String {
    let mut rows = Vec::new();
    for action in actions(case.manual, step) {
        let number = action.number.map_or_else(|| "the text".to_owned(), |n| format!("action {n}"));
        for tie in &action.ties {
            rows.push(vec![
                number.clone(),
                format!("{} {}", tie.deed.verb(), item_words(step, tie.deed, tie.item)),
                tie.known_by.words(tie.deed),
                place(case.sources, tie.known_by.span()),
            ]);
        }
    }
    if rows.is_empty() { String::new() } else { format!("\nWhat its actions do:\n{}", aligned(&rows)) }
}

/// What an item of the front matter is called.
fn item_words(step: &Step, deed: Deed, item: usize) -> String {
    match deed {
        Deed::Fit | Deed::Tighten => {
            let joint = &step.joints[item];
            let id = joint.id.as_ref().map_or_else(String::new, |id| format!(" ({})", id.value));
            format!("{}{id}", joint.fastener.value)
        }
        Deed::Drill => {
            let hole = &step.holes[item];
            let name = hole.hole.as_ref().map_or_else(String::new, |h| format!(" {}", h.value));
            format!("{}{name}", hole.part.value)
        }
        Deed::Cut => {
            let cut = &step.cuts[item];
            let end = cut.end.as_ref().map_or_else(String::new, |e| format!(" end {}", e.value.word()));
            format!("{}{end}", cut.part.value)
        }
        Deed::Bend => step.bends[item].part.value.to_string(),
        Deed::Flatten => step.flattened[item].part.value.to_string(),
        Deed::Close => step.cables[item].cable.value.clone(),
        Deed::Glue => step.bonds[item].bond.value.clone(),
        Deed::Crimp => step.wires[item].wire.value.clone(),
        Deed::Measure => step.measures[item].what.value.clone(),
    }
}

fn counts(case: &WhyCase, after: &StepItem<Spanned<StepId>>) -> bool {
    after.only.as_ref().is_none_or(|only| met(case, only.into()))
}

/// What `after` comes to: a step that is not here passes its own on.
fn waits(case: &WhyCase, step: &Step) -> String {
    let written: BTreeMap<&StepId, &Step> = case.manual.steps.iter().map(|s| (&s.id.value, s)).collect();
    let mut rows = Vec::new();
    for after in &step.after {
        let id = &after.value.value;
        let at = place(case.sources, after.value.span);
        let said = if !counts(case, after) {
            "does not count here: its own condition does not apply".to_owned()
        } else if let Some(s) = case.resolved.step(id) {
            format!("is step {}", s.number)
        } else if let Some(absent) = written.get(id) {
            let passed = passed_on(case, &written, absent);
            let passed = if passed.is_empty() { "nothing".to_owned() } else { passed.join(", ") };
            format!("is not here; it passes on what it waits for: {passed}")
        } else {
            "is no step of this manual".to_owned()
        };
        rows.push(vec![id.to_string(), said, at]);
    }
    if rows.is_empty() { String::new() } else { format!("\nIt comes after:\n{}", aligned(&rows)) }
}

/// The steps of this configuration that an absent step's `after` leads to.
fn passed_on(case: &WhyCase, written: &BTreeMap<&StepId, &Step>, absent: &Step) -> Vec<String> {
    let (mut found, mut open, mut seen) = (Vec::new(), vec![absent], vec![&absent.id.value]);
    while let Some(step) = open.pop() {
        for after in step.after.iter().filter(|a| counts(case, a)) {
            let id = &after.value.value;
            if seen.contains(&id) {
                continue;
            }
            seen.push(id);
            if let Some(s) = case.resolved.step(id) {
                found.push((s.number, format!("{id} (step {})", s.number)));
            } else {
                open.extend(written.get(id));
            }
        }
    }
    found.sort();
    found.into_iter().map(|(_, words)| words).collect()
}

fn waited_for(case: &WhyCase, step: &Step) -> String {
    let rows: Vec<_> = case
        .resolved
        .steps
        .iter()
        .filter_map(|s| {
            let after = s.step.after.iter().find(|a| a.value.value == step.id.value)?;
            Some(vec![s.step.id.to_string(), format!("is step {}", s.number), place(case.sources, after.value.span)])
        })
        .collect();
    if rows.is_empty() { String::new() } else { format!("\nThese wait for it:\n{}", aligned(&rows)) }
}

/// Items and text of the step that stand under a condition of their own.
fn items(case: &WhyCase, step: &Step) -> String {
    let rows: Vec<_> = conditions(step)
        .into_iter()
        .map(|c| {
            let held = if met(case, c.only) { "in" } else { "out" };
            vec![
                held.to_owned(),
                place(case.sources, c.span),
                c.what.to_owned(),
                format!("only: {}", in_words(c.only.condition)),
            ]
        })
        .collect();
    if rows.is_empty() { String::new() } else { format!("\nIn it, under a condition:\n{}", aligned(&rows)) }
}
