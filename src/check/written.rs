//! Cables as they are written. A step that is made for the other hand has the faults of the one it is made from, at the
//! same place; each is told once.

use std::collections::BTreeSet;

use crate::model::Manual;
use crate::plan::{CableFault, CableRun, cable_faults, cables};
use crate::resolve::Resolved;
use crate::source::Span;

/// The cables of a configuration, those made for the other hand left out.
pub fn written_cables<'a>(manual: &'a Manual, resolved: &'a Resolved) -> Vec<CableRun<'a>> {
    once(cables(manual, resolved), |cable| cable.use_.span)
}

/// What is wrong with the order of work on the cables, each place once.
pub fn written_cable_faults(resolved: &Resolved) -> Vec<CableFault<'_>> {
    once(cable_faults(resolved), |fault| fault.at)
}

/// The first of those at the same place.
fn once<T>(mut all: Vec<T>, place: impl Fn(&T) -> Span) -> Vec<T> {
    let mut seen = BTreeSet::new();
    all.retain(|one| seen.insert(place(one)));
    all
}
