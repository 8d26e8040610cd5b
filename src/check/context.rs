//! What a rule may look at.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::conditions::Conditions;
use super::names::Names;
use super::{Balance, Excuses, FigureOnPaper, Further, HandFault, Swaps, hands};
use crate::action::{Action, actions};
use crate::change::Past;
use crate::diag::Diagnostic;
use crate::figure::{Drawing, FigureKind, Greyed, drawing, greyed};
use crate::joint::{HoleLedger, Items, SeenJoint, seen};
use crate::model::{Cut, Manual, Opposite, Step, StepItem};
use crate::resolve::{Facts, PartFaultKind, Resolved, ResolvedStep, holds};
use crate::source::{SourceMap, Span, Spanned};
use crate::syntax::Condition;
use crate::units::{FigureName, PartNumber, StepId};

/// The manual, its configurations, and what several rules ask of them.
#[derive(Debug)]
pub struct Context<'a> {
    pub manual: &'a Manual,
    /// Every configuration that is checked.
    pub resolved: &'a [Resolved],
    /// What is built besides these.
    pub further: &'a [Further],
    pub placed: &'a [FigureOnPaper],
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
    /// The account of holes of each configuration, in the order of `resolved` and then `further`.
    ledgers: Vec<HoleLedger<'a>>,
    /// The actions of every step of everything that is built, by where it is held.
    actions: BTreeMap<usize, Vec<Action>>,
    steps: BTreeMap<&'a StepId, &'a Step>,
    /// What grey does to each drawing that a step shows, with the first place where one names it.
    greyed: BTreeMap<&'a FigureName, (&'a Spanned<FigureName>, Greyed)>,
}

