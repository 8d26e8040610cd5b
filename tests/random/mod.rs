//! Random manuals: their order and their ledger against programs outside the project that read the same sources.

mod against;
pub mod dice;
pub mod manual;
