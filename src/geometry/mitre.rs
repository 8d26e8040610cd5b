//! Flat mitres: a tube cut by a plane.

use super::impossible::{Impossible, size};
use super::turn::turn;
use crate::units::{Angle, Length, Rational};

/// The steepest mitre that is cut, degrees off square.
const STEEPEST: f64 = 80.0;

/// A flat mitre. Angles around the tube are in degrees from the lowest point of the cut, which is its short point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mitre {
    radius: f64,
    tangent: f64,
}

impl Mitre {
    /// A cut `off_square` degrees off square through a tube.
    ///
    /// # Errors
    /// A diameter that is none, an angle outside of 0 to 80 degrees.
    pub fn new(outside_diameter: Length, off_square: Angle) -> Result<Self, Impossible> {
        let diameter = size("an outside diameter", outside_diameter.to_f64())?;
        let degrees = off_square.to_f64();
        if !(0.0..=STEEPEST).contains(&degrees) {
            return Err(Impossible::Angle { what: "a mitre", degrees, least: 0.0, most: STEEPEST });
        }
        Ok(Self { radius: diameter / 2.0, tangent: libm::tan(degrees.to_radians()) })
    }

    /// Height above the short point, inches, `degrees` around the tube from it: r tan(a) (1 - cos p).
    pub fn height(&self, degrees: f64) -> f64 {
        self.height_at(self.radius, degrees)
    }

    /// The same for a radius within the wall, still above the short point of the outside.
    pub fn height_at(&self, radius: f64, degrees: f64) -> f64 {
        self.tangent * (self.radius - radius * turn(degrees).1)
    }

    /// Long side less short side, inches.
    pub fn rise(&self) -> f64 {
        2.0 * self.radius * self.tangent
    }

    /// The tube's outside radius, inches.
    pub fn radius(&self) -> f64 {
        self.radius
    }
}

/// The mitre, degrees off square, of each of two equal tubes that meet at a corner: half of what is missing to 180.
pub fn corner_mitre(corner: Angle) -> Angle {
    let half = (Rational::from_integer(180) - corner.as_degrees()) / Rational::from_integer(2);
    Angle::degrees(*half.numer(), *half.denom())
}
