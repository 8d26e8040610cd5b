//! Bends: smallest radius of sheet, setback, developed length.

use super::{Cited, Source};
use crate::units::{Angle, Length, Rational};

const TABLE: Source = Source::Published("FAA AC 43.13-1B Table 4-6");

/// Sheet thickness of the columns, thousandths of an inch.
const THICKNESS: [i64; 6] = [16, 32, 64, 128, 182, 258];

/// Multiples of thickness in halves, least and greatest, for a bend of 90 degrees.
const ROWS: [(&str, [(i64, i64); 6]); 8] = [
    ("2024-O", [(0, 0), (0, 2), (0, 2), (0, 2), (0, 2), (0, 2)]),
    ("2024-T3", [(3, 6), (4, 8), (6, 10), (8, 12), (8, 12), (10, 14)]),
    ("5052-H32", [(0, 0), (0, 0), (1, 2), (1, 3), (1, 3), (1, 3)]),
    ("5052-H34", [(0, 0), (0, 0), (1, 3), (3, 5), (3, 5), (4, 6)]),
    ("6061-O", [(0, 0), (0, 2), (0, 2), (0, 2), (0, 2), (0, 2)]),
    ("6061-T4", [(0, 2), (0, 2), (1, 3), (2, 4), (3, 6), (5, 8)]),
    ("6061-T6", [(0, 2), (1, 3), (2, 4), (3, 6), (4, 8), (6, 8)]),
    ("7075-T6", [(4, 8), (6, 10), (8, 12), (10, 14), (10, 14), (12, 20)]),
];

/// The smallest inside radius for a 90 degree bend: the least that the table allows, and what it calls safe.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BendRadius {
    pub least: Length,
    pub safe: Length,
}

/// The table's smallest inside radius for an alloy and a thickness. A thickness between two columns takes the
/// multiples of the thicker one; `None` beyond the thickest column and for an alloy that is not in the table.
pub fn bend_radius(alloy: &str, thickness: Length) -> Option<Cited<BendRadius>> {
    let (_, multiples) = ROWS.iter().find(|(name, _)| name.eq_ignore_ascii_case(alloy.trim()))?;
    if thickness <= Length::ZERO {
        return None;
    }
    let column = THICKNESS.iter().position(|&t| thickness <= Length::inches(t, 1000))?;
    let (least, safe) = multiples[column];
    let radius = |halves: i64| Length::from_inches(thickness.as_inches() * Rational::new(halves, 2));
    Some(Cited::new(BendRadius { least: radius(least), safe: radius(safe) }, TABLE))
}

/// A bend in sheet or tube. For a tube, `thickness` is the outside diameter and `inside_radius` is measured to the
/// inside of the bend.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bend {
    /// Turned through, 0 to 180 degrees.
    pub angle: Angle,
    pub inside_radius: Length,
    pub thickness: Length,
    /// Place of the neutral axis from the inside, as a part of the thickness. A setting; see [`Bend::NEUTRAL`].
    pub neutral: Rational,
}

impl Bend {
    /// The neutral axis of sheet by the constants 0.01743 R + 0.0078 T to the degree (from memory of
    /// AC 43.13-1B): 0.0078 / 0.01743 = 0.4475 of the thickness.
    pub const NEUTRAL: Rational = Rational::new_raw(179, 400);
    /// The neutral axis of a tube, its centre line (common practice).
    pub const TUBE: Rational = Rational::new_raw(1, 2);

    /// Distance from the tangent of the bend to the corner of the outside faces, in inches: tan(A/2) (R + T),
    /// FAA AC 43.13-1B. `None` from 180 degrees on, where the faces do not meet, and for a negative angle.
    pub fn setback(self) -> Option<f64> {
        let half = self.angle.to_f64().to_radians() / 2.0;
        if !(0.0..std::f64::consts::FRAC_PI_2 - 1e-9).contains(&half) {
            return None;
        }
        Some(libm::tan(half) * (self.inside_radius + self.thickness).to_f64())
    }

    /// Length of the bend along the neutral axis, in inches: pi A/180 (R + K T).
    pub fn allowance(self) -> f64 {
        let radius = self.inside_radius.to_f64()
            + self.thickness.to_f64() * (*self.neutral.numer() as f64 / *self.neutral.denom() as f64);
        self.angle.to_f64().to_radians() * radius
    }
}

/// Developed length in inches of a strip that is bent: its legs, measured to the outside corners, less what the
/// corners save. `legs` has one more entry than `bends`.
///
/// # Errors
/// Legs that do not go with the bends, a bend of 180 degrees or more, a leg with nothing left between its bends;
/// lower case, no full stop.
pub fn developed(legs: &[Length], bends: &[Bend]) -> Result<f64, String> {
    if legs.len() != bends.len() + 1 {
        return Err(format!("{} bends need {} legs, not {}", bends.len(), bends.len() + 1, legs.len()));
    }
    let mut setbacks = Vec::with_capacity(bends.len());
    for bend in bends {
        setbacks.push(bend.setback().ok_or_else(|| format!("a bend of {} has no outside corner", bend.angle))?);
    }
    let mut length = 0.0;
    for (i, leg) in legs.iter().enumerate() {
        let before = if i > 0 { setbacks[i - 1] } else { 0.0 };
        let after = setbacks.get(i).copied().unwrap_or(0.0);
        let flat = leg.to_f64() - before - after;
        if flat < 0.0 {
            return Err(format!(
                "leg {} of {:.4} in is shorter than the bends beside it, {:.4} in",
                i + 1,
                leg.to_f64(),
                before + after
            ));
        }
        length += flat;
    }
    Ok(length + bends.iter().map(|bend| bend.allowance()).sum::<f64>())
}
