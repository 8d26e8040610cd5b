//! Reading a manual's folder and lowering its trees into typed values.
//!
//! An unreadable value becomes one diagnostic and is left out or replaced by a placeholder that later stages
//! pass over in silence.

mod fastening;
mod fields;
mod holes;
mod items;
mod kits;
mod parts;
mod read;
mod settings;
mod step;
mod step_keys;
mod strays;
mod tables;

pub use fields::Key;
pub use holes::HOLE_COLUMNS;
pub use kits::{KIT_COLUMNS, SHIPPED_COLUMNS};
pub use parts::{HARDWARE_COLUMNS, PART_COLUMNS, STOCK_COLUMNS};
pub use read::{Read, read};
pub use settings::MANUAL_KEYS;
pub use step_keys::{STEP_ITEM_KEYS, STEP_KEYS};
