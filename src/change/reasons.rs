//! Why the page of a step says something else: what changed in it, and in the rows of the lists that it rests on.

use std::collections::BTreeSet;

use super::compare::{Change, ItemChange};
use super::list_rows::ListRow;
use crate::resolve::ResolvedStep;

impl Change {
    /// What changed in a step of the target and in the parts and hardware that it names. Empty where the reason lies
    /// elsewhere: in what an earlier step takes, in a title that it refers to, in the settings.
    pub fn reasons(&self, s: &ResolvedStep) -> Vec<ItemChange> {
        let own = self.changed.iter().find(|c| c.step.id == s.step.id.value);
        let mut reasons = own.map_or_else(Vec::new, |c| c.items.clone());
        let named = named(s);
        let mut of = |field: &str, rows: &[ListRow]| {
            for row in rows.iter().filter(|row| named.contains(row.name.as_str())) {
                reasons.extend(row.cells.iter().map(|(column, before, after)| ItemChange {
                    field: field.to_owned(),
                    name: format!("{} {column}", row.name),
                    before: (!before.is_empty()).then(|| before.clone()),
                    after: (!after.is_empty()).then(|| after.clone()),
                    index: None,
                    near: None,
                }));
            }
        };
        of("part", &self.part_rows);
        of("hardware", &self.hardware_rows);
        reasons
    }
}

/// The parts and the hardware that a step names anywhere outside its text.
fn named(s: &ResolvedStep) -> BTreeSet<&str> {
    let step = &s.step;
    let mut names: BTreeSet<&str> = step.parts.iter().map(|p| p.part.as_str()).collect();
    names.extend(s.hardware.iter().map(|h| h.designation.as_str()));
    for joint in &step.joints {
        names.extend(joint.stack.iter().map(|m| m.part.as_str()));
    }
    for cut in &step.cuts {
        names.insert(cut.part.as_str());
        names.extend(cut.onto.iter().map(|p| p.as_str()));
    }
    for hole in &step.holes {
        names.insert(hole.part.as_str());
        names.extend(hole.from.iter().map(|p| p.as_str()));
    }
    names.extend(step.bends.iter().map(|b| b.part.as_str()));
    names.extend(step.flattened.iter().map(|f| f.part.as_str()));
    names.extend(step.cables.iter().filter_map(|c| c.part.as_ref()).map(|p| p.as_str()));
    names
}
