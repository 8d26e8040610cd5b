//! What another fault explains: so that one cause stays one finding.
//!
//! A mistyped number leaves the part that was meant over; a step that can't be read leaves all its parts over. Findings
//! that rest on such things are held back until their cause is mended. Nothing is lost by it: the cause is reported.

use std::collections::BTreeSet;

use super::conditions::Conditions;
use super::names::{Kind, Names};
use super::rules::material_differs::differs;
use super::rules::stock_incomplete::missing;
use super::{Balance, HandFault};
use crate::diag::{Diagnostic, Level};
use crate::model::{Manual, Part, Step, StepItem};
use crate::resolve::{PartFaultKind, Resolved};
use crate::source::Span;
use crate::units::{AssemblyId, Designation, FigureName, PartNumber, StepId};

/// Names whose findings are held back.
#[derive(Debug, Default)]
pub struct Excuses {
    pub parts: BTreeSet<PartNumber>,
    /// Parts whose stock could not be read.
    pub sizes: BTreeSet<PartNumber>,
    /// Parts of which something could not be read: a cell, a hole, their stock.
    pub unread: BTreeSet<PartNumber>,
    /// Parts of which another finding, one that can't be accepted, says that their thickness or material is in doubt:
    /// what follows from it for joints waits until that is mended.
    pub doubtful: BTreeSet<PartNumber>,
    pub hardware: BTreeSet<Designation>,
    pub figures: BTreeSet<FigureName>,
    pub assemblies: BTreeSet<AssemblyId>,
    /// Steps whose place in the order is not what the author meant.
    pub steps: BTreeSet<StepId>,
    /// Something of the steps could not be read: that a thing is used nowhere proves nothing.
    pub steps_unread: bool,
}

impl Excuses {
    pub fn new(
        manual: &Manual,
        resolved: &[Resolved],
        names: &Names,
        conditions: &Conditions,
        balance: &Balance,
        hands: &[HandFault],
        faults: &[Diagnostic],
    ) -> Self {
        let mut excuses = Self::default();
        excuses.misspelt(manual, resolved, names, balance);
        for step in &manual.steps {
            excuses.lost(names, conditions, step);
        }
        for hand in hands {
            if let HandFault::Part { part, .. } = hand {
                excuses.parts.insert(part.number.value.clone());
                excuses.parts.extend(part.opposite.as_ref().map(|o| o.value.clone()));
            }
        }
        excuses.unread(manual, faults);
        let doubtful = manual.parts.values().filter(|p| in_doubt(manual, p)).map(|p| p.number.value.clone());
        excuses.doubtful = doubtful.chain(excuses.sizes.iter().cloned()).collect();
        excuses
    }

    /// The things that were probably meant by names that do not exist.
    fn misspelt(&mut self, manual: &Manual, resolved: &[Resolved], names: &Names, balance: &Balance) {
        let faults = || resolved.iter().flat_map(|r| &r.ledger.faults);
        let faulted: BTreeSet<&PartNumber> = faults()
            .filter_map(|f| match &f.kind {
                PartFaultKind::RemovedBeforeFitted(p)
                | PartFaultKind::RefittedBeforeRemoved(p)
                | PartFaultKind::PartNotThere(p, _) => Some(p),
                _ => None,
            })
            .collect();
        let parts: Vec<_> = manual.parts.keys().filter(|p| balance.is_left_over(p) || faulted.contains(p)).collect();
        for (unknown, _) in names.unknown(Kind::Part) {
            self.parts.extend(meant(unknown, parts.iter().map(|p| p.as_str())).into_iter().map(PartNumber::new));
        }
        let loose: BTreeSet<&Designation> = faults()
            .filter_map(|f| match &f.kind {
                PartFaultKind::HardwareNotThere(h) | PartFaultKind::HardwareNotOff(h) => Some(h),
                _ => None,
            })
            .collect();
        let hardware: Vec<_> = manual.hardware.keys().filter(|h| !is_fitted(names, h) || loose.contains(h)).collect();
        for (unknown, _) in names.unknown(Kind::Hardware) {
            self.hardware.extend(meant(unknown, hardware.iter().map(|h| h.as_str())).into_iter().map(Designation::new));
        }
        let unused: Vec<_> =
            manual.figures.keys().filter(|f| names.mentions(Kind::Figure, f.as_str()).is_empty()).collect();
        for (unknown, _) in names.unknown(Kind::Figure) {
            self.figures.extend(meant(unknown, unused.iter().map(|f| f.as_str())).into_iter().map(FigureName::new));
        }
    }

