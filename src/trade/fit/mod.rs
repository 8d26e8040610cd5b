//! Grip against stack: does a bolt fit what it clamps, and which would.
//!
//! Owns: the rules of a bolted joint, exact in rationals. Must not know: parts, steps, which hardware a manual has.

mod judge;
mod solve;
mod stack;

pub use judge::{Clamp, FaultKind, Fit, FitFault, Margins, Shank, Unusable, judge};
pub use solve::{BoltChoice, Solution, WasherChoice, bolts_like, each_bolt, lengths_known, margin_within, solve};
pub use stack::{CountedAs, Layer, Stack};

use super::{Cited, Motion, Source};
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
    /// Where that limit holds.
    pub in_hole: InHole,
    /// What is let pass, because tables round to thousandths and three washers may stand together.
    pub rounding: Length,
}

/// A limit of a bolted joint that can be set alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FitLimit {
    ThreadsPast,
    MostThreadsPast,
    Washers,
    ThreadInHole,
}

impl FitLimit {
    /// The key that sets it.
    pub fn key(self) -> &'static str {
        match self {
            Self::ThreadsPast => "threads-past-nut",
            Self::MostThreadsPast => "most-threads-past-nut",
            Self::Washers => "most-washers",
            Self::ThreadInHole => "thread-in-hole",
        }
    }
}

/// Where the thread may not reach into the hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum InHole {
    Everywhere,
    /// Where the joint turns; in one that is clamped it may, as screws are made that are threaded up to their heads.
    ClampedIsFree,
}

impl FitRules {
    /// The rules for a joint: in one that turns the thread stays out of the hole in every trade.
    pub fn for_motion(self, motion: Motion) -> Self {
        if motion == Motion::Turns { Self { in_hole: InHole::Everywhere, ..self } } else { self }
    }
}

impl Default for FitRules {
    fn default() -> Self {
        Self {
            threads_past: Cited::new(1, THREADS),
            most_threads_past: Cited::new(3, Source::CommonPractice),
            washers: Cited::new(3, Source::CommonPractice),
            thread_in_hole: Cited::new(Length::ZERO, Source::CommonPractice),
            in_hole: InHole::Everywhere,
            rounding: Length::inches(3, 1000),
        }
    }
}
