//! How tight a nut is drawn: the table where it holds, the designer's value where one is given.

use super::stack::{Member, clamped};
use crate::model::{Joint, TorqueRange};
use crate::trade::{
    Against, Cited, Clamped, Decoded, ItemForm, Motion, NoTableTorque, Torque, compare_torque, table_torque, torque_for,
};
use crate::units::{Measure, MeasureUnit, Rational};

/// What is known of a joint's torque.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Tightening {
    /// Nothing is turned: a rivet or a pin.
    None,
    /// The table's range, which holds here.
    Table(Cited<Torque>),
    /// The designer's value; the table's where it holds, else why it does not.
    Designer { range: TorqueRange, table: Result<Cited<Torque>, NoTableTorque>, against: Option<Against> },
    /// Neither: the designer has to say.
    Required(NoTableTorque),
}

pub(super) fn tightening(joint: &Joint, fastener: &Decoded, nut: Option<&Decoded>, members: &[Member]) -> Tightening {
    let turned = matches!(
        fastener.form,
        ItemForm::Bolt | ItemForm::FullThreadBolt | ItemForm::SocketScrew | ItemForm::ClevisBolt | ItemForm::Eyebolt
    );
    if !turned {
        return Tightening::None;
    }
    let motion = if joint.turns { Motion::Turns } else { Motion::Fixed };
    let clamped: Clamped = clamped(members);
    let table = table_torque(nut, clamped, motion);
    match (&joint.torque, table) {
        (Some(range), table) => {
            // A table that does not hold is still compared with: a value that reaches it was taken from it.
            let known = table.ok().or_else(|| nut.and_then(torque_for));
            let against =
                known.map(|known| compare_torque(inch_pounds(range.least), inch_pounds(range.most), known.value));
            Tightening::Designer { range: range.value, table, against }
        }
        (None, Ok(torque)) => Tightening::Table(torque),
        (None, Err(why)) => Tightening::Required(why),
    }
}

/// A torque in in-lb. One in-lb is 0.112 984 83 N m.
fn inch_pounds(torque: Measure) -> Rational {
    match torque.unit {
        MeasureUnit::NewtonMetre => torque.value * Rational::new(100_000, 11_298),
        _ => torque.value,
    }
}