    /// What a step leaves behind that is in no document, as a whole or in some of its items.
    fn lost(&mut self, names: &Names, conditions: &Conditions, step: &Step) {
        let no_section = !names.is_known(Kind::Section, step.section.as_str());
        let whole = no_section || conditions.loses(step.only.as_ref());
        fn lost<T>(item: &StepItem<T>, whole: bool, conditions: &Conditions) -> bool {
            whole || conditions.loses(item.only.as_ref())
        }
        if whole {
            self.steps.insert(step.id.value.clone());
        }
        for item in step.parts.iter().filter(|i| lost(i, whole, conditions)) {
            self.parts.insert(item.part.value.clone());
            self.parts.extend(item.becomes.iter().map(|(piece, _)| piece.value.clone()));
        }
        for item in step.makes.iter().filter(|i| lost(i, whole, conditions)) {
            self.assemblies.insert(item.value.value.clone());
        }
        for item in step.hardware.iter().filter(|i| lost(i, whole, conditions)) {
            self.hardware.insert(item.hardware.value.clone());
        }
        for joint in step.joints.iter().filter(|i| lost(i, whole, conditions)) {
            self.hardware.extend(joint.with_fastener().map(|h| h.value.clone()));
        }
        for after in step.after.iter() {
            if !names.is_known(Kind::Step, after.value.as_str()) || lost(after, whole, conditions) {
                self.steps.insert(step.id.value.clone());
            }
        }
    }

    /// What faults of reading have taken out of the manual.
    fn unread(&mut self, manual: &Manual, faults: &[Diagnostic]) {
        let read: BTreeSet<&str> = manual.steps.iter().map(|s| s.path.as_str()).collect();
        let steps = manual.paths.iter().filter(|p| p.starts_with("steps/") && p.to_lowercase().ends_with(".md"));
        self.steps_unread = steps.into_iter().any(|p| !read.contains(p.as_str()));
        let files: BTreeSet<_> = manual.steps.iter().map(|s| s.file).collect();
        for fault in faults.iter().filter(|f| f.level == Level::Error) {
            self.parts.extend(fault.about.iter().map(PartNumber::new));
            self.steps_unread |= fault.file.as_ref().is_some_and(|file| file.starts_with("steps/"));
            let Some(span) = fault.span else { continue };
            self.steps_unread |= files.contains(&span.file);
            for part in manual.parts.values() {
                if part.span.file == span.file && part.span.start <= span.start && span.end <= part.span.end {
                    self.parts.insert(part.number.value.clone());
                    self.unread.insert(part.number.value.clone());
                }
                let holes = manual.holes_of(&part.number.value).iter().map(|h| h.span);
                if holes.into_iter().any(|h| h.file == span.file && h.start <= span.start && span.end <= h.end) {
                    self.unread.insert(part.number.value.clone());
                }
                let stock = part.stock.as_ref().and_then(|s| manual.stock.get(&s.value)).map(|s| s.span);
                let within = |s: Span| s.file == span.file && s.start <= span.start && span.end <= s.end;
                // Of a line that is there twice one of the two was to be another.
                let twice = fault.notes.iter().any(|n| {
                    stock.is_some_and(|s| s.file == n.span.file && s.start <= n.span.start && n.span.end <= s.end)
                });
                if stock.is_some_and(within) || twice {
                    self.sizes.insert(part.number.value.clone());
                    self.unread.insert(part.number.value.clone());
                }
            }
        }
    }
}

/// Whether the stock of a part is not in the list, lacks sizes, or is of another material than the part.
fn in_doubt(manual: &Manual, part: &Part) -> bool {
    let Some(id) = &part.stock else { return false };
    manual.stock.get(&id.value).is_none_or(|stock| !missing(stock).is_empty() || differs(part, stock))
}

/// Whether any step fits an item of hardware.
pub fn is_fitted(names: &Names, hardware: &Designation) -> bool {
    let mentions = names.mentions(Kind::Hardware, hardware.as_str());
    mentions.iter().any(|m| m.how.replaces() || m.step.is_some() && m.how.fitted())
}

/// The candidates nearest to a name that does not exist, all that are equally near.
pub fn meant<'c>(unknown: &str, candidates: impl Iterator<Item = &'c str>) -> Vec<&'c str> {
    let limit = (unknown.chars().count() / 3).max(1);
    let wanted = unknown.to_lowercase();
    let distances = candidates.map(|c| (strsim::damerau_levenshtein(&wanted, &c.to_lowercase()), c));
    let near: Vec<_> = distances.filter(|(d, _)| *d <= limit).collect();
    let least = near.iter().map(|(d, _)| *d).min();
    near.into_iter().filter(|(d, _)| Some(*d) == least).map(|(_, c)| c).collect()
}
