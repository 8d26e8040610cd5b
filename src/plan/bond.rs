//! Bonds of a configuration, each with the step that glues it.

use indexmap::IndexMap;

use crate::model::{Bond, StepItem};
use crate::resolve::{Resolved, ResolvedStep};

/// A bond and where it is glued.
#[derive(Clone, Copy, Debug)]
pub struct GluedBond<'a> {
    pub item: &'a StepItem<Bond>,
    pub step: &'a ResolvedStep,
    /// The step's place in the order of the work, from 0.
    pub place: usize,
}

/// The bonds by their ids, in the order of the work, each where it is glued first.
pub fn bonds(resolved: &Resolved) -> IndexMap<&str, GluedBond<'_>> {
    let mut all = IndexMap::new();
    for (place, step) in resolved.steps.iter().enumerate() {
        for item in &step.step.bonds {
            all.entry(item.bond.value.as_str()).or_insert(GluedBond { item, step, place });
        }
    }
    all
}
