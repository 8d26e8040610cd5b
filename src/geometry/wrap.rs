//! The curve of an end cut on a sleeve of paper wrapped around the tube.
//!
//! The sleeve is read with the cut end up and the printed side out. To the right on the paper is then against the
//! clock looking at that end.

use std::f64::consts::PI;

use super::piece::{EndCut, clockwise};
use crate::units::{Clock, Length};

/// A point on the paper, inches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WrapPoint {
    /// From the left edge of the sleeve.
    pub x: f64,
    /// Above the lowest point of the curve, which is where the most is taken off.
    pub y: f64,
}

/// A sleeve: its curve and its width.
#[derive(Clone, Debug, PartialEq)]
pub struct Wrap {
    /// Once around the tube, inches.
    pub width: f64,
    /// Highest point of the curve, inches.
    pub height: f64,
    /// The line to cut along on the outside of the tube, from the left edge to the right.
    pub outer: Vec<WrapPoint>,
    /// The edge of the bore on the same paper, for a saddle; dashed.
    pub inner: Vec<WrapPoint>,
    seam: f64,
}

impl Wrap {
    /// The sleeve of a cut end of a tube, its edges at the clock position `seam`, out of paper of this thickness,
    /// `steps` points around (at least 12).
    pub fn new(end: &EndCut, outside_diameter: Length, paper: Length, seam: Clock, steps: usize) -> Self {
        let steps = steps.max(12);
        // The paper's middle lies half its thickness outside of the tube.
        let width = PI * (outside_diameter.to_f64() + paper.to_f64());
        let seam = clockwise(seam);
        let line = |left: &dyn Fn(f64) -> f64| -> Vec<WrapPoint> {
            (0..=steps)
                .map(|i| {
                    let part = i as f64 / steps as f64;
                    WrapPoint { x: width * part, y: left(seam - 360.0 * part) }
                })
                .collect()
        };
        let (height, outer, inner) = match *end {
            EndCut::Square => (0.0, line(&|_| 0.0), Vec::new()),
            EndCut::Mitre { cut, long_point } => {
                let height = |degrees: f64| cut.height(180.0 + degrees - clockwise(long_point));
                (cut.rise(), line(&height), Vec::new())
            }
            EndCut::Saddle { cut, long_point } => {
                // What stands out most is lowest along the branch's axis.
                let deepest = cut.outer_extremes().1.distance;
                let around = |degrees: f64| clockwise(long_point) - degrees;
                (
                    deepest - cut.outer_extremes().0.distance,
                    line(&|degrees| deepest - cut.outer(around(degrees))),
                    line(&|degrees| deepest - cut.inner(around(degrees))),
                )
            }
        };
        Self { width, height, outer, inner, seam }
    }

    /// Where a clock position is marked, inches from the left edge. The seam is at the left edge, and again at the
    /// right.
    pub fn mark(&self, clock: Clock) -> f64 {
        self.width * (self.seam - clockwise(clock)).rem_euclid(360.0) / 360.0
    }
}
