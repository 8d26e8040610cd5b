//! Bends of tube and sheet, and flattened tube ends, as the author wrote them.

use super::step::{By, TubeEnd};
use crate::source::Spanned;
use crate::units::{Angle, Clock, Length, PartNumber, Rational};

/// All bends of one part.
#[derive(Clone, Debug)]
pub struct BendUse {
    pub part: Spanned<PartNumber>,
    /// From end A on, each along the outside to the corner where the outside faces would meet.
    pub legs: Vec<Spanned<Length>>,
    /// Turned through; one for all bends, or one each.
    pub angles: Vec<Spanned<Angle>>,
    /// To the inside of the bend; one for all bends, or one each.
    pub radii: Vec<Spanned<Length>>,
    /// The line of the tube that comes to lie inside the bend, as a clock position seen at end A; of sheet 12 is up and
    /// 6 is down. One for all bends, or one each.
    pub toward: Vec<Spanned<Clock>>,
    /// Place of the neutral axis from the inside, as a part of the thickness.
    pub neutral: Option<Spanned<Rational>>,
    pub by: By,
}

/// A tube end that is pressed flat.
#[derive(Clone, Debug)]
pub struct Flattened {
    pub part: Spanned<PartNumber>,
    pub end: Option<Spanned<TubeEnd>>,
    /// Of the flat.
    pub length: Spanned<Length>,
    /// From the round tube to the flat.
    pub transition: Option<Spanned<Length>>,
    /// The clock position that the flat faces, looking at this end.
    pub faces: Option<Spanned<Clock>>,
    pub by: By,
}
