//! Geometry that can't be.

/// A part of a branch tube, in degrees around it, where it misses the tube it should meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    pub from: f64,
    pub to: f64,
}

/// Why a cut or a bend can't be made. Its text is a lower case headline without a full stop.
#[derive(Clone, Debug, PartialEq)]
pub enum Impossible {
    /// A diameter, wall or length that is zero or negative, or beyond all bounds, in inches.
    Size { what: &'static str, inches: f64 },
    /// A wall that leaves no bore, in inches.
    Wall { wall: f64, outside_diameter: f64 },
    /// An angle outside of what can be cut, in degrees.
    Angle { what: &'static str, degrees: f64, least: f64, most: f64 },
    /// The branch is not met all around by the main tube.
    Misses { gaps: Vec<Gap>, reach: f64, main_radius: f64 },
    /// The cuts of the two ends cross: nothing is left along one line. In inches, not positive.
    Crossing { shortest: f64 },
}

impl std::fmt::Display for Impossible {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Size { what, inches } => write!(f, "{what} of {inches:.4} in is no size of a tube"),
            Self::Wall { wall, outside_diameter } => {
                write!(f, "a wall of {wall:.4} in leaves no bore in a tube of {outside_diameter:.4} in")
            }
            Self::Angle { what, degrees, least, most } => {
                write!(f, "{what} of {degrees:.2}° is outside of {least}° to {most}°")
            }
            Self::Misses { gaps, reach, main_radius } => {
                write!(
                    f,
                    "the branch reaches {reach:.4} in from the main tube's centre, which has a radius of {main_radius:.4} in; no cut between "
                )?;
                for (i, gap) in gaps.iter().enumerate() {
                    let and = if i > 0 { " and between " } else { "" };
                    write!(f, "{and}{:.2}° and {:.2}°", gap.from, gap.to)?;
                }
                Ok(())
            }
            Self::Crossing { shortest } => {
                write!(f, "the cuts of the two ends meet or cross, by {:.4} in", shortest.abs())
            }
        }
    }
}

impl std::error::Error for Impossible {}

/// Largest tube or length, inches.
const LARGEST: f64 = 10_000.0;

/// A size that can be.
pub(super) fn size(what: &'static str, inches: f64) -> Result<f64, Impossible> {
    if inches > 0.0 && inches <= LARGEST { Ok(inches) } else { Err(Impossible::Size { what, inches }) }
}
