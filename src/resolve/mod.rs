//! Making a configuration: effectivity applied (here and nowhere else), steps ordered and numbered,
//! quantities booked.
//!
//! Owns: configurations, conditions decided, order, the ledger. Must not know: rules, documents.

mod conditions;
mod configuration;
mod configure;
mod count;
mod effectivity;
mod ledger;
mod needs;
mod order;
mod serials;
mod shipped;
#[cfg(test)]
mod tests;
mod text;
mod tree;

pub use conditions::{PlacedCondition, conditions, undecided, widened};
pub use configuration::{
    Choice, Configuration, ConfigurationRefusal, allowed, configurations, declared, kit_serial, meant_configuration,
    parse_configuration,
};
pub use configure::{Listed, Resolved, ResolvedSection, ResolvedStep, StepNumber, in_turn, resolve};
pub use count::{BoxCount, Wait};
pub use effectivity::{Facts, Verdict, explain, holds, in_words};
pub use ledger::{HardwareAccount, Ledger, PartAccount, PartFault, PartFaultKind, Pull};
pub use needs::{Doubled, HardwareNeed, needs};
pub use order::{OrderFault, order};
pub use serials::{SerialRange, serial_ranges};
pub use shipped::{AsShipped, ShippedFault, ShippedFaultKind};
pub use tree::{decide_tree, numbered};
