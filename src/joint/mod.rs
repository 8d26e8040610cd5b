//! Fastened joints and the holes they need, read into values and judged.
//!
//! Owns: what a manual's hardware is in values, how thick a stack is, whether a bolt fits it, what torque holds, the
//! ledgers of holes and of finishes. Must not know: rules, documents, wording beyond that of `trade`.

mod choice;
mod critical;
mod finish;
mod hole_blame;
mod hole_fault;
mod hole_ledger;
mod hole_place;
mod hole_record;
mod hole_use;
mod item;
mod reading;
mod seen;
mod stack;
mod threaded;
mod tightening;

pub use choice::choices;
pub use critical::{lives_hang_on, recalled};
pub use finish::{FinishFault, finish_faults};
pub use hole_fault::{HoleFault, HoleFaultKind};
pub use hole_ledger::HoleLedger;
pub use hole_place::{Near, NearWhat, too_near};
pub use hole_record::{HoleGroup, HoleRecord, Supply, Work};
pub use item::{Conflict, HardwareItem, Items};
pub use reading::{Reading, motion, read, rules_for};
pub use seen::{SeenJoint, seen};
pub use stack::{Member, Unmeasured, passed_by_pin};
pub use threaded::Threaded;
pub use tightening::{Tightening, thread_state};
