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

pub enum Described { Text(String), Length(crate::units::Length) }
pub fn describe(_designation: &str) -> Option<Vec<Described>> { None }
pub fn drill(text: &str) -> Option<(String, Option<crate::units::Length>)> { Some((text.to_owned(), None)) }
pub use thread::Thread;

#[cfg(test)]
mod tests;
