//! The hardware a step needs: derived from its joints, cables and wires, and listed where it is in none of them.

use indexmap::IndexMap;

use crate::model::{HardwareAction, Step};
use crate::source::Span;
use crate::units::{Designation, Length, Quantity, Rational, Unit};

/// How much of one item a step handles, and how.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HardwareNeed {
    pub designation: Designation,
    pub quantity: Quantity,
    pub action: HardwareAction,
    /// Where it is written first.
    pub span: Span,
    /// It comes from joints, cables or wires.
    pub from_joint: bool,
}

/// An item that stands in joints or cables and in the list of one step: compared, never added.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Doubled {
    pub designation: Designation,
    pub joints: Quantity,
    pub listed: Quantity,
    pub joint_span: Span,
    pub listed_span: Span,
}

/// A length as an item is counted: by the foot or the metre; what is counted each is one.
fn off_the_roll(length: Length, unit: Option<Unit>) -> Quantity {
    match unit.map_or(Unit::Foot, Unit::of_a_length) {
        Unit::Metre => Quantity { value: length.as_inches() * Rational::new(127, 5_000), unit: Unit::Metre },
        Unit::Each => Quantity::each(1),
        unit => Quantity { value: length.as_inches() / Rational::from_integer(12), unit },
    }
}

/// The hardware of a step whose conditions are decided. Items keep the order in which they are written; those of
/// joints come first.
pub fn needs(step: &Step, unit_of: impl Fn(&Designation) -> Option<Unit>) -> (Vec<HardwareNeed>, Vec<Doubled>) {
    let mut needs: IndexMap<(Designation, HardwareAction), HardwareNeed> = IndexMap::new();
    let mut put = |designation: &Designation, quantity: Quantity, action, span| {
        let need = needs.entry((designation.clone(), action)).or_insert_with(|| HardwareNeed {
            designation: designation.clone(),
            quantity: Quantity::none(quantity.unit),
            action,
            span,
            from_joint: true,
        });
        need.quantity.value += quantity.value;
    };
    for wire in &step.wires {
        if let Some(roll) = &wire.hardware {
            let quantity = off_the_roll(wire.length.value, unit_of(&roll.value));
            put(&roll.value, quantity, HardwareAction::Fit, roll.span);
        }
        for terminal in wire.terminals.iter().flatten() {
            put(&terminal.value, Quantity::each(1), HardwareAction::Fit, terminal.span);
        }
    }
    for cable in &step.cables {
        let Some((sheath, length)) = cable.sheath.as_ref().zip(cable.sheath_length.as_ref()) else { continue };
        let roll = Designation::new(&sheath.value);
        // Else it is a part.
        if let Some(unit) = unit_of(&roll) {
            put(&roll, off_the_roll(length.value, Some(unit)), HardwareAction::Fit, sheath.span);
        }
    }
    let mut add = |designation: &Designation, n: i64, action, span| put(designation, Quantity::each(n), action, span);
    for joint in &step.joints {
        let places = joint.places;
        add(&joint.fastener.value, places, joint.action, joint.fastener.span);
        for (washer, n) in joint.under_head.iter().chain(&joint.under_nut) {
            add(&washer.value, n * places, joint.action, washer.span);
        }
        for item in joint.nut.iter().chain(&joint.pin) {
            add(&item.value, places, joint.action, item.span);
        }
    }
    for (item, n) in step.cables.iter().flat_map(|c| c.ends()).flatten().flat_map(|end| end.hardware()) {
        add(&item.value, n, HardwareAction::Fit, item.span);
    }
    let mut doubled = Vec::new();
    for item in &step.hardware {
        let key = (item.hardware.value.clone(), item.action);
        match needs.get_mut(&key) {
            Some(need) if need.from_joint => doubled.push(Doubled {
                designation: key.0,
                joints: need.quantity,
                listed: item.quantity,
                joint_span: need.span,
                listed_span: item.quantity_span,
            }),
            Some(need) if need.quantity.unit == item.quantity.unit => need.quantity.value += item.quantity.value,
            _ => {
                needs.insert(
                    key.clone(),
                    HardwareNeed {
                        designation: key.0,
                        quantity: item.quantity,
                        action: item.action,
                        span: item.hardware.span,
                        from_joint: false,
                    },
                );
            }
        }
    }
    (needs.into_values().collect(), doubled)
}
