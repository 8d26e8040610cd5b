//! Bends: setback, allowance, developed length.

use crate::units::{Angle, Length, Rational};

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

/// A bent strip or tube laid out flat.
#[derive(Clone, Debug, PartialEq)]
pub struct Developed {
    /// Length before bending, inches.
    pub length: f64,
    /// Where each bend begins and ends, inches from the end where the first leg begins: the marks for the bender.
    pub bends: Vec<(f64, f64)>,
}

/// Lays out a strip that is bent: its legs, measured to the outside corners, less what the corners save. `legs` has
/// one more entry than `bends`.
///
/// # Errors
/// Legs that do not go with the bends, a bend of 180 degrees or more, a leg with nothing left between its bends;
/// lower case, no full stop.
pub fn developed(legs: &[Length], bends: &[Bend]) -> Result<Developed, String> {
    if legs.len() != bends.len() + 1 {
        return Err(format!("{} bends need {} legs, not {}", bends.len(), bends.len() + 1, legs.len()));
    }
    let mut setbacks = Vec::with_capacity(bends.len());
    for bend in bends {
        setbacks.push(bend.setback().ok_or_else(|| format!("a bend of {} has no outside corner", bend.angle))?);
    }
    let mut laid = Developed { length: 0.0, bends: Vec::with_capacity(bends.len()) };
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
        laid.length += flat;
        if let Some(bend) = bends.get(i) {
            let begins = laid.length;
            laid.length += bend.allowance();
            laid.bends.push((begins, laid.length));
        }
    }
    Ok(laid)
}

/// Width of the flattened end of a round tube, inches: half its circumference.
pub fn flattened_width(outside_diameter: Length) -> f64 {
    outside_diameter.to_f64() * std::f64::consts::FRAC_PI_2
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(text: &str) -> Length {
        Length::parse(text).expect(text)
    }

    /// FAA AC 43.13-1B: .064 sheet, inside radius .25: setback .130 at 45 degrees, .758 at 135.
    #[test]
    fn setback_is_the_published_one() {
        let bend = |degrees| Bend {
            angle: Angle::degrees(degrees, 1),
            inside_radius: inches(".25"),
            thickness: inches(".064"),
            neutral: Bend::NEUTRAL,
        };
        for (degrees, setback) in [(45, 0.130), (135, 0.758)] {
            let found = bend(degrees).setback().expect("a setback");
            assert!((found - setback).abs() < 5e-4, "{degrees}: {found}");
        }
        assert_eq!(bend(180).setback(), None);
        assert!(developed(&[inches("1"), inches("1")], &[bend(180)]).is_err());
        assert!(developed(&[inches("1")], &[bend(90)]).is_err());
        assert!(developed(&[inches(".3"), inches("1")], &[bend(90)]).is_err());
        // By hand: 2 - 2 x .314 + pi/2 (.25 + .4475 x .064).
        let flat = developed(&[inches("1"), inches("1")], &[bend(90)]).expect("a length");
        let bend_length = std::f64::consts::FRAC_PI_2 * (0.25 + 0.4475 * 0.064);
        assert!((flat.length - (2.0 - 0.628 + bend_length)).abs() < 1e-12);
        assert!((flat.bends[0].0 - 0.686).abs() < 1e-12 && (flat.bends[0].1 - 0.686 - bend_length).abs() < 1e-12);
    }
}
