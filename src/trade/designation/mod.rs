//! Designations of standard hardware, read into typed values.
//!
//! Owns: the codes of the standards, their tables, near misses. Must not know: which hardware a manual lists.

mod blind_rivet;
mod bolt;
mod close_bolt;
mod iso;
mod lengths;
mod normalise;
mod nut;
mod pin;
mod screw;
mod solid_rivet;
mod washer;

pub(super) use iso::clearance;
pub(super) use lengths::listed;
pub use normalise::{DesignationFault, Normalised, normalise};

use super::{Decoded, Source};

/// Why a designation was not decoded.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Undecoded {
    /// Not a designation of the built-in tables: the hardware list has to say what it is.
    NotBuiltIn,
    /// The form of a standard designation, but there is no such item.
    NoSuch(NoSuch),
}

/// A designation of a known series that does not exist.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoSuch {
    /// What is wrong, lower case, no full stop.
    pub reason: String,
    /// The nearest designations of the same series that exist, smaller first.
    pub neighbours: Vec<String>,
    /// What says that there is none: a finding must not be stronger than this.
    pub source: Source,
}

/// What a family's reader answers: `None` where the text is not of its family.
type DesignationReading = Option<Result<Decoded, NoSuch>>;

/// The answer for an item that, as far as is remembered, is not made.
fn no_such(reason: impl Into<String>, neighbours: impl IntoIterator<Item = String>) -> DesignationReading {
    no_such_by(Source::FromMemory, reason, neighbours)
}

fn no_such_by(
    source: Source,
    reason: impl Into<String>,
    neighbours: impl IntoIterator<Item = String>,
) -> DesignationReading {
    Some(Err(NoSuch { reason: reason.into(), neighbours: neighbours.into_iter().collect(), source }))
}

/// Reads a designation in its exact spelling; see [`normalise`] for near misses.
///
/// # Errors
/// What is no designation of the built-in tables, or of an item that does not exist.
pub fn read(designation: &str) -> Result<Decoded, Undecoded> {
    let families: [fn(&str) -> DesignationReading; 9] = [
        bolt::read,
        close_bolt::read,
        screw::read,
        nut::read,
        washer::read,
        solid_rivet::read,
        blind_rivet::read,
        pin::read,
        iso::read,
    ];
    match families.iter().find_map(|family| family(designation)) {
        Some(result) => result.map_err(Undecoded::NoSuch),
        None => Err(Undecoded::NotBuiltIn),
    }
}

/// What a designation says, where it is one of the built-in tables.
///
/// ```
/// let bolt = kitwright::trade::decode("AN4-10A").unwrap();
/// assert_eq!(bolt.words(), "bolt, 1/4-28, grip 9/16 in, cadmium-plated steel, shank not drilled");
/// assert!(kitwright::trade::decode("AN4-8A").is_none());
/// ```
pub fn decode(designation: &str) -> Option<Decoded> {
    read(designation).ok()
}

/// Splits `AN365-428A` into the standard's number and the rest: (365, `-428A`).
fn numbered<'a>(text: &'a str, prefix: &str) -> Option<(u32, &'a str)> {
    let rest = text.strip_prefix(prefix)?;
    let (number, rest) = digits(rest)?;
    Some((number, rest))
}

/// Splits leading digits off: `428A` is (428, `A`). At most six digits, no leading zero.
fn digits(text: &str) -> Option<(u32, &str)> {
    let at = text.bytes().take_while(u8::is_ascii_digit).count();
    if !(1..=6).contains(&at) || text.starts_with('0') && at > 1 {
        return None;
    }
    Some((text[..at].parse().ok()?, &text[at..]))
}

/// The elements of an ascending list next to a value that is not in it.
fn around(list: impl IntoIterator<Item = u32>, value: u32) -> Vec<u32> {
    let (mut below, mut above) = (None, None);
    for item in list {
        if item < value {
            below = Some(item);
        } else if item > value {
            above = Some(item);
            break;
        }
    }
    below.into_iter().chain(above).collect()
}
