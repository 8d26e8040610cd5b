//! Grip against stack: does a bolt fit what it clamps, and which would.
//!
//! Owns: the rules of a bolted joint, exact in rationals. Must not know: parts, steps, which hardware a manual has.

mod judge;
mod solve;
mod stack;

pub use judge::{Clamp, FaultKind, Fit, FitFault, Margins, Shank, Unusable, judge};
pub use solve::{BoltChoice, Solution, WasherChoice, bolts_like, each_bolt, solve};
pub use stack::{CountedAs, Layer, Stack};

use super::{Cited, Source};
use crate::units::Length;

const THREADS: Source = Source::Published("FAA AC 43.13-1B, 7-37");

/// The rules of a bolted joint. Settable; the default values are cited.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FitRules {
    /// Least threads past the nut.
    pub threads_past: Cited<i64>,
    /// Most threads past the nut.
    pub most_threads_past: Cited<i64>,
    /// Most washers, under head and nut together.
    pub washers: Cited<usize>,
    /// Most that the thread may reach into the hole.
    pub thread_in_hole: Cited<Length>,
    /// What is let pass, because tables round to thousandths and three washers may stand together.
    pub rounding: Length,
}

impl Default for FitRules {
    fn default() -> Self {
        Self {
            threads_past: Cited::new(1, THREADS),
            most_threads_past: Cited::new(3, Source::CommonPractice),
            washers: Cited::new(3, Source::CommonPractice),
            thread_in_hole: Cited::new(Length::ZERO, Source::CommonPractice),
            rounding: Length::inches(3, 1000),
        }
    }
}
