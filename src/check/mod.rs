//! The rules a manual is held against.
//!
//! Owns: what is wrong in a manual that could be read, rule by rule; levels and acceptances. Rules are pure: they read a
//! [`Context`] and return findings; what is a consequence of another fault is held back.
//! Must not know: how findings are shown, documents that are written.

mod balance;
mod conditions;
mod context;
mod coverage;
mod dropped;
mod excuses;
mod fastened;
mod further;
mod hands;
mod kits;
mod names;
mod placed;
mod prose;
pub mod reference;
mod rule;
mod rule_table;
pub mod rules;
mod run;
mod sentences;
mod settle;
mod swaps;
#[cfg(test)]
mod testing;
mod tools;
mod undecided;
mod unknown;
mod written;

pub use balance::{Balance, Misfit};
pub use context::Context;
pub use coverage::{Examined, coverage, coverage_line, coverage_text};
pub use excuses::{Excuses, is_fitted};
pub use further::Further;
pub use hands::HandFault;
pub use kits::{kit_faults, row_faults};
pub use names::Mention;
pub use placed::FigureOnPaper;
pub use rule::{Leave, Rule, Run};
pub use rule_table::RULES;
pub use run::{check, check_since, rule};
pub use settle::settle_late;
pub use swaps::Swaps;
pub use unknown::MOST_NOTES;
pub use written::{written_cable_faults, written_cables};
