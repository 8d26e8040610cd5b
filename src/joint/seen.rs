//! The joints of all configurations, each different one once.

use std::collections::BTreeMap;

use super::{Items, Reading, read};
use crate::model::{Joint, Manual, StepItem};
use crate::resolve::Resolved;
use crate::source::Span;
use crate::units::StepId;

/// A joint as it stands in some configurations: the same words may clamp other parts in others.
#[derive(Clone, Debug)]
pub struct SeenJoint<'a> {
    pub step: &'a StepId,
    pub joint: &'a StepItem<Joint>,
    pub reading: Reading<'a>,
    /// Names of the configurations, in order.
    pub configurations: Vec<&'a str>,
}

/// Every joint as it stands in at least one configuration, in the order in which it is met.
pub fn seen<'a>(
    manual: &'a Manual,
    items: &Items,
    resolved: impl IntoIterator<Item = &'a Resolved>,
) -> Vec<SeenJoint<'a>> {
    let mut at: BTreeMap<(Span, Vec<usize>), usize> = BTreeMap::new();
    let mut list: Vec<SeenJoint> = Vec::new();
    for r in resolved {
        for s in &r.steps {
            for joint in &s.step.joints {
                let members = joint.stack.iter().map(|m| m.index).collect();
                let index = *at.entry((joint.span, members)).or_insert_with(|| {
                    let reading = read(manual, items, joint);
                    list.push(SeenJoint { step: &s.step.id.value, joint, reading, configurations: Vec::new() });
                    list.len() - 1
                });
                list[index].configurations.push(&r.name);
            }
        }
    }
    list
}
