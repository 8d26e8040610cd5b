//! Saddles: a branch tube fitted to the outside of a main tube.
//!
//! Angles around the branch are in degrees, 0 on the obtuse side (the long point), 180 on the acute side (the
//! throat), counter-clockwise looking at the branch's end. Distances are along the branch's axis from the main tube's axis, inches: the lower, the longer the branch.

use super::impossible::{Gap, Impossible, size};
use super::turn::turn;
use crate::units::{Angle, Length};

/// The flattest saddle that is cut, degrees between the axes.
const FLATTEST: f64 = 15.0;

/// Steps around the branch in which extremes are sought; they fall between the stations of a coarse sampling.
const STEPS: usize = 720;

/// A saddle cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Saddle {
    main_radius: f64,
    outer: f64,
    inner: f64,
    cos: f64,
    sin: f64,
    offset: f64,
    outer_extremes: (Extreme, Extreme),
}

/// A lowest or highest point of a curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extreme {
    /// Around the branch.
    pub degrees: f64,
    /// Along the branch's axis, inches.
    pub distance: f64,
}

impl Saddle {
    /// A branch of `outside_diameter` and `wall` on a main tube of `main_diameter`, `angle` between the axes; over
    /// 90 degrees it is the same saddle as what is missing to 180. The axes are `offset` apart: looking at the
    /// branch's end with its long point up, a positive offset has the main tube's axis to the right.
    ///
    /// # Errors
    /// Sizes that are none, an angle outside of 15 to 165 degrees, a branch that the main tube does not meet all
    /// around.
    pub fn new(
        main_diameter: Length,
        outside_diameter: Length,
        wall: Length,
        angle: Angle,
        offset: Length,
    ) -> Result<Self, Impossible> {
        let main_radius = size("the main tube's diameter", main_diameter.to_f64())? / 2.0;
        let outer = size("an outside diameter", outside_diameter.to_f64())? / 2.0;
        let wall = size("a wall", wall.to_f64())?;
        let inner = outer - wall;
        if inner < 0.0 {
            return Err(Impossible::Wall { wall, outside_diameter: 2.0 * outer });
        }
        let degrees = angle.to_f64();
        let most = 180.0 - FLATTEST;
        if !(FLATTEST..=most).contains(&degrees) {
            return Err(Impossible::Angle { what: "a saddle", degrees, least: FLATTEST, most });
        }
        let offset = offset.to_f64();
        let reach = offset.abs() + outer;
        // Equal tubes without offset just touch; what decimals add to that is no miss.
        if reach > main_radius * (1.0 + 1e-12) {
            return Err(Impossible::Misses { gaps: gaps(main_radius, outer, offset), reach, main_radius });
        }
        let radians = degrees.to_radians();
        // Exactly square axes, whose cosine a floating-point number does not hit.
        let cos = if degrees == 90.0 { 0.0 } else { libm::cos(radians).abs() };
        let unknown = Extreme { degrees: 0.0, distance: 0.0 };
        let mut saddle = Self {
            main_radius,
            outer,
            inner,
            cos,
            sin: libm::sin(radians),
            offset,
            outer_extremes: (unknown, unknown),
        };
        saddle.outer_extremes = extremes(|degrees| saddle.outer(degrees));
        Ok(saddle)
    }

    /// The curve of the branch's wall at `radius`: where it meets the main tube's outside.
    ///
    /// `s = (sqrt(R^2 - (e + q sin p)^2) - q cos p cos t) / sin t`
    fn at(&self, radius: f64, degrees: f64) -> f64 {
        let (sin, cos) = turn(degrees);
        let across = self.offset + radius * sin;
        let height = libm::sqrt((self.main_radius * self.main_radius - across * across).max(0.0));
        (height - radius * cos * self.cos) / self.sin
    }

    /// The curve of the outside of the branch: the line on a wrap template.
    pub fn outer(&self, degrees: f64) -> f64 {
        self.at(self.outer, degrees)
    }

    /// The curve of the inside of the branch.
    pub fn inner(&self, degrees: f64) -> f64 {
        self.at(self.inner, degrees)
    }

    /// The curve of a cut that is made square to the tube's wall: the highest over the wall, or the branch would
    /// not close on the main tube.
    pub fn cut(&self, degrees: f64) -> f64 {
        let (sin, cos) = turn(degrees);
        let c = -cos * self.cos;
        // The curve over the radius bulges upwards; it is level at u = R c / sqrt(S^2 + c^2) from the main axis.
        let mut highest = self.outer(degrees).max(self.inner(degrees));
        if sin != 0.0 {
            let level = self.main_radius * c * sin.signum() / libm::sqrt(sin * sin + c * c);
            let radius = (level - self.offset) / sin;
            if radius > self.inner && radius < self.outer {
                highest = highest.max(self.at(radius, degrees));
            }
        }
        highest
    }

    /// The branch's outside radius, inches.
    pub fn radius(&self) -> f64 {
        self.outer
    }

    /// Lowest and highest point of the outside's curve.
    pub fn outer_extremes(&self) -> (Extreme, Extreme) {
        self.outer_extremes
    }

    /// Diameter of the hole saw that cuts it, which is the main tube's outside, inches. The saw goes in across the
    /// branch, turned off square by [`Saddle::off_square`].
    pub fn hole_saw(&self) -> f64 {
        2.0 * self.main_radius
    }

    /// What the axes are off square, degrees: the setting of a notching jig.
    pub fn off_square(&self) -> f64 {
        90.0 - libm::asin(self.sin.min(1.0)).to_degrees()
    }
}

/// Where |e + r sin p| is greater than R.
fn gaps(main_radius: f64, outer: f64, offset: f64) -> Vec<Gap> {
    let mut gaps = Vec::new();
    for (side, middle) in [(1.0, 90.0), (-1.0, 270.0)] {
        let sine = (main_radius - side * offset) / outer;
        if sine >= 1.0 {
            continue;
        }
        // Beyond the whole circle: the branch misses the main tube altogether.
        let half = libm::acos(sine.max(-1.0)).to_degrees();
        gaps.push(Gap { from: middle - half, to: middle + half });
    }
    gaps
}

/// Lowest and highest point of a curve around the tube: a fine sampling, then narrowed around the best sample.
fn extremes(curve: impl Fn(f64) -> f64) -> (Extreme, Extreme) {
    let step = 360.0 / STEPS as f64;
    let find = |sign: f64| {
        let value = |degrees: f64| sign * curve(degrees);
        let (best, lowest) = (0..STEPS)
            .map(|i| i as f64 * step)
            .map(|degrees| (degrees, value(degrees)))
            .reduce(|best, next| if next.1 < best.1 { next } else { best })
            .unwrap_or((0.0, value(0.0)));
        let (mut low, mut high) = (best - step, best + step);
        for _ in 0..60 {
            let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
            if value(a) < value(b) { high = b } else { low = a }
        }
        let narrowed = (low + high) / 2.0;
        let degrees = if value(narrowed) < lowest { narrowed } else { best };
        Extreme { degrees: degrees.rem_euclid(360.0), distance: curve(degrees) }
    };
    (find(1.0), find(-1.0))
}
