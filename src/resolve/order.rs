//! The order of steps: sections are hard, `after` inside them, ties by natural path order.

use std::collections::{BTreeMap, BTreeSet};

use crate::model::Step;
use crate::source::Span;
use crate::units::{AssemblyId, SectionId, StepId};

/// What is wrong with the order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OrderFault {
    /// Steps that wait for one another, from the first in path order round to it again.
    Circle { steps: Vec<StepId>, span: Span },
    /// `after` points to a step of a later section.
    Backward { step: StepId, after: StepId, span: Span },
}

/// Orders `steps` (in natural path order). `absent` are steps that this configuration lacks: they pass their
/// `after` on. Steps of a section that is not in `sections` come last; a rule reports them.
/// Returns indices into `steps`. O((steps + edges) log steps).
pub fn order(
    steps: &[&Step],
    absent: &BTreeMap<StepId, Vec<StepId>>,
    sections: &[SectionId],
) -> (Vec<usize>, Vec<OrderFault>) {
    let index: BTreeMap<&StepId, usize> = steps.iter().enumerate().map(|(i, s)| (&s.id.value, i)).collect();
    let rank = |i: usize| sections.iter().position(|s| *s == steps[i].section.value).unwrap_or(sections.len());
    let ranks: Vec<usize> = (0..steps.len()).map(rank).collect();
    let mut faults = Vec::new();
    let mut waits: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); steps.len()];
    let mut frees: Vec<Vec<usize>> = vec![Vec::new(); steps.len()];
    for (i, step) in steps.iter().enumerate() {
        for after in &step.after {
            for id in present(&after.value.value, absent, &index) {
                let j = index[&id];
                if ranks[j] > ranks[i] {
                    faults.push(OrderFault::Backward {
                        step: step.id.value.clone(),
                        after: id,
                        span: after.value.span,
                    });
                } else if ranks[j] == ranks[i] && waits[i].insert(j) {
                    frees[j].push(i);
                }
            }
        }
    }
    let mut ready: BTreeSet<(usize, usize)> =
        (0..steps.len()).filter(|&i| waits[i].is_empty()).map(|i| (ranks[i], i)).collect();
    let mut left: BTreeSet<(usize, usize)> = (0..steps.len()).map(|i| (ranks[i], i)).collect();
    let mut ordered = Vec::with_capacity(steps.len());
    while let Some(&first_left) = left.first() {
        // A section is finished before the next one begins, so the next step is ready and of the first section left.
        let next = match ready.first() {
            Some(&next) if next.0 == first_left.0 => next,
            _ => {
                let circle = circle(first_left.1, &waits);
                let span = steps[circle[0]].after.first().map_or(steps[circle[0]].id.span, |a| a.value.span);
                let next_id = circle.get(1).or(circle.first()).map(|&i| &steps[i].id.value);
                let span = steps[circle[0]]
                    .after
                    .iter()
                    .find(|a| Some(&a.value.value) == next_id)
                    .map_or(span, |a| a.value.span);
                faults.push(OrderFault::Circle {
                    steps: circle.iter().map(|&i| steps[i].id.value.clone()).collect(),
                    span,
                });
                // Break the circle at its first step, so that the others are still ordered.
                let first = circle[0];
                waits[first].clear();
                (ranks[first], first)
            }
        };
        ready.remove(&next);
        left.remove(&next);
        ordered.push(next.1);
        for &i in &frees[next.1] {
            if waits[i].remove(&next.1) && waits[i].is_empty() && left.contains(&(ranks[i], i)) {
                ready.insert((ranks[i], i));
            }
        }
    }
    (ordered, faults)
}

/// The steps of this configuration that each step waits for by its `after`, and those that make the assemblies it uses, in
/// the order of `steps`.
pub fn before(steps: &[&Step], absent: &BTreeMap<StepId, Vec<StepId>>) -> Vec<Vec<StepId>> {
    let index: BTreeMap<&StepId, usize> = steps.iter().enumerate().map(|(i, s)| (&s.id.value, i)).collect();
    let mut makers: BTreeMap<&AssemblyId, usize> = BTreeMap::new();
    for (i, step) in steps.iter().enumerate() {
        step.makes.iter().for_each(|made| {
            makers.entry(&made.value.value).or_insert(i);
        });
    }
    let of_step = |(i, step): (usize, &&Step)| {
        let waits = step.after.iter().flat_map(|after| present(&after.value.value, absent, &index));
        let mut before: BTreeSet<usize> = waits.map(|id| index[&id]).collect();
        before.extend(step.assemblies.iter().filter_map(|used| makers.get(&used.assembly.value)));
        before.remove(&i);
        before.into_iter().map(|at| steps[at].id.value.clone()).collect()
    };
    steps.iter().enumerate().map(of_step).collect()
}

/// The steps of this configuration that `after: id` stands for: itself, or what an absent one waits for.
fn present<T>(id: &StepId, absent: &BTreeMap<StepId, Vec<StepId>>, index: &BTreeMap<&StepId, T>) -> Vec<StepId> {
    let (mut found, mut seen, mut open) = (Vec::new(), BTreeSet::new(), vec![id.clone()]);
    while let Some(id) = open.pop() {
        if index.contains_key(&id) {
            found.push(id);
        } else if seen.insert(id.clone())
            && let Some(before) = absent.get(&id)
        {
            open.extend(before.iter().cloned());
        }
    }
    found.sort();
    found
}

/// A circle among the waiting steps reached from `start`, beginning with its first step in path order.
fn circle(start: usize, waits: &[BTreeSet<usize>]) -> Vec<usize> {
    let (mut path, mut at) = (vec![start], start);
    loop {
        let Some(&next) = waits[at].first() else { return path };
        if let Some(from) = path.iter().position(|&i| i == next) {
            let mut circle = path.split_off(from);
            let least = circle.iter().enumerate().min_by_key(|(_, i)| **i).map_or(0, |(k, _)| k);
            circle.rotate_left(least);
            return circle;
        }
        path.push(next);
        at = next;
    }
}
