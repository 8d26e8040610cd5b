//! What a rule may look at.

use std::collections::BTreeMap;

use super::conditions::Conditions;
use super::names::Names;
use super::{Balance, Excuses, HandFault, PlacedFigure, Swaps, hands};
use crate::diag::Diagnostic;
use crate::model::{Manual, Step};
use crate::resolve::Resolved;
use crate::units::StepId;

/// The manual, its configurations, and what several rules ask of them.
#[derive(Debug)]
pub struct Context<'a> {
    pub manual: &'a Manual,
    /// Every configuration that is checked.
    pub resolved: &'a [Resolved],
    pub placed: &'a [PlacedFigure],
    pub names: Names<'a>,
    pub conditions: Conditions<'a>,
    pub balance: Balance<'a>,
    pub hands: Vec<HandFault<'a>>,
    pub excuses: Excuses,
    pub swaps: Swaps,
    steps: BTreeMap<&'a StepId, &'a Step>,
}

impl<'a> Context<'a> {
    /// `faults` are the findings of reading.
    pub fn new(manual: &'a Manual, resolved: &'a [Resolved], placed: &'a [PlacedFigure], faults: &[Diagnostic]) -> Self {
        let conditions = Conditions::collect(manual);
        let names = Names::collect(manual, &conditions);
        let balance = Balance::new(manual, resolved, &names);
        let hands = hands::faults(manual, &balance);
        let excuses = Excuses::new(manual, resolved, &names, &conditions, &balance, &hands, faults);
        let swaps = Swaps::new(manual, resolved, &names, &balance, &excuses);
        let steps = manual.steps.iter().map(|s| (&s.id.value, s)).collect();
        Self { manual, resolved, placed, names, conditions, balance, hands, excuses, swaps, steps }
    }

    /// The step with this id, as written.
    pub fn step(&self, id: &StepId) -> Option<&'a Step> {
        self.steps.get(id).copied()
    }
}
