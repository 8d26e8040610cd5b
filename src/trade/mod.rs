//! The trade's tables and algorithms, pure: signal words, designations, drills, fits.
//!
//! Owns: published values with their sources. Must not know: any manual.

mod cited;
mod decoded;
mod designation;
mod safety;
mod thread;

pub use cited::{Cited, Source};
pub use decoded::{Decoded, Drilled, Form, GripRange, NutForm, RivetHead, WasherForm, Words};
pub use designation::{Fault, NoSuch, Normalised, Undecoded, decode, normalise, read};
pub use safety::SafetyWord;
pub use thread::Thread;

#[cfg(test)]
mod tests;
