//! The ledger: what is in the crate against what the steps take out of it, in the order of the build.
//!
//! Of a part that is fitted on trial, removed, finished and refitted only the first taking is booked. Pieces come
//! from the step that cuts them. Of hardware that comes off again the need is the peak of the running balance;
//! what is never used again counts each time.

use std::collections::BTreeMap;

use super::configure::{Listed, ResolvedStep, StepNumber};
use crate::model::{HardwareAction, Manual, PartAction};
use crate::source::Span;
use crate::units::{AssemblyId, Designation, PartNumber, Quantity, StepId};

/// A taking of a part out of the crate, or of a piece from where it was cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pull {
    pub step: StepId,
    pub number: StepNumber,
    pub count: i64,
    /// Where the quantity is written.
    pub span: Span,
}

/// A part's account.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PartAccount {
    /// How many the crate holds; for a piece, how many were cut.
    pub listed: i64,
    pub pulled: Vec<Pull>,
    /// It is a piece, cut by a step.
    pub piece: bool,
    /// Every step that names it, in order, the pulls included.
    pub steps: Vec<StepId>,
}

impl PartAccount {
    /// How many the steps take.
    pub fn taken(&self) -> i64 {
        self.pulled.iter().map(|p| p.count).sum()
    }
}

/// An item of hardware's account.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HardwareAccount {
    /// What must be in the kit, spares not counted.
    pub need: Quantity,
    /// What each step takes from the bags, in the order of the steps.
    pub taken: Vec<(StepId, StepNumber, Quantity)>,
    /// Every step that names it, in order.
    pub steps: Vec<StepId>,
}

/// Something done with a part that can't be done there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartFault {
    pub kind: PartFaultKind,
    pub step: StepId,
    pub span: Span,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PartFaultKind {
    /// Removed, but it was not fitted.
    RemovedBeforeFitted(PartNumber),
    /// Refitted, but it was not removed.
    RefittedBeforeRemoved(PartNumber),
    /// Used, or a piece of it taken, before it is there; the step that makes it, where a later one does.
    PartNotThere(PartNumber, Option<StepId>),
    /// An assembly used before it is made; the step that makes it, where a later one does.
    AssemblyNotThere(AssemblyId, Option<StepId>),
    /// An assembly made twice; by which step first.
    MadeTwice(AssemblyId, StepId),
    /// More hardware removed than was fitted.
    HardwareNotThere(Designation),
    /// More hardware refitted than was taken off.
    HardwareNotOff(Designation),
}

/// All accounts of a configuration.
#[derive(Clone, Debug, Default)]
pub struct Ledger {
    pub parts: BTreeMap<PartNumber, PartAccount>,
    pub hardware: BTreeMap<Designation, HardwareAccount>,
    pub faults: Vec<PartFault>,
}

/// Where the pieces of one part number are while the build goes on.
#[derive(Default)]
struct Whereabouts {
    /// Out of the crate, worked on, not yet fitted.
    loose: i64,
    on_trial: i64,
    fitted: i64,
    /// Fitted once and taken off.
    off: i64,
    pulled: i64,
}

/// Books the steps, in order.
pub(super) fn book(manual: &Manual, listed: &BTreeMap<PartNumber, Listed>, steps: &[ResolvedStep]) -> Ledger {
    let mut ledger = Ledger::default();
    for (number, l) in listed {
        ledger.parts.insert(number.clone(), PartAccount { listed: l.count, ..PartAccount::default() });
    }
    for (number, part) in &manual.parts {
        if part.cut_from.is_some() {
            let account = ledger.parts.entry(number.clone()).or_default();
            account.piece = true;
        }
    }
    let of_parts = || {
        parts(manual, steps, &mut ledger);
        assemblies(steps, &mut ledger);
    };
    let ((), (accounts, faults)) = rayon::join(of_parts, || hardware(manual, steps));
    ledger.hardware = accounts;
    ledger.faults.extend(faults);
    ledger
}

