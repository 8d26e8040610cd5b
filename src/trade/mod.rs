//! The trade's tables and algorithms, pure: signal words, designations, drills, fits.
//!
//! Owns: published values with their sources. Must not know: any manual.

mod safety;

pub use safety::SafetyWord;
