//! A configuration made: steps that hold, in order and numbered, with final quantities.

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;

use super::Configuration;
use super::count::{BoxCount, Wait, counts, waits};
use super::effectivity::{Facts, applies};
use super::ledger::{Ledger, book};
use super::needs::{Doubled, HardwareNeed, needs};
use super::order::{OrderFault, order, waited_for};
use super::shipped::{AsShipped, put_in_place};
use super::text::{decide, put_roles_in};
use super::tree::decide_tree;
use crate::model::{Manual, Opposite, Page, Step};
use crate::source::Span;
use crate::units::{Designation, PartNumber, Quantity, SectionId, StepId};

/// A step's number: its section's and its own, both from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StepNumber {
    pub section: u32,
    pub step: u32,
}

impl std::fmt::Display for StepNumber {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}.{}", self.section, self.step)
    }
}

/// A step in its place. Every condition in it is decided and taken out.
#[derive(Clone, Debug)]
pub struct ResolvedStep {
    pub number: StepNumber,
    pub step: Step,
    /// From joints and list, in the order written.
    pub hardware: Vec<HardwareNeed>,
    pub doubled: Vec<Doubled>,
    /// Where the step holds, in words, where that is not everywhere.
    pub effectivity: Option<String>,
}

impl ResolvedStep {
    /// Whether it lists a part or hardware, whatever is done to it.
    pub fn handles(&self, item: &str) -> bool {
        self.step.parts.iter().any(|p| p.part.as_str() == item)
            || self.hardware.iter().any(|h| h.designation.as_str() == item)
    }
}

/// A section that has steps in this configuration.
#[derive(Clone, Debug)]
pub struct ResolvedSection {
    /// From 1.
    pub number: u32,
    pub id: SectionId,
    pub title: String,
    pub intro: Option<String>,
    /// Its steps, as a range of [`Resolved::steps`].
    pub steps: std::ops::Range<usize>,
}

/// How many of a part the crate holds, and the cells that say so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    pub count: i64,
    /// The variant's cell (its own or inherited), then the options'.
    pub cells: Vec<Span>,
}

/// The manual for one configuration. Every document is made from this and nothing else.
#[derive(Clone, Debug)]
pub struct Resolved {
    pub configuration: Configuration,
    /// `ICE+brake`
    pub name: String,
    /// In words.
    pub title: String,
    pub sections: Vec<ResolvedSection>,
    pub steps: Vec<ResolvedStep>,
    /// Parts with a count other than zero.
    pub listed: BTreeMap<PartNumber, Listed>,
    pub ledger: Ledger,
    pub order_faults: Vec<OrderFault>,
    /// Of each step with `after` the steps that this stands for here: those that the configuration lacks pass theirs on.
    pub after: BTreeMap<StepId, BTreeSet<StepId>>,
    pub pages: Vec<Page>,
    /// What is otherwise in the kit, where it is one.
    pub shipped: AsShipped,
    /// Of each part and item of hardware: what is needed, what lies in the crates.
    pub counts: BTreeMap<String, BoxCount>,
    /// The steps that wait for what is on back order, and for what.
    pub waits: BTreeMap<StepId, Vec<Wait>>,
}

impl Resolved {
    /// The step with this id.
    pub fn step(&self, id: &StepId) -> Option<&ResolvedStep> {
        self.steps.iter().find(|s| s.step.id.value == *id)
    }

    /// How many of a part, or how much of hardware, the kit holds; none where it holds none.
    pub fn total(&self, item: &str) -> Option<Quantity> {
        let part = self.listed.get(&PartNumber::new(item)).map(|l| Quantity::each(l.count));
        part.or_else(|| self.ledger.hardware.get(&Designation::new(item)).map(|h| h.need))
    }
}

