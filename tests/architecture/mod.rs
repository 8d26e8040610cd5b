//! The shape of the code: which module may know which, and what only one place may use.

mod crates;
mod layers;
mod places;
mod rule_ids;
pub mod rust_text;
mod type_names;
