//! Judging one bolt in one stack.
//!
//! Everything is measured along the bolt from the underside of its head:
//! head washers, stack, nut washers, nut, and what shows past it.

use super::{FitRules, InHole};
use crate::trade::{Cited, Decoded, ItemForm, Source, Thread};
use crate::units::{Length, Rational};

/// The part of a bolt under its head.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shank {
    /// Under the head, thread included.
    pub length: Cited<Length>,
    /// Without thread; `None` where it is threaded up to the head.
    pub grip: Option<Cited<Length>>,
    /// Thread beyond the grip on which a nut does not run, because it is not cut to its full depth. Not negative.
    pub run_out: Cited<Length>,
    /// From thread to thread.
    pub pitch: Cited<Length>,
    /// How much shorter or longer the grip may come than the table says.
    pub grip_tolerance: Length,
}

/// Tolerance of the grip of AN bolts: 1/64 in either way (published AN bolt tables).
const AN_TOLERANCE: (i64, i64) = (1, 64);
/// Of NAS6203 and its like: .010 in either way (published dimensions).
const NAS_TOLERANCE: (i64, i64) = (10, 1000);

impl Shank {
    /// The shank of a bolt whose tables give length, grip and thread, or of a screw that is threaded up to its head.
    pub fn of(bolt: &Decoded) -> Option<Self> {
        let (length, thread) = (bolt.length?, bolt.thread?);
        let full = bolt.form == ItemForm::FullThreadBolt || bolt.form.full_thread() && bolt.grip.is_none();
        let grip = if full { None } else { Some(bolt.grip?) };
        // The grip of inch bolts is listed up to the thread; ISO 4014 allows five pitches of run-out behind it.
        let run_out = match thread.value {
            Thread::Metric { .. } if grip.is_some() => thread.map(|thread| thread.pitch() * 5),
            _ => grip.unwrap_or(length).map(|_| Length::ZERO),
        };
        let grip_tolerance = match thread.value {
            // Shank and beginning of thread are both given at their limits.
            Thread::Metric { .. } => Length::ZERO,
            _ if bolt.designation.starts_with("NAS") => Length::inches(NAS_TOLERANCE.0, NAS_TOLERANCE.1),
            _ if grip.is_some() => Length::inches(AN_TOLERANCE.0, AN_TOLERANCE.1),
            _ => Length::ZERO,
        };
        Some(Self { length, grip, run_out, pitch: thread.map(Thread::pitch), grip_tolerance })
    }
}

/// What a bolt clamps.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clamp {
    /// Thickness of the parts; a tube that is bolted right through counts its outside diameter.
    pub stack: Cited<Length>,
    pub under_head: Vec<Cited<Length>>,
    pub under_nut: Vec<Cited<Length>>,
    /// `None` where it is not known: then nothing is said of the threads past the nut.
    pub nut_height: Option<Cited<Length>>,
}

/// Why a joint can't be judged at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unusable {
    /// A thickness, height, length or pitch that is zero or negative.
    NotPositive(Length),
    /// Beyond any bolt: over 1000 in.
    TooLarge(Length),
}

/// A rule that a joint breaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FitFault {
    pub kind: FaultKind,
    /// By how much: inches, or a number of threads or washers, as the kind says.
    pub by: Rational,
    /// The weakest of the values it rests on.
    pub source: Source,
}

/// What is wrong with a joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FaultKind {
    /// Too short a grip: the thread reaches into the hole. In inches.
    ThreadInHole,
    /// Too long a grip: the nut runs onto the shank before it clamps. In inches.
    NutOnShank,
    /// Too short a bolt. In threads that are missing past the nut.
    TooFewThreads,
    /// Too long a bolt. In threads past the nut over the most that is allowed.
    TooManyThreads,
    /// In washers over the most that is allowed.
    TooManyWashers,
}

/// How far a joint is from each limit; negative where it is past it. Inches.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Margins {
    /// From the end of the grip back to the end of the hole; `None` without a grip.
    pub hole: Option<Cited<Length>>,
    /// From the beginning of the full thread on to the nut; `None` without a grip.
    pub nut: Option<Cited<Length>>,
    /// Bolt past the nut; `None` without a nut height.
    pub past_nut: Option<Cited<Length>>,
}

/// A judged joint.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fit {
    pub margins: Margins,
    /// Threads past the nut, not rounded.
    pub threads_past: Option<Cited<Rational>>,
    /// Empty where it fits.
    pub faults: Vec<FitFault>,
}