fn parts(manual: &Manual, steps: &[ResolvedStep], ledger: &mut Ledger) {
    let mut made_later: BTreeMap<&PartNumber, &StepId> = BTreeMap::new();
    for s in steps.iter().rev() {
        for piece in s.step.parts.iter().flat_map(|p| &p.becomes) {
            made_later.insert(&piece.0.value, &s.step.id.value);
        }
    }
    let mut at: BTreeMap<&PartNumber, Whereabouts> = BTreeMap::new();
    for s in steps {
        for item in &s.step.parts {
            // Pieces are there for the items that follow, in this step too.
            for (piece, n) in &item.becomes {
                ledger.parts.entry(piece.value.clone()).or_default().listed += n * item.quantity;
            }
            let number = &item.part.value;
            if !manual.parts.contains_key(number) {
                continue;
            }
            let q = item.quantity;
            let w = at.entry(number).or_default();
            let mut fault =
                |kind| ledger.faults.push(PartFault { kind, step: s.step.id.value.clone(), span: item.part.span });
            // What is taken anew: out of the crate, or from the pieces.
            let mut fresh = 0;
            match item.action {
                PartAction::Pull => {
                    let from_loose = w.loose.min(q);
                    w.loose -= from_loose;
                    fresh = q - from_loose;
                    w.fitted += q;
                }
                PartAction::TrialFit => {
                    let from_off = w.off.min(q);
                    let from_loose = w.loose.min(q - from_off);
                    w.off -= from_off;
                    w.loose -= from_loose;
                    fresh = q - from_off - from_loose;
                    w.on_trial += q;
                }
                PartAction::Remove => {
                    if w.on_trial + w.fitted < q {
                        fault(PartFaultKind::RemovedBeforeFitted(number.clone()));
                    }
                    let from_trial = w.on_trial.min(q);
                    w.on_trial -= from_trial;
                    w.fitted -= w.fitted.min(q - from_trial);
                    w.off += q;
                }
                PartAction::Finish => {
                    let here = w.loose + w.off + w.on_trial + w.fitted;
                    fresh = (q - here).max(0);
                    w.loose += fresh;
                }
                PartAction::Refit => {
                    if w.off < q {
                        fault(PartFaultKind::RefittedBeforeRemoved(number.clone()));
                    }
                    w.off -= w.off.min(q);
                    w.fitted += q;
                }
                PartAction::Use => {
                    let cut = ledger.parts.get(number).is_some_and(|a| a.piece && a.listed > 0);
                    if w.pulled == 0 && !cut {
                        fault(PartFaultKind::PartNotThere(number.clone(), None));
                    }
                }
            }
            w.pulled += fresh;
            let account = ledger.parts.entry(number.clone()).or_default();
            if fresh > 0 {
                if account.piece && w.pulled > account.listed {
                    let later = made_later.get(number).map(|id| (*id).clone());
                    let kind = PartFaultKind::PartNotThere(number.clone(), later);
                    ledger.faults.push(PartFault { kind, step: s.step.id.value.clone(), span: item.part.span });
                }
                let (step, number) = (s.step.id.value.clone(), s.number);
                account.pulled.push(Pull { step, number, count: fresh, span: item.quantity_span });
            }
            if account.steps.last() != Some(&s.step.id.value) {
                account.steps.push(s.step.id.value.clone());
            }
        }
    }
}

fn assemblies(steps: &[ResolvedStep], ledger: &mut Ledger) {
    let mut makers: BTreeMap<&AssemblyId, (usize, &StepId)> = BTreeMap::new();
    for (i, s) in steps.iter().enumerate() {
        for makes in &s.step.makes {
            if let Some((_, first)) = makers.get(&makes.value.value) {
                let kind = PartFaultKind::MadeTwice(makes.value.value.clone(), (*first).clone());
                ledger.faults.push(PartFault { kind, step: s.step.id.value.clone(), span: makes.value.span });
            } else {
                makers.insert(&makes.value.value, (i, &s.step.id.value));
            }
        }
    }
    for (i, s) in steps.iter().enumerate() {
        for item in &s.step.assemblies {
            let maker = makers.get(&item.assembly.value);
            if maker.is_none_or(|m| m.0 >= i) {
                let kind = PartFaultKind::AssemblyNotThere(item.assembly.value.clone(), maker.map(|m| m.1.clone()));
                ledger.faults.push(PartFault { kind, step: s.step.id.value.clone(), span: item.assembly.span });
            }
        }
    }
}

fn hardware(manual: &Manual, steps: &[ResolvedStep]) -> (BTreeMap<Designation, HardwareAccount>, Vec<PartFault>) {
    /// `out` is what is fitted now, `temporary` the part of it that is to come off, `free` what came off and may be
    /// used again.
    struct Balance {
        free: crate::units::Rational,
        out: crate::units::Rational,
        need: crate::units::Rational,
    }
    let zero = crate::units::Rational::from_integer(0);
    let (mut accounts, mut faults) = (BTreeMap::new(), Vec::new());
    let mut balances: BTreeMap<&Designation, Balance> = BTreeMap::new();
    for s in steps {
        for need in &s.hardware {
            let unit = need.quantity.unit;
            let one_use = manual.hardware.get(&need.designation).is_some_and(|h| h.one_use);
            let b = balances.entry(&need.designation).or_insert(Balance { free: zero, out: zero, need: zero });
            let account = accounts.entry(need.designation.clone()).or_insert_with(|| HardwareAccount {
                need: Quantity::none(unit),
                taken: Vec::new(),
                steps: Vec::new(),
            });
            if account.steps.last() != Some(&s.step.id.value) {
                account.steps.push(s.step.id.value.clone());
            }
            let q = need.quantity.value;
            match need.action {
                HardwareAction::Fit | HardwareAction::FitTemporarily | HardwareAction::Refit => {
                    // What is never used again is refitted as a new one.
                    if need.action == HardwareAction::Refit && !one_use && b.free < q {
                        let kind = PartFaultKind::HardwareNotOff(need.designation.clone());
                        faults.push(PartFault { kind, step: s.step.id.value.clone(), span: need.span });
                    }
                    let again = if one_use { zero } else { b.free.min(q) };
                    b.free -= again;
                    b.need += q - again;
                    b.out += q;
                    if need.action != HardwareAction::Refit || one_use {
                        let quantity = Quantity { value: q - again, unit };
                        if !quantity.is_zero() {
                            account.taken.push((s.step.id.value.clone(), s.number, quantity));
                        }
                    }
                }
                HardwareAction::Remove => {
                    if b.out < q {
                        let kind = PartFaultKind::HardwareNotThere(need.designation.clone());
                        faults.push(PartFault { kind, step: s.step.id.value.clone(), span: need.span });
                    }
                    b.out -= b.out.min(q);
                    if !one_use {
                        b.free += q;
                    }
                }
            }
            account.need = Quantity { value: b.need, unit };
        }
    }
    (accounts, faults)
}