impl<'a> Context<'a> {
    /// The steps of a configuration that are looked at and written by hand: what is wrong in the words of a step that is made
    /// for the other hand is wrong in the written one.
    pub fn written<'r>(&self, r: &'r Resolved) -> impl Iterator<Item = &'r ResolvedStep> {
        let looked_at = |s: &&ResolvedStep| !self.excuses.steps.contains(&s.step.id.value);
        r.steps.iter().filter(looked_at).filter(|s| !matches!(s.step.opposite, Opposite::Of(_)))
    }

    /// `faults` are the findings of reading.
    pub fn new(
        manual: &'a Manual,
        resolved: &'a [Resolved],
        further: &'a [Further],
        placed: &'a [FigureOnPaper],
        past: &'a Past,
        sources: &'a SourceMap,
        faults: &[Diagnostic],
    ) -> Self {
        let items = Items::new(manual);
        let built = || resolved.iter().chain(further.iter().map(|f| &f.resolved));
        let of_names = || {
            let conditions = Conditions::collect(manual);
            let names = Names::collect(manual);
            let balance = Balance::new(manual, resolved, &names);
            let hands = hands::faults(manual, &balance);
            let excuses = Excuses::new(manual, resolved, &names, &conditions, &balance, &hands, faults);
            let swaps = Swaps::new(manual, resolved, &names, &balance, &excuses);
            (conditions, names, balance, hands, excuses, swaps)
        };
        let of_joints = || {
            let ledgers =
                built().collect::<Vec<_>>().into_par_iter().map(|r| HoleLedger::new(manual, &items, r)).collect();
            (ledgers, seen(manual, &items, built()), look_at_drawings(manual), look_at_actions(manual, built()))
        };
        let ((conditions, names, balance, hands, excuses, swaps), (ledgers, mut joints, greyed, actions)) =
            rayon::join(of_names, of_joints);
        // Hardware that is not listed is another finding; so are a step that is in no document, and a part whose thickness
        // is in doubt.
        joints.retain(|j| {
            let washers = j.joint.under_head.iter().chain(&j.joint.under_nut).map(|w| &w.0);
            let mut all = [&j.joint.fastener].into_iter().chain(&j.joint.nut).chain(&j.joint.pin).chain(washers);
            let sure = j.joint.stack.iter().all(|m| !excuses.doubtful.contains(&m.part.value));
            // So is a kind of joint that there is not: the joint lacks what it would give it.
            let of_kind = |k: &Spanned<String>| manual.settings.joint_kinds.kinds.contains_key(&k.value);
            let sure = sure && j.joint.kind.as_ref().is_none_or(of_kind);
            sure && all.all(|h| manual.hardware.contains_key(&h.value)) && !excuses.steps.contains(j.step)
        });
        let steps = manual.steps.iter().map(|s| (&s.id.value, s)).collect();
        Self {
            manual,
            resolved,
            further,
            placed,
            past,
            sources,
            names,
            conditions,
            balance,
            hands,
            excuses,
            swaps,
            items,
            joints,
            ledgers,
            actions,
            steps,
            greyed,
        }
    }

    /// Everything that is built: the configurations, and what there is besides.
    pub fn built(&self) -> impl Iterator<Item = &'a Resolved> + use<'a> {
        self.resolved.iter().chain(self.further.iter().map(|f| &f.resolved))
    }

    /// Whether a condition applies in a configuration.
    pub fn applies(&self, condition: &Condition, r: &Resolved) -> bool {
        holds(condition, &Facts { settings: &self.manual.settings, configuration: &r.configuration })
    }

    /// What the actions of a step of one of the configurations do.
    pub fn actions(&self, s: &ResolvedStep) -> &[Action] {
        self.actions.get(&std::ptr::from_ref(s).addr()).map_or(&[], Vec::as_slice)
    }

    /// The account of holes of one of the configurations that are checked.
    pub fn ledger(&self, of: &Resolved) -> &HoleLedger<'a> {
        let at = self.built().position(|r| std::ptr::eq(r, of));
        &self.ledgers[at.expect("one of the configurations that are checked")]
    }

    /// What grey does to each drawing. Of a drawing that is mirrored for the opposite step only the one that was drawn,
    /// whose name is the shorter.
    pub fn greyed(&self) -> impl Iterator<Item = (&'a Spanned<FigureName>, &Greyed)> {
        let mut drawn: BTreeMap<Span, (&'a Spanned<FigureName>, &Greyed)> = BTreeMap::new();
        for (figure, greyed) in self.greyed.values() {
            let known = drawn.entry(figure.span).or_insert((*figure, greyed));
            if figure.value.as_str().len() < known.0.value.as_str().len() {
                *known = (*figure, greyed);
            }
        }
        drawn.into_values()
    }

    pub fn greyed_of(&self, figure: &FigureName) -> Option<&Greyed> {
        self.greyed.get(figure).map(|(_, greyed)| greyed)
    }

    /// The smallest lettering of a drawing, as a share of its width.
    pub fn smallest_letters(&self, figure: &FigureName) -> Option<f64> {
        self.greyed_of(figure)?.smallest
    }

    /// The thinnest line of a drawing, as a share of its width.
    pub fn thinnest(&self, figure: &FigureName) -> Option<f64> {
        self.greyed_of(figure)?.thinnest
    }

    /// Every cut as written, with its step.
    pub fn cuts(&self) -> impl Iterator<Item = (&'a Step, &'a StepItem<Cut>)> + use<'a> {
        self.manual.steps.iter().flat_map(|step| step.cuts.iter().map(move |cut| (step, cut)))
    }

    /// Whether another finding speaks of a part in a configuration: it is unknown, its row or its quantity is wrong, or
    /// it or its opposite is taken where it is not.
    pub fn in_doubt(&self, r: &Resolved, part: &PartNumber) -> bool {
        let row = self.manual.parts.get(part);
        let opposite = row.and_then(|p| p.opposite.as_ref()).map(|o| &o.value);
        let speaks = |kind: &PartFaultKind| match kind {
            PartFaultKind::RemovedBeforeFitted(p)
            | PartFaultKind::RefittedBeforeRemoved(p)
            | PartFaultKind::PartNotThere(p, _) => p == part || Some(p) == opposite,
            _ => false,
        };
        row.is_none()
            || self.excuses.parts.contains(part)
            || self.balance.misfit(&r.name, part).is_some()
            || r.ledger.faults.iter().any(|f| speaks(&f.kind))
    }

    /// The step with this id, as written.
    pub fn step(&self, id: &StepId) -> Option<&'a Step> {
        self.steps.get(id).copied()
    }
}

fn look_at_actions<'a>(manual: &Manual, built: impl Iterator<Item = &'a Resolved>) -> BTreeMap<usize, Vec<Action>> {
    let steps: Vec<&ResolvedStep> = built.flat_map(|r| &r.steps).collect();
    steps.into_par_iter().map(|s| (std::ptr::from_ref(s).addr(), actions(manual, &s.step))).collect()
}

fn look_at_drawings(manual: &Manual) -> BTreeMap<&FigureName, (&Spanned<FigureName>, Greyed)> {
    let mut shown: BTreeMap<&FigureName, &Spanned<FigureName>> = BTreeMap::new();
    for figure in manual.steps.iter().flat_map(|s| &s.figures) {
        shown.entry(&figure.figure.value).or_insert(&figure.figure);
    }
    let look = |(name, figure)| match drawing(manual.figures.get(name).filter(|f| f.kind == FigureKind::Svg)?) {
        Ok(Drawing::Vector(vector)) => Some((name, (figure, greyed(&vector)))),
        _ => None,
    };
    shown.into_par_iter().filter_map(look).collect::<Vec<_>>().into_iter().collect()
}
