//! Reading a manual's folder and lowering its trees into typed values.
//!
//! An unreadable value becomes one diagnostic and is left out or replaced by a placeholder that later stages
//! pass over in silence.

mod adhesives;
mod fastening;
mod fields;
mod holes;
mod items;
mod joint_kinds;
mod kits;
mod parts;
mod read;
mod settings;
mod step;
mod strays;
mod tables;

pub use read::{Read, read, read_after};
pub(super) use step::step as read_step;
