//! Which blocks carry a change bar. A bar stands in the margin beside what changed since the last release, with the
//! letter of the change (as NAVEDTRA 14022 describes change symbols: a line in the margin beside the changed matter).

use std::collections::BTreeSet;
use std::sync::Arc;

use super::block::Origin;
use crate::change::{Change, ItemChange, SHOWN_COLUMNS, only_typing_errors};
use crate::resolve::{Resolved, ResolvedStep};
use crate::units::{Designation, PartNumber, StepId};

/// The change bars of a document.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bars {
    /// What stands at a bar: the letter, or `new` in a working copy.
    pub letter: Arc<str>,
    origins: BTreeSet<Origin>,
    /// Steps that are new.
    whole: BTreeSet<StepId>,
}

impl Bars {
    /// What stands at the bar of a block of this origin, where it has one.
    pub fn at(&self, origin: &Origin) -> Option<&Arc<str>> {
        let new = origin.step.as_ref().is_some_and(|s| self.whole.contains(s));
        (new || self.origins.contains(origin)).then_some(&self.letter)
    }

    /// Without the bars beside all of a new step.
    #[must_use]
    pub fn of_changes_only(mut self) -> Self {
        self.whole.clear();
        self
    }

    /// No block has one.
    pub fn is_empty(&self) -> bool {
        self.origins.is_empty() && self.whole.is_empty()
    }

    /// The bars of the target of `change`. `before` is the source's configuration, `base` the letter it was released
    /// under: texts in which the author says that only typing errors were mended since then get none.
    pub fn of(change: &Change, before: &Resolved, after: &Resolved, base: &str, letter: &str) -> Self {
        let mut bars = Self { letter: letter.into(), ..Self::default() };
        bars.whole.extend(change.added.iter().map(|s| s.id.clone()));
        for changed in &change.changed {
            let Some(step) = after.step(&changed.step.id) else { continue };
            let typing_errors = only_typing_errors(&step.step, base);
            for item in &changed.items {
                if !(typing_errors && matches!(item.field.as_str(), "text" | "title")) {
                    bars.item(step, item);
                }
            }
        }
        for step in &after.steps {
            let id = &step.step.id.value;
            if let Some(old) = before.step(id) {
                bars.hardware(old, step);
            }
            let listed =
                |row: &crate::change::ListRow| row.cells.iter().any(|(c, ..)| SHOWN_COLUMNS.contains(&c.as_str()));
            for item in &step.step.parts {
                if change.part_rows.iter().any(|r| r.name == item.part.as_str() && listed(r)) {
                    bars.put(id, "parts", item.index);
                }
            }
            for (i, need) in step.hardware.iter().enumerate() {
                if change.hardware_rows.iter().any(|r| r.name == need.designation.as_str() && listed(r)) {
                    bars.put(id, "hardware", i);
                }
            }
        }
        bars.sections(before, after);
        bars.lists(change, after);
        for (page, items) in &change.pages {
            let Some(kind) = crate::model::PageKind::ALL.into_iter().find(|k| k.word() == page) else { continue };
            for item in items {
                let at = item.index.or(item.near).unwrap_or(0);
                bars.origins.insert(Origin { step: None, field: kind.word(), item: at });
            }
        }
        bars
    }

    /// Openings of sections that are new or say something else.
    fn sections(&mut self, before: &Resolved, after: &Resolved) {
        for (item, section) in after.sections.iter().enumerate() {
            let old = before.sections.iter().find(|s| s.id == section.id);
            if old.is_none_or(|o| (&o.title, &o.intro) != (&section.title, &section.intro)) {
                self.origins.insert(Origin { step: None, field: SECTION, item });
            }
        }
    }

    /// Rows of the parts list and the hardware list. What is no more leaves its mark at the row that stands there now.
    fn lists(&mut self, change: &Change, after: &Resolved) {
        let shown = |row: &&crate::change::ListRow| row.cells.iter().any(|(c, ..)| SHOWN_COLUMNS.contains(&c.as_str()));
        let names = |quantities: &[crate::change::Quantities], rows: &[crate::change::ListRow]| -> Vec<String> {
            quantities.iter().map(|q| q.name.clone()).chain(rows.iter().filter(shown).map(|r| r.name.clone())).collect()
        };
        for name in names(&change.parts, &change.part_rows) {
            let number = PartNumber::new(name);
            let item = after
                .ledger
                .parts
                .keys()
                .position(|n| *n >= number)
                .unwrap_or(after.ledger.parts.len().saturating_sub(1));
            self.origins.insert(Origin { step: None, field: PARTS_LIST, item });
        }
        for name in names(&change.hardware, &change.hardware_rows) {
            let name = Designation::new(name);
            let all = &after.ledger.hardware;
            let item = all.keys().position(|n| *n >= name).unwrap_or(all.len().saturating_sub(1));
            self.origins.insert(Origin { step: None, field: HARDWARE_LIST, item });
        }
    }

    fn put(&mut self, step: &StepId, field: &'static str, item: usize) {
        self.origins.insert(Origin { step: Some(step.clone()), field, item });
    }

    fn item(&mut self, step: &ResolvedStep, item: &ItemChange) {
        let id = &step.step.id.value;
        // What was taken out leaves its mark beside what stands there now, or at the head.
        let at = item.index.or(item.near);
        let field = item.field.as_str();
        let row = ROWS.iter().find(|r| **r == field);
        match (field, row, at) {
            ("figures" | "picture", _, Some(index)) => {
                let place = step.step.figures.iter().position(|f| f.index == index);
                match place {
                    Some(place) => self.put(id, "figures", place),
                    None => self.put(id, "title", 0),
                }
            }
            ("tools" | "consumables", ..) => self.put(id, "tools", 0),
            ("inspect", ..) if !step.step.inspects.is_empty() => self.put(id, "inspect", 0),
            // Compared as they are shown: those of joints and of the list together.
            ("hardware", ..) => {}
            (_, Some(field), Some(index)) => self.put(id, field, index),
            _ => self.put(id, "title", 0),
        }
    }

    fn hardware(&mut self, old: &ResolvedStep, new: &ResolvedStep) {
        let id = &new.step.id.value;
        let same = |a: &crate::resolve::HardwareNeed, b: &crate::resolve::HardwareNeed| {
            a.designation == b.designation && a.quantity == b.quantity && a.action == b.action
        };
        for (i, need) in new.hardware.iter().enumerate() {
            if !old.hardware.iter().any(|o| same(o, need)) {
                self.put(id, "hardware", i);
            }
        }
        let gone = old.hardware.iter().any(|o| !new.hardware.iter().any(|n| n.designation == o.designation));
        if gone {
            if new.hardware.is_empty() { self.put(id, "title", 0) } else { self.put(id, "hardware", 0) }
        }
    }
}

/// The fields of blocks that belong to no step: a section's opening by its place among the sections, a row of a list by
/// its place in the ledger.
pub(super) const SECTION: &str = "section";
pub(super) const PARTS_LIST: &str = "parts-list";
pub(super) const HARDWARE_LIST: &str = "hardware-list";

/// Lists whose items are rows or blocks with an origin of their own.
const ROWS: [&str; 15] = [
    "parts",
    "joints",
    "cuts",
    "bends",
    "flattened",
    "cables",
    "bonds",
    "cured",
    "wires",
    "offsets",
    "holes",
    "measure",
    "safety",
    "sign-off",
    "text",
];
