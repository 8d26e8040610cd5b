//! Solid rivets: length, spacing, diameter against what they hold.

use super::{Cited, Source};
use crate::units::{Length, Rational};

const LENGTH: Source = Source::Published("NAVEDTRA 14018: grip and one and a half diameters");
const TUBE: Source = Source::Published("FAA AC 43.13-1B, 4-58a");
const SHEET: Source = Source::Published("NAVEDTRA 14018; FAA AC 43.13-1B p. 4-27");
const EDGE: Source = Source::Published("FAA AC 43.13-1B ch. 4, as cited in training texts");
const ROWS: Source = Source::Published("TM 10-5410-229-13P");

/// The length a rivet should have before it is set: grip + 1.5 D.
pub fn rivet_length(grip: Length, diameter: Length) -> Cited<Length> {
    Cited::new(grip + times(diameter, 3, 2), LENGTH)
}

/// How a rivet's length compares with the rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RivetLength {
    /// Within the allowance.
    Right,
    /// Too short by this much to form a head.
    Short(Length),
    /// Too long by this much: it will bend or clinch.
    Long(Length),
}

/// Compares a rivet's length with the rule. The allowance is half a size either way, 1/32 in (common practice:
/// the nearest 1/16 in size is taken).
pub fn judge_rivet_length(length: Length, grip: Length, diameter: Length) -> Cited<RivetLength> {
    let wanted = rivet_length(grip, diameter);
    let allowance = Length::inches(1, 32);
    let judged = if length + allowance < wanted.value {
        RivetLength::Short(wanted.value - length)
    } else if length > wanted.value + allowance {
        RivetLength::Long(length - wanted.value)
    } else {
        RivetLength::Right
    };
    wanted.map(|_| judged)
}

/// The length number (1/16 in) of the rivet nearest to the rule; of two equally near the longer.
pub fn rivet_dash(grip: Length, diameter: Length) -> Cited<i64> {
    rivet_length(grip, diameter).map(|length| {
        (length.as_inches() * Rational::from_integer(16) + Rational::new(1, 2)).floor().to_integer().max(1)
    })
}

/// Least and greatest diameter for a sheet: of the thickest sheet, once to three times (NAVEDTRA 14018), and where three
/// times lies between two sizes of rivets the larger, as in the worked example of AC 43.13-1B p. 4-27.
pub fn rivet_diameters(thickest: Length) -> Cited<(Length, Length)> {
    let sizes = (thickest.as_inches() * Rational::from_integer(3 * 32)).ceil().to_integer();
    Cited::new((thickest, Length::inches(sizes, 32)), SHEET)
}

/// Least diameter of a solid rivet right through both walls of a tube: an eighth of the outside diameter. It says
/// nothing of a blind rivet in one wall.
pub fn rivet_through_tube(outside_diameter: Length) -> Cited<Length> {
    Cited::new(times(outside_diameter, 1, 8), TUBE)
}

/// Spacing of fasteners, in diameters. Settable; these are the table values.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spacing {
    pub edge: Cited<Rational>,
    /// Edge distance of flush heads.
    pub flush_edge: Cited<Rational>,
    pub pitch: Cited<Rational>,
    pub rows: Cited<Rational>,
}

impl Default for Spacing {
    fn default() -> Self {
        Self {
            edge: Cited::new(Rational::from_integer(2), EDGE),
            flush_edge: Cited::new(Rational::new(5, 2), EDGE),
            pitch: Cited::new(Rational::from_integer(3), EDGE),
            rows: Cited::new(Rational::new(5, 2), ROWS),
        }
    }
}

impl Spacing {
    /// Whether a distance is less than `least`. What is missing by the name of a size is let pass: a No. 10 bolt goes by
    /// 3/16 in (common practice).
    pub fn short(distance: Length, least: Length) -> bool {
        distance + Length::inches(1, 128) < least
    }

    /// A least distance for a fastener of `diameter`.
    pub fn least(diameters: Cited<Rational>, diameter: Length) -> Cited<Length> {
        diameters.map(|times| Length::from_inches(diameter.as_inches() * times))
    }
}

fn times(length: Length, numerator: i64, denominator: i64) -> Length {
    Length::from_inches(length.as_inches() * Rational::new(numerator, denominator))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(text: &str) -> Length {
        Length::parse(text).expect(text)
    }

    /// NAVEDTRA 14018: length = grip + 1.5 D.
    #[test]
    fn length_is_grip_and_one_and_a_half_diameters() {
        assert_eq!(rivet_length(inches("1/8"), inches("1/8")).value, inches("5/16"));
        assert_eq!(rivet_dash(inches("1/8"), inches("1/8")).value, 5);
        assert_eq!(rivet_dash(inches(".064"), inches("3/32")).value, 3);
        for (length, expected) in [
            ("5/16", RivetLength::Right),
            ("9/32", RivetLength::Right),
            ("1/4", RivetLength::Short(Length::inches(1, 16))),
            ("3/8", RivetLength::Long(Length::inches(1, 16))),
        ] {
            assert_eq!(judge_rivet_length(inches(length), inches("1/8"), inches("1/8")).value, expected);
        }
    }

    /// AC 43.13-1B p. 4-27: 1/8 in rivets in .032 sheet, where three times the sheet is .096.
    #[test]
    fn diameter_follows_the_thickest_sheet() {
        assert_eq!(rivet_diameters(inches(".032")).value, (inches(".032"), inches("1/8")));
        assert_eq!(rivet_diameters(inches("1/16")).value, (inches("1/16"), inches("3/16")));
        assert_eq!(rivet_through_tube(inches("1")).value, inches("1/8"));
    }

    /// FAA AC 43.13-1B ch. 4: 2 D to the edge, flush 2.5 D, pitch 3 D.
    #[test]
    fn spacing_is_in_diameters() {
        let spacing = Spacing::default();
        assert_eq!(Spacing::least(spacing.edge, inches("1/8")).value, inches("1/4"));
        assert_eq!(Spacing::least(spacing.flush_edge, inches("1/8")).value, inches("5/16"));
        assert_eq!(Spacing::least(spacing.pitch, inches("1/8")).value, inches("3/8"));
        let least = |d: &str| Spacing::least(spacing.edge, inches(d)).value;
        assert!(!Spacing::short(inches("3/8"), least(".190")) && Spacing::short(inches("23/64"), least(".190")));
        assert!(Spacing::short(inches("31/64"), least("1/4")));
    }
}