/// Resolves the manual for a configuration.
pub fn resolve(manual: &Manual, configuration: &Configuration) -> Resolved {
    let settings = &manual.settings;
    let facts = Facts { settings, configuration };
    let (mut here, mut absent): (Vec<&Step>, BTreeMap<StepId, Vec<StepId>>) = (Vec::new(), BTreeMap::new());
    for step in &manual.steps {
        if applies(step.only.as_ref(), &facts) {
            here.push(step);
        } else {
            let after = step.after.iter().filter(|a| applies(a.only.as_ref(), &facts));
            absent.insert(step.id.value.clone(), after.map(|a| a.value.value.clone()).collect());
        }
    }
    let mut filtered: Vec<Step> = here.par_iter().map(|s| filter(s, &facts)).collect();
    for step in &mut filtered {
        let (made, hand) = (matches!(step.opposite, Opposite::Of(_)), step.hand.map(|h| h.value));
        put_roles_in(&mut step.body, &manual.roles, &configuration.variant, hand, made);
    }
    let shipped = if configuration.deviations.is_empty() {
        AsShipped::default()
    } else {
        let plain = resolve(manual, &configuration.without_deviations());
        put_in_place(manual, &plain, &configuration.deviations, &mut filtered, &facts)
    };
    let section_ids: Vec<SectionId> = settings.sections.iter().map(|s| s.id.value.clone()).collect();
    let refs: Vec<&Step> = filtered.iter().collect();
    let (ordered, order_faults) = order(&refs, &absent, &section_ids);
    let after = waited_for(&refs, &absent);

    let mut slots: Vec<Option<Step>> = filtered.into_iter().map(Some).collect();
    let mut sections: Vec<ResolvedSection> = Vec::new();
    let mut steps: Vec<ResolvedStep> = Vec::with_capacity(ordered.len());
    for i in ordered {
        let Some(step) = slots[i].take() else { continue };
        // A step of an unknown section is in no document; the rule says so.
        let Some(section) = settings.sections.iter().find(|s| s.id.value == step.section.value) else { continue };
        if sections.last().is_none_or(|s| s.id != section.id.value) {
            sections.push(ResolvedSection {
                number: sections.len() as u32 + 1,
                id: section.id.value.clone(),
                title: section.title.clone(),
                intro: section.intro.clone(),
                steps: steps.len()..steps.len(),
            });
        }
        let Some(section) = sections.last_mut() else { continue };
        let number = StepNumber { section: section.number, step: section.steps.len() as u32 + 1 };
        section.steps.end += 1;
        let effectivity = here[i].only.as_ref().map(|c| super::in_words(&c.value));
        let (hardware, doubled) = needs(&step, |d| manual.hardware.get(d).map(|h| h.unit));
        steps.push(ResolvedStep { number, step, hardware, doubled, effectivity });
    }
    let mut listed = listed(manual, configuration);
    for (number, more) in &shipped.parts {
        let entry = listed.entry(number.clone()).or_insert(Listed { count: 0, cells: Vec::new() });
        entry.count += more;
        if entry.count == 0 {
            listed.remove(number);
        }
    }
    let ledger = book(manual, &listed, &steps);
    let mut pages: Vec<Page> = manual
        .pages
        .iter()
        .filter(|p| applies(p.only.as_ref(), &facts))
        .map(|p| Page { only: None, body: decide(p.body.clone(), &facts), ..p.clone() })
        .collect();
    for page in &mut pages {
        put_roles_in(&mut page.body, &manual.roles, &configuration.variant, None, false);
    }
    pages.sort_by_key(|p| p.kind);
    let mut shipped = shipped;
    let counts = counts(manual, &ledger, &configuration.deviations, &mut shipped.faults);
    let waits = waits(&ledger, &counts, &configuration.deviations);
    Resolved {
        name: configuration.name(settings),
        title: configuration.title(settings),
        configuration: configuration.clone(),
        sections,
        steps,
        listed,
        ledger,
        order_faults,
        after,
        pages,
        shipped,
        counts,
        waits,
    }
}

/// A kit that was built as `first`, and then the steps of `more` done to it: the same steps under their numbers there,
/// with what both of them list, booked one after the other.
pub fn in_turn(manual: &Manual, first: &Resolved, more: &Resolved, name: String) -> Resolved {
    let steps: Vec<ResolvedStep> = first.steps.iter().chain(&more.steps).cloned().collect();
    let mut listed = first.listed.clone();
    for (number, l) in &more.listed {
        let entry = listed.entry(number.clone()).or_insert(Listed { count: 0, cells: Vec::new() });
        entry.count += l.count;
    }
    let ledger = book(manual, &listed, &steps);
    Resolved { name, steps, listed, ledger, ..more.clone() }
}

/// What the parts list says for a configuration: the variant's cell or the nearest it is based on, and the options' added.
fn listed(manual: &Manual, configuration: &Configuration) -> BTreeMap<PartNumber, Listed> {
    let line = manual.settings.lineage(&configuration.variant);
    let mut listed = BTreeMap::new();
    for (number, part) in &manual.parts {
        let own = line.iter().find_map(|v| part.variants.get(*v));
        let added = configuration.options.iter().filter_map(|o| part.options.get(o));
        let cells: Vec<_> = own.into_iter().chain(added).collect();
        let count: i64 = cells.iter().map(|c| c.count).sum();
        if count != 0 {
            listed.insert(number.clone(), Listed { count, cells: cells.iter().map(|c| c.span).collect() });
        }
    }
    listed
}

/// The step with every condition decided. One with conditions inside is read again from its tree without what does not
/// hold, so that no key is kept that has been forgotten here.
fn filter(step: &Step, facts: &Facts) -> Step {
    let body = decide(step.body.clone(), facts);
    let inside = step.conditions.keys().any(|span| step.only.as_ref().is_none_or(|only| only.span != *span));
    if !inside {
        return Step { only: None, body, ..step.clone() };
    }
    match decide_tree(&step.front, facts) {
        Some(tree) => {
            let mut step = step.read_again(tree, body);
            facts.settings.joint_kinds.fill(&mut step);
            step
        }
        None => Step { only: None, body, ..step.clone() },
    }
}
