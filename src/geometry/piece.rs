//! A straight piece of tube between two end cuts.
//!
//! Lines along the tube are named in degrees looking at end A, clockwise from the datum line, which is 12 o'clock
//! at both ends. Looking at end B the same line is that far counter-clockwise.

use super::impossible::{Impossible, size};
use super::mitre::Mitre;
use super::saddle::Saddle;
use crate::units::{Clock, Length};

/// Steps around the tube in which the longest and the shortest line are sought.
const STEPS: usize = 1440;

/// How an end is cut. The clock positions are as seen looking at that end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EndCut {
    Square,
    /// `long_point`: where the tube is longest.
    Mitre {
        cut: Mitre,
        long_point: Clock,
    },
    /// `long_point`: the obtuse side; of axes at right angles one of the two sides that the main tube runs to.
    Saddle {
        cut: Saddle,
        long_point: Clock,
    },
}

/// The longest and the shortest line of a piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lines {
    /// Inches.
    pub longest: f64,
    /// Degrees from the datum line, looking at end A.
    pub longest_at: f64,
    pub shortest: f64,
    pub shortest_at: f64,
}

/// A piece, as it is cut out of a blank that is as long as the piece overall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutPiece {
    overall: f64,
    a: EndCut,
    b: EndCut,
}

impl EndCut {
    /// What is taken off a square end along the outside of the tube, inches, `degrees` clockwise from the datum line
    /// looking at this end. Zero at the point that stands out most. It is what a wrap template, a hole saw and a tape
    /// on the tube have; the bore of a saddle is filed back further.
    pub fn taken_off(&self, degrees: f64) -> f64 {
        match *self {
            Self::Square => 0.0,
            Self::Mitre { cut, long_point } => cut.rise() - cut.height(180.0 + degrees - clockwise(long_point)),
            Self::Saddle { cut, long_point } => {
                // The saddle counts against the clock.
                cut.outer(clockwise(long_point) - degrees) - cut.outer_extremes().0.distance
            }
        }
    }

    /// The most that is taken off anywhere in the tube's wall on that line, inches.
    fn taken_off_the_wall(&self, degrees: f64) -> f64 {
        match *self {
            Self::Saddle { cut, long_point } => {
                cut.cut(clockwise(long_point) - degrees) - cut.outer_extremes().0.distance
            }
            _ => self.taken_off(degrees),
        }
    }
}

/// Degrees clockwise from 12.
pub(super) fn clockwise(clock: Clock) -> f64 {
    f64::from(clock.hour() % 12) * 30.0
}

impl CutPiece {
    /// A piece that is `overall` long between its two outermost points.
    ///
    /// # Errors
    /// No length, or cuts that cross.
    pub fn new(overall: Length, a: EndCut, b: EndCut) -> Result<Self, Impossible> {
        let piece = Self { overall: size("an overall length", overall.to_f64())?, a, b };
        let whole = |degrees: f64| piece.overall - a.taken_off_the_wall(degrees) - b.taken_off_the_wall(-degrees);
        let shortest = (0..STEPS).map(|i| whole(360.0 * i as f64 / STEPS as f64)).fold(f64::INFINITY, f64::min);
        // A line of no length that floating point does not hit is none.
        if shortest < 1e-9 { Err(Impossible::Crossing { shortest }) } else { Ok(piece) }
    }

    /// Length along a line on the outside of the tube, inches; `degrees` from the datum line, looking at end A.
    pub fn line(&self, degrees: f64) -> f64 {
        self.overall - self.a.taken_off(degrees) - self.b.taken_off(-degrees)
    }

    /// The longest and the shortest line.
    pub fn lines(&self) -> Lines {
        let mut lines =
            Lines { longest: f64::NEG_INFINITY, longest_at: 0.0, shortest: f64::INFINITY, shortest_at: 0.0 };
        for i in 0..STEPS {
            let degrees = 360.0 * i as f64 / STEPS as f64;
            let length = self.line(degrees);
            if length > lines.longest {
                (lines.longest, lines.longest_at) = (length, degrees);
            }
            if length < lines.shortest {
                (lines.shortest, lines.shortest_at) = (length, degrees);
            }
        }
        lines
    }
}
