//! Tubes: weight, and how two of them slide.

use super::material::tube_constant;
use super::{Cited, Source};
use crate::geometry;
use crate::units::Length;

/// Weight of a round tube in pounds to the foot: k (OD - t) t, k of its material. `None` for a material without a
/// published constant and for a wall that leaves no bore.
pub fn tube_weight(material: &str, outside_diameter: Length, wall: Length) -> Option<Cited<f64>> {
    if wall <= Length::ZERO || wall * 2 > outside_diameter {
        return None;
    }
    let (diameter, wall) = (outside_diameter.to_f64(), wall.to_f64());
    tube_constant(material).map(|constant| constant.map(|k| k * (diameter - wall) * wall))
}

/// How a tube slides in another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Slide {
    /// It does not go in.
    Interference,
    /// It may need honing.
    Tight,
    Slides,
    Loose,
}

/// Limits of the diametral clearance. Settable.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SlideLimits {
    pub tight: Length,
    pub loose: Length,
}

impl Default for SlideLimits {
    /// .005 to .020 in (common practice).
    fn default() -> Self {
        Self { tight: Length::inches(5, 1000), loose: Length::inches(20, 1000) }
    }
}

/// Diametral clearance of a tube in another, and what that means. `finish` is the thickness of the finish on each
/// surface. The wall has a mill tolerance of about 10 % (common practice), so a clearance near a limit is not sure.
pub fn slide(
    inside_diameter: Length,
    outside_diameter: Length,
    wall: Length,
    finish: Length,
    limits: SlideLimits,
) -> Cited<(Length, Slide)> {
    let clearance = geometry::clearance(inside_diameter, outside_diameter, wall, finish);
    let slide = if clearance < Length::ZERO {
        Slide::Interference
    } else if clearance < limits.tight {
        Slide::Tight
    } else if clearance > limits.loose {
        Slide::Loose
    } else {
        Slide::Slides
    };
    Cited::new((clearance, slide), Source::CommonPractice)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(text: &str) -> Length {
        Length::parse(text).expect(text)
    }

    /// Weights computed with general-purpose tools, to four decimals.
    #[test]
    fn weights_are_the_computed_ones() {
        for row in super::super::tests::rows(include_str!("tests/published/tube-weights.csv")) {
            let [diameter, wall, steel, aluminium] = row[..] else { panic!("{row:?}") };
            for (material, expected) in [("4130 steel", steel), ("6061-T6", aluminium)] {
                let found = tube_weight(material, inches(diameter), inches(wall)).expect(material).value;
                assert!((found - expected.parse::<f64>().expect(expected)).abs() < 6e-5, "{row:?} {found}");
            }
        }
        assert_eq!(tube_weight("cheese", inches("1"), inches(".058")), None);
        assert_eq!(tube_weight("6061-T6", inches("1"), inches(".6")), None);
    }

    #[test]
    fn clearance_is_judged() {
        let judge = |wall: &str| {
            slide(inches("1 1/8"), inches("1 1/4"), inches(wall), Length::ZERO, SlideLimits::default()).value.1
        };
        for (wall, expected) in
            [(".035", Slide::Loose), (".058", Slide::Slides), (".061", Slide::Tight), (".065", Slide::Interference)]
        {
            assert_eq!(judge(wall), expected, "{wall}");
        }
    }
}