/// Compares a bolt with what it clamps.
///
/// # Errors
/// A length that is not positive or out of all proportion.
pub fn judge(shank: &Shank, clamp: &Clamp, rules: &FitRules) -> Result<Fit, Unusable> {
    let lengths = [shank.length, shank.pitch, clamp.stack].into_iter().chain(shank.grip);
    for length in
        lengths.chain(clamp.under_head.iter().copied()).chain(clamp.under_nut.iter().copied()).chain(clamp.nut_height)
    {
        check(length.value)?;
    }
    if shank.run_out.value < Length::ZERO {
        return Err(Unusable::NotPositive(shank.run_out.value));
    }
    let hole_end = clamp.under_head.iter().fold(exact(clamp.stack), |sum, &washer| plus(sum, washer));
    let nut_face = clamp.under_nut.iter().fold(hole_end, |sum, &washer| plus(sum, washer));
    let hole = shank.grip.map(|grip| exact(grip).join(hole_end, |grip, end| grip - end));
    let nut = shank.grip.map(|grip| nut_face.join(plus(grip, shank.run_out), |face, thread| face - thread));
    let past_nut = clamp.nut_height.map(|height| {
        let nut_end = plus(nut_face, height);
        exact(shank.length).join(nut_end, |length, end| length - end)
    });
    let threads_past =
        past_nut.map(|past| past.join(exact(shank.pitch), |past, pitch| past.as_inches() / pitch.as_inches()));

    let mut faults = Vec::new();
    let zero = Rational::from_integer(0);
    let mut fault = |kind, by: Rational, source: Source| {
        if by > zero {
            faults.push(FitFault { kind, by, source });
        }
    };
    let inches = |length: Length| length.as_inches();
    let rounding = inches(rules.rounding);
    let in_hole = rules.thread_in_hole;
    // A screw that is threaded up to its head has its thread in the hole, and its nut runs everywhere.
    if let (Some(hole), Some(nut)) = (hole, nut) {
        if rules.in_hole == InHole::Everywhere {
            fault(
                FaultKind::ThreadInHole,
                over(-inches(hole.value) - inches(in_hole.value), rounding),
                hole.source.min(in_hole.source),
            );
        }
        fault(FaultKind::NutOnShank, over(-inches(nut.value), rounding), nut.source);
    }
    if let Some(threads) = threads_past {
        let rounding = rounding / inches(exact(shank.pitch).value);
        let (least, most) = (rules.threads_past, rules.most_threads_past);
        let missing = Rational::from_integer(least.value) - threads.value;
        fault(FaultKind::TooFewThreads, over(missing, rounding), threads.source.min(least.source));
        let over_most = threads.value - Rational::from_integer(most.value);
        fault(FaultKind::TooManyThreads, over(over_most, rounding), threads.source.min(most.source));
    }
    let washers = clamp.under_head.len() + clamp.under_nut.len();
    let too_many = washers.saturating_sub(rules.washers.value);
    fault(FaultKind::TooManyWashers, Rational::from_integer(too_many as i64), rules.washers.source);
    Ok(Fit { margins: Margins { hole, nut, past_nut }, threads_past, faults })
}

/// `by` where it is more than the allowance, else nothing.
fn over(by: Rational, allowance: Rational) -> Rational {
    if by > allowance { by } else { Rational::from_integer(0) }
}

fn plus(a: Cited<Length>, b: Cited<Length>) -> Cited<Length> {
    exact(a).join(exact(b), |a, b| a + b)
}

/// Largest length that is judged, inches.
const LARGEST: i64 = 1000;

fn check(length: Length) -> Result<(), Unusable> {
    if length <= Length::ZERO {
        Err(Unusable::NotPositive(length))
    } else if length > Length::inches(LARGEST, 1) {
        Err(Unusable::TooLarge(length))
    } else {
        Ok(())
    }
}

/// Every decimal to seven places, inch fraction, millimetre decimal and thread pitch is a whole number of these
/// parts of an inch, so that sums of them stay far from the end of the numbers: 2^7 5^7 3^2 7 11 13 127.
const GRID: i64 = 10_000_000 * 9 * 7 * 11 * 13 * 127;

/// The length itself, or for an odd fraction, such as 1/99991 in, the nearest millionth.
fn exact(length: Cited<Length>) -> Cited<Length> {
    length.map(|length| {
        let inches = length.as_inches();
        if GRID % inches.denom() == 0 {
            return length;
        }
        let (n, d) = (i128::from(*inches.numer()), i128::from(*inches.denom()));
        let millionths = (n * 2_000_000 + d).div_euclid(2 * d);
        Length::inches(i64::try_from(millionths).unwrap_or(0), 1_000_000)
    })
}
