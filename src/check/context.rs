//! What a rule may look at.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::conditions::Conditions;
use super::names::Names;
use super::{Balance, Excuses, HandFault, PlacedFigure, Swaps, hands};
use crate::change::Past;
use crate::diag::Diagnostic;
use crate::joint::{HoleLedger, Items, SeenJoint, seen};
use crate::model::{Manual, Step};
use crate::resolve::Resolved;
use crate::source::SourceMap;
use crate::units::StepId;

/// The manual, its configurations, and what several rules ask of them.
#[derive(Debug)]
pub struct Context<'a> {
    pub manual: &'a Manual,
    /// Every configuration that is checked.
    pub resolved: &'a [Resolved],
    pub placed: &'a [PlacedFigure],
    /// What was released before.
    pub past: &'a Past,
    /// The texts of the sources; none where they are not at hand.
    pub sources: &'a SourceMap,
    pub names: Names<'a>,
    pub conditions: Conditions<'a>,
    pub balance: Balance<'a>,
    pub hands: Vec<HandFault<'a>>,
    pub excuses: Excuses,
    pub swaps: Swaps,
    /// All hardware in values.
    pub items: Items,
    /// Every joint as it stands in at least one configuration.
    pub joints: Vec<SeenJoint<'a>>,
    /// The account of holes of each configuration, in the order of `resolved`.
    ledgers: Vec<HoleLedger<'a>>,
    steps: BTreeMap<&'a StepId, &'a Step>,
}

impl<'a> Context<'a> {
    /// `faults` are the findings of reading.
    pub fn new(
        manual: &'a Manual,
        resolved: &'a [Resolved],
        placed: &'a [PlacedFigure],
        past: &'a Past,
        sources: &'a SourceMap,
        faults: &[Diagnostic],
    ) -> Self {
        let conditions = Conditions::collect(manual);
        let names = Names::collect(manual, &conditions);
        let balance = Balance::new(manual, resolved, &names);
        let hands = hands::faults(manual, &balance);
        let excuses = Excuses::new(manual, resolved, &names, &conditions, &balance, &hands, faults);
        let swaps = Swaps::new(manual, resolved, &names, &balance, &excuses);
        let items = Items::new(manual);
        let mut joints = seen(manual, &items, resolved);
        // Hardware that is not listed is another finding; so is a step that is in no document.
        joints.retain(|j| {
            let washers = j.joint.under_head.iter().chain(&j.joint.under_nut).map(|w| &w.0);
            let mut all = [&j.joint.fastener].into_iter().chain(&j.joint.nut).chain(&j.joint.pin).chain(washers);
            all.all(|h| manual.hardware.contains_key(&h.value)) && !excuses.steps.contains(j.step)
        });
        let ledgers = resolved.par_iter().map(|r| HoleLedger::new(manual, &items, r)).collect();
        let steps = manual.steps.iter().map(|s| (&s.id.value, s)).collect();
        Self { manual, resolved, placed, past, sources, names, conditions, balance, hands, excuses, swaps, items, joints, ledgers, steps }
    }

    /// The account of holes of one of the configurations that are checked.
    pub fn ledger(&self, of: &Resolved) -> &HoleLedger<'a> {
        let at = self.resolved.iter().position(|r| std::ptr::eq(r, of));
        &self.ledgers[at.expect("one of the configurations that are checked")]
    }

    /// The step with this id, as written.
    pub fn step(&self, id: &StepId) -> Option<&'a Step> {
        self.steps.get(id).copied()
    }
}
