//! Cables of a configuration: what each is, which steps work on it, how long the cable is cut, and in which order it
//! is led and closed.

use indexmap::IndexMap;

use super::tube::stock;
use crate::model::{CableEnd, CableKind, CableLead, CableUse, Guide, Manual, Part, StepItem, StockShape};
use crate::resolve::{Resolved, ResolvedStep};
use crate::source::Span;
use crate::trade::{self, Cited};
use crate::units::Length;

/// A cable.
#[derive(Clone, Debug)]
pub struct CableRun<'a> {
    /// Its id.
    pub id: &'a str,
    /// Where it is said what it is.
    pub use_: &'a StepItem<CableUse>,
    pub step: &'a ResolvedStep,
    pub part: Option<&'a Part>,
    pub diameter: Option<Length>,
    /// From pin to pin.
    pub length: Length,
    /// End A and end B, with the step that closes each.
    pub ends: [Option<(&'a CableEnd, &'a ResolvedStep)>; 2],
    pub run: &'a [StepItem<Guide>],
    /// The smallest breaking strength, pounds.
    pub strength: Option<Cited<i64>>,
}

/// Something that can't be done, or was not.
#[derive(Clone, Debug)]
pub struct CableFault<'a> {
    pub kind: CableFaultKind,
    pub cable: &'a str,
    pub step: &'a ResolvedStep,
    pub at: Span,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CableFaultKind {
    /// The second end is closed while these are not threaded.
    ClosedEarly {
        left: Vec<String>,
    },
    /// Threaded when both ends are closed.
    ThreadedLate,
    /// Not the next of the run.
    OutOfOrder {
        name: String,
        next: Option<String>,
    },
    /// Not in the run, or threaded before.
    NotInRun {
        name: String,
    },
    ClosedTwice {
        end: char,
    },
    /// Nothing ever closes an end.
    NeverClosed {
        end: char,
    },
    /// No step says what the cable is.
    NotDefined,
    DefinedTwice,
}

/// The cables of a configuration, in the order in which they are defined.
pub fn cables<'a>(manual: &'a Manual, resolved: &'a Resolved) -> Vec<CableRun<'a>> {
    let mut runs: IndexMap<&str, CableRun> = IndexMap::new();
    for (step, item) in uses(resolved) {
        let Some(length) = &item.length else { continue };
        let id = item.cable.value.as_str();
        let part = item.part.as_ref().and_then(|p| manual.parts.get(&p.value));
        let stock = item.part.as_ref().and_then(|p| stock(manual, &p.value)).filter(|s| s.shape == StockShape::Cable);
        let diameter = stock.and_then(|s| s.outside_diameter).map(|d| d.value);
        let material = stock.map_or("", |s| s.material.as_str());
        let strength = item.construction.as_ref().zip(diameter).and_then(|(construction, diameter)| {
            trade::cable_strength(&construction.value, diameter, trade::cable_wire(material)?)
        });
        runs.entry(id).or_insert(CableRun {
            id,
            use_: item,
            step,
            part,
            diameter,
            length: length.value,
            ends: [None, None],
            run: &item.run,
            strength,
        });
    }
    for (step, item) in uses(resolved) {
        let Some(run) = runs.get_mut(item.cable.value.as_str()) else { continue };
        for (slot, end) in run.ends.iter_mut().zip(item.ends()) {
            if slot.is_none() {
                *slot = end.map(|end| (end, step));
            }
        }
    }
    runs.into_values().collect()
}

fn uses(resolved: &Resolved) -> impl Iterator<Item = (&ResolvedStep, &StepItem<CableUse>)> {
    resolved.steps.iter().flat_map(|s| s.step.cables.iter().map(move |c| (s, c)))
}

impl CableRun<'_> {
    /// The length that the cable is cut to: from pin to pin, less what reaches from pins to thimbles, with what goes
    /// round each thimble. None until both ends say their loop. The inner wire of a bowden cable is cut as long as it is
    /// finished.
    pub fn cut_length(&self) -> Option<Length> {
        if self.use_.kind == CableKind::Bowden {
            return Some(self.length);
        }
        let mut length = self.length;
        for end in self.ends {
            let (end, _) = end?;
            length = length - end.reach.map_or(Length::ZERO, |r| r.value) + end.loop_?.value;
        }
        Some(length)
    }

    /// What it is proved with, pounds: 60 % of the published breaking strength.
    pub fn proof(&self) -> Option<Cited<i64>> {
        self.strength.map(trade::proof_load)
    }
}

