//! How tight a nut is drawn: the table where it holds, the designer's value where one is given.

use super::stack::{Member, clamped};
use crate::model::{HardwareAction, Joint, ThreadCondition, TorqueRange};
use crate::trade::{
    Against, Cited, Clamped, Decoded, Motion, NoTableTorque, ThreadState, Torque, compare_torque, inch_pounds,
    table_torque, torque_for,
};

/// What is known of a joint's torque.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Tightening {
    /// Nothing is drawn tight: a rivet or a pin, or the joint comes apart.
    None,
    /// The table's range, which holds here.
    Table(Cited<Torque>),
    /// The designer's value; the table's where it holds, else why it does not.
    Designer { range: TorqueRange, table: Result<Cited<Torque>, NoTableTorque>, against: Option<Against> },
    /// Neither: the designer has to say.
    Required(NoTableTorque),
}

/// What the torque is for; dry where nothing is said.
pub fn thread_state(joint: &Joint) -> ThreadState {
    match joint.condition.as_ref().map(|c| c.value) {
        Some(ThreadCondition::Greased) => ThreadState::Greased,
        _ => ThreadState::Dry,
    }
}

pub(super) fn tightening(joint: &Joint, fastener: &Decoded, nut: Option<&Decoded>, members: &[Member]) -> Tightening {
    // What comes off is not drawn tight.
    if !fastener.form.drawn() || joint.action == HardwareAction::Remove {
        return Tightening::None;
    }
    let motion = if joint.bolt_turns() { Motion::Turns } else { Motion::Fixed };
    let clamped: Clamped = clamped(members);
    let table = table_torque(fastener, nut, clamped, motion, thread_state(joint));
    match (&joint.torque, table) {
        (Some(range), table) => {
            // A table that does not hold is still compared with: a value that reaches it was taken from it.
            let known = table.ok().or_else(|| nut.and_then(torque_for));
            let against = known
                .zip(inch_pounds(range.least).zip(inch_pounds(range.most)))
                .map(|(known, (least, most))| compare_torque(least, most, known.value));
            Tightening::Designer { range: range.value, table, against }
        }
        (None, Ok(torque)) => Tightening::Table(torque),
        (None, Err(why)) => Tightening::Required(why),
    }
}
