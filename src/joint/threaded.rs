//! A screw whose thread goes into a part: how deep it goes, and how deep it must.

use super::Member;
use crate::model::ThreadedInto;
use crate::trade::fit::CountedAs;
use crate::trade::{Cited, Decoded, Family, Source, Substance};
use crate::units::{Length, Rational};

/// Least depth of thread in diameters (common practice): in steel, in aluminium, in what is softer.
const STEEL: (i64, i64) = (1, 1);
const ALUMINIUM: (i64, i64) = (3, 2);
const SOFT: (i64, i64) = (2, 1);

/// How deep a thread goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Threaded {
    /// From where the thread begins to the end of the screw; below zero where it does not reach.
    pub deep: Cited<Length>,
    pub least: Cited<Length>,
}

impl Threaded {
    pub fn too_short(&self) -> bool {
        self.deep.value < self.least.value
    }
}

/// The depth of a screw's thread in the last member of its stack. `None` where a measure is not known.
pub(super) fn threaded(
    into: ThreadedInto,
    screw: &Decoded,
    members: &[Member],
    under_head: &[Cited<Length>],
) -> Option<Threaded> {
    let (last, through) = members.split_last()?;
    let (length, diameter) = (screw.length?, screw.diameter?);
    let mut deep = length;
    for washer in under_head {
        deep = deep.join(*washer, |deep, washer| deep - washer);
    }
    for member in through {
        if let CountedAs::As(thickness) = member.counted? {
            deep = deep.map(|deep| deep - thickness);
        }
    }
    // A tapped part has no more thread than it is thick; an insert may be longer than its part.
    if let (ThreadedInto::TappedHole, Some(CountedAs::As(thickness))) = (into, last.counted) {
        deep = deep.map(|deep| deep.min(thickness));
    }
    // An insert is of steel, whatever it sits in.
    let (n, d) = match (into, last.substance, last.family) {
        (ThreadedInto::ThreadedInsert, ..) => STEEL,
        (_, Substance::Metal, Family::Aluminium) => ALUMINIUM,
        (_, Substance::Metal, _) => STEEL,
        _ => SOFT,
    };
    let least = Length::from_inches(diameter.value.as_inches() * Rational::new(n, d));
    Some(Threaded { deep, least: Cited::new(least, diameter.source.min(Source::CommonPractice)) })
}