/// What is wrong with the order in which cables are led and closed. Within an item end A comes before threading, end B
/// after it.
pub fn cable_faults(resolved: &Resolved) -> Vec<CableFault<'_>> {
    let mut states: IndexMap<&str, CableState> = IndexMap::new();
    for (step, item) in uses(resolved).filter(|(_, item)| item.defines()) {
        let state = states.entry(item.cable.value.as_str()).or_default();
        if state.defined.is_none() {
            state.defined = Some((step, item));
            state.left = item.run.iter().map(|g| g.name.value.as_str()).collect();
        }
    }
    let mut faults = Vec::new();
    for (step, item) in uses(resolved) {
        let cable = item.cable.value.as_str();
        let fault = |kind, at| CableFault { kind, cable, step, at };
        let state = states.entry(cable).or_default();
        match state.defined {
            None => {
                if !state.unknown {
                    faults.push(fault(CableFaultKind::NotDefined, item.cable.span));
                }
                state.unknown = true;
                continue;
            }
            Some((_, definition)) if item.defines() && definition.span != item.span => {
                faults.push(fault(CableFaultKind::DefinedTwice, item.cable.span));
                continue;
            }
            Some((defined_in, definition))
                if definition.span == item.span && defined_in.step.id.value != step.step.id.value =>
            {
                faults.push(fault(CableFaultKind::DefinedTwice, item.cable.span));
                continue;
            }
            Some(_) => {}
        }
        if let Some(end) = &item.end_a {
            state.close(0, end, &mut faults, fault);
        }
        match &item.thread {
            Some(CableLead::All(at)) if state.both_closed() => faults.push(fault(CableFaultKind::ThreadedLate, *at)),
            Some(CableLead::All(_)) => state.left.clear(),
            Some(CableLead::These(names)) => {
                for name in names {
                    state.thread(&name.value, name.span, &mut faults, fault);
                }
            }
            None => {}
        }
        if let Some(end) = &item.end_b {
            state.close(1, end, &mut faults, fault);
        }
    }
    for (cable, state) in &states {
        let Some((step, item)) = state.defined else { continue };
        for (closed, end) in state.closed.iter().zip(['A', 'B']) {
            if !closed {
                faults.push(CableFault { kind: CableFaultKind::NeverClosed { end }, cable, step, at: item.cable.span });
            }
        }
    }
    faults
}

/// How far a cable is.
#[derive(Default)]
struct CableState<'a> {
    defined: Option<(&'a ResolvedStep, &'a StepItem<CableUse>)>,
    unknown: bool,
    /// Guides that it is not led through yet, in their order from end A.
    left: Vec<&'a str>,
    closed: [bool; 2],
}

impl<'a> CableState<'a> {
    fn both_closed(&self) -> bool {
        self.closed == [true, true]
    }

    fn close(
        &mut self,
        end: usize,
        at: &CableEnd,
        faults: &mut Vec<CableFault<'a>>,
        fault: impl Fn(CableFaultKind, Span) -> CableFault<'a>,
    ) {
        if self.closed[end] {
            faults.push(fault(CableFaultKind::ClosedTwice { end: ['A', 'B'][end] }, at.span));
            return;
        }
        self.closed[end] = true;
        if self.both_closed() && !self.left.is_empty() {
            let left = self.left.iter().map(|&n| n.to_owned()).collect();
            faults.push(fault(CableFaultKind::ClosedEarly { left }, at.span));
        }
    }

    fn thread(
        &mut self,
        name: &str,
        at: Span,
        faults: &mut Vec<CableFault<'a>>,
        fault: impl Fn(CableFaultKind, Span) -> CableFault<'a>,
    ) {
        let Some(place) = self.left.iter().position(|&n| n == name) else {
            faults.push(fault(CableFaultKind::NotInRun { name: name.to_owned() }, at));
            return;
        };
        if self.both_closed() {
            faults.push(fault(CableFaultKind::ThreadedLate, at));
        }
        // The free end passes the guide next to the closed end first.
        let first = if self.closed[1] && !self.closed[0] { self.left.len() - 1 } else { 0 };
        if place != first {
            let next = self.left.get(first).map(|&n| n.to_owned());
            faults.push(fault(CableFaultKind::OutOfOrder { name: name.to_owned(), next }, at));
        }
        self.left.remove(place);
    }
}

#[cfg(test)]
mod tests;
