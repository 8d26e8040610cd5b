//! Electric wire: what a size bears, what protects it, and what is lost on the way.
//!
//! Sizes in AWG follow FAA AC 43.13-1B, chapter 11; sizes in square millimetres follow IEC 60228, which gives their
//! resistance and nothing about the current. What a metric size bears is taken of the next smaller size in AWG.

use super::cited::{Cited, Source};
use crate::units::{Length, Rational, UnreadableNumber, decimal_text};

/// The size of a conductor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WireSize {
    /// American wire gauge; 0 is written as 0, 00 as -1 and so on.
    Awg(i8),
    /// Cross-section in square millimetres.
    Metric(Rational),
}

/// A size in AWG: resistance in ohms per 1,000 ft at 20 °C (tin-plated, the most allowed), area in circular mils, and the
/// current in amperes that a wire in a full bundle bears continuously at 70 °C around it, rated for 105 °C.
/// Source: FAA AC 43.13-1B, table 11-9.
const AWG: [(i8, f64, f64, f64); 17] = [
    (24, 28.40, 475.0, 2.5),
    (22, 16.20, 755.0, 3.0),
    (20, 9.88, 1_216.0, 4.0),
    (18, 6.23, 1_900.0, 6.0),
    (16, 4.81, 2_426.0, 7.0),
    (14, 3.06, 3_831.0, 10.0),
    (12, 2.02, 5_874.0, 13.0),
    (10, 1.26, 9_354.0, 17.0),
    (8, 0.70, 16_983.0, 38.0),
    (6, 0.44, 26_818.0, 50.0),
    (4, 0.28, 42_615.0, 68.0),
    (2, 0.18, 66_500.0, 95.0),
    (1, 0.15, 81_700.0, 113.0),
    (0, 0.12, 104_500.0, 128.0),
    (-1, 0.09, 133_000.0, 147.0),
    (-2, 0.07, 166_500.0, 172.0),
    (-3, 0.06, 210_900.0, 204.0),
];

/// The largest circuit breaker and the largest fuse, in amperes, that protect a copper wire of a size in AWG.
/// Source: FAA AC 43.13-1B, table 11-3; it has no breaker for the last two.
const PROTECTORS: [(i8, Option<f64>, f64); 13] = [
    (22, Some(5.0), 5.0),
    (20, Some(7.5), 5.0),
    (18, Some(10.0), 10.0),
    (16, Some(15.0), 10.0),
    (14, Some(20.0), 15.0),
    (12, Some(30.0), 20.0),
    (10, Some(40.0), 30.0),
    (8, Some(50.0), 50.0),
    (6, Some(80.0), 70.0),
    (4, Some(100.0), 70.0),
    (2, Some(125.0), 100.0),
    (1, None, 150.0),
    (0, None, 150.0),
];

/// Cross-section in hundredths of a square millimetre and resistance in ohms per km at 20 °C, the most allowed of a
/// flexible copper conductor, plain.
/// Source: IEC 60228, class 5.
const METRIC: [(i64, f64); 12] = [
    (50, 39.0),
    (75, 26.0),
    (100, 19.5),
    (150, 13.3),
    (250, 7.98),
    (400, 4.95),
    (600, 3.30),
    (1_000, 1.91),
    (1_600, 1.21),
    (2_500, 0.780),
    (3_500, 0.554),
    (5_000, 0.386),
];

const AC: Source = Source::Published("FAA AC 43.13-1B, chapter 11");
const IEC: Source = Source::Published("IEC 60228, class 5");

/// One circular mil in square millimetres: a circle of a thousandth of an inch.
const CIRCULAR_MIL: f64 = std::f64::consts::FRAC_PI_4 * 0.0254 * 0.0254;

/// A value of the tables, which have tenths at the finest.
fn tenths(value: f64) -> Rational {
    Rational::new((value * 10.0) as i64, 10)
}

/// What protects a wire.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Protector {
    Fuse,
    Breaker,
}

impl Protector {
    pub fn word(self) -> &'static str {
        match self {
            Self::Fuse => "fuse",
            Self::Breaker => "circuit breaker",
        }
    }
}

impl WireSize {
    /// Reads `AWG 18`, `AWG 00`, `18 AWG`, `1.5 mm2`.
    ///
    /// # Errors
    /// A text that is no size; a size that neither table has.
    pub fn parse(text: &str) -> Result<Self, UnreadableNumber> {
        let plain = text.trim();
        let upper = plain.to_ascii_uppercase();
        let unknown = || UnreadableNumber(format!("`{plain}` is not a size of wire in the table"));
        if upper.contains("AWG") {
            let number = upper.replace("AWG", "");
            let number = number.trim().trim_start_matches(['#', '-']).trim();
            let gauge = match number {
                "00" | "2/0" => -1,
                "000" | "3/0" => -2,
                "0000" | "4/0" => -3,
                other => other.parse().map_err(|_| unknown())?,
            };
            return AWG.iter().any(|row| row.0 == gauge).then_some(Self::Awg(gauge)).ok_or_else(unknown);
        }
        let number = ["mm2", "mm\u{b2}", "MM2"].iter().find_map(|unit| plain.strip_suffix(unit)).ok_or_else(unknown)?;
        let area = Length::parse(number.trim()).map_err(|_| unknown())?.as_inches();
        let hundredths = area * Rational::from_integer(100);
        METRIC
            .iter()
            .any(|row| Rational::from_integer(row.0) == hundredths)
            .then_some(Self::Metric(area))
            .ok_or_else(unknown)
    }

    /// Most ohms of a length of it at 20 °C.
    fn ohms(self, inches: f64) -> Option<Cited<f64>> {
        match self {
            Self::Awg(gauge) => {
                let row = AWG.iter().find(|row| row.0 == gauge)?;
                Some(Cited::new(row.1 * inches / 12_000.0, AC))
            }
            Self::Metric(area) => {
                let row =
                    METRIC.iter().find(|row| Rational::from_integer(row.0) == area * Rational::from_integer(100))?;
                Some(Cited::new(row.1 * inches * 0.0254 / 1_000.0, IEC))
            }
        }
    }

    /// The size in AWG whose currents are taken for it: itself, or the largest that is no larger than a metric one.
    pub fn judged_as(self) -> Option<Self> {
        match self {
            Self::Awg(_) => Some(self),
            Self::Metric(area) => {
                let area = *area.numer() as f64 / *area.denom() as f64;
                let row = AWG.iter().rev().find(|row| row.2 * CIRCULAR_MIL <= area)?;
                Some(Self::Awg(row.0))
            }
        }
    }

    /// The largest protector of the wire, in amperes.
    pub fn largest(self, protector: Protector) -> Option<Cited<Rational>> {
        let Some(Self::Awg(gauge)) = self.judged_as() else { return None };
        let row = PROTECTORS.iter().find(|row| row.0 == gauge)?;
        let most = match protector {
            Protector::Fuse => Some(row.2),
            Protector::Breaker => row.1,
        };
        most.map(|most| Cited::new(tenths(most), AC))
    }

    /// The current that it bears continuously in a full bundle, in amperes.
    pub fn bears(self) -> Option<Cited<Rational>> {
        let Some(Self::Awg(gauge)) = self.judged_as() else { return None };
        let row = AWG.iter().find(|row| row.0 == gauge)?;
        Some(Cited::new(tenths(row.3), AC))
    }

    /// What is lost on the way at 20 °C, in volts, rounded up to a hundredth: length of the whole way times resistance times
    /// current (FAA AC 43.13-1B, 11-66). None where the numbers are beyond any wire.
    pub fn drop(self, way: Length, amperes: Rational) -> Option<Cited<Rational>> {
        let amperes = *amperes.numer() as f64 / *amperes.denom() as f64;
        let ohms = self.ohms(way.to_f64())?;
        // What is nought but for the last bits of a number is not rounded up.
        let hundredths = (ohms.value * amperes * 100.0 - 1e-9).ceil();
        (0.0..1e12).contains(&hundredths).then(|| Cited::new(Rational::new(hundredths as i64, 100), ohms.source))
    }
}

/// The most that may be lost between the source and what it feeds where it works continuously, in volts, by the voltage
/// of the circuit. A circuit of 12 V is one of 14 V nominal, one of 24 V one of 28 V.
/// Source: FAA AC 43.13-1B, table 11-6, continuous operation.
pub fn allowed_drop(volts: Rational) -> Option<Cited<Rational>> {
    let between = |low: i64, high: i64| Rational::from_integer(low) <= volts && volts <= Rational::from_integer(high);
    let tenths = if between(12, 14) {
        5
    } else if between(24, 28) {
        10
    } else if between(110, 120) {
        40
    } else if between(200, 200) {
        70
    } else {
        return None;
    };
    Some(Cited::new(Rational::new(tenths, 10), AC))
}

impl std::fmt::Display for WireSize {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Awg(gauge) if *gauge < 0 => write!(f, "AWG {}", "0".repeat(1 + usize::from(gauge.unsigned_abs()))),
            Self::Awg(gauge) => write!(f, "AWG {gauge}"),
            Self::Metric(area) => write!(f, "{} mm²", decimal_text(*area, 2)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{AWG, CIRCULAR_MIL, METRIC, Protector, WireSize, allowed_drop};
    use crate::units::{Length, Rational};

    fn size(text: &str) -> WireSize {
        WireSize::parse(text).expect("a size of the table")
    }

    /// Examples worked out in FAA AC 43.13-1B, table 11-7: 107 ft of No. 6 at 20 A lose 0.942 V, 90 ft of No. 4 0.504 V,
    /// 88 ft of No. 12 3.60 V (3.56 before it was rounded), 100 ft of No. 14 6.12 V.
    #[test]
    fn drops_of_the_worked_examples() {
        for (gauge, feet, hundredths) in
            [("AWG 6", 107, 95), ("AWG 4", 90, 51), ("AWG 12", 88, 356), ("AWG 14", 100, 612)]
        {
            let drop = size(gauge).drop(Length::inches(feet * 12, 1), Rational::from_integer(20)).expect("a drop");
            assert_eq!(drop.value, Rational::new(hundredths, 100), "{gauge}");
        }
        assert_eq!(allowed_drop(Rational::from_integer(28)).map(|d| d.value), Some(Rational::from_integer(1)));
        assert_eq!(allowed_drop(Rational::from_integer(12)).map(|d| d.value), Some(Rational::new(1, 2)));
        assert_eq!(allowed_drop(Rational::from_integer(48)), None);
    }

    /// ASTM B258: the diameter of No. n is 0.127 mm times 92 to the power (36 - n)/39. A stranded conductor of the table is
    /// within a fifth of the area of the solid one.
    #[test]
    fn areas_are_those_of_the_gauge() {
        for (gauge, _, mils, _) in AWG {
            let diameter = 0.127 * libm::pow(92.0, (36.0 - f64::from(gauge)) / 39.0);
            let solid = std::f64::consts::FRAC_PI_4 * diameter * diameter;
            let ratio = mils * CIRCULAR_MIL / solid;
            assert!((0.89..1.2).contains(&ratio), "{gauge}: {ratio}");
        }
    }

    /// Copper of 17.241 ohm mm²/km (IEC 60028) in strands: no metric size is better than solid copper, none a third worse.
    #[test]
    fn resistances_are_those_of_copper() {
        for (hundredths, ohms) in METRIC {
            let ratio = ohms * hundredths as f64 / 100.0 / 17.241;
            assert!((1.0..1.2).contains(&ratio), "{hundredths}: {ratio}");
        }
    }

    #[test]
    fn a_metric_size_bears_what_the_next_smaller_gauge_bears() {
        assert_eq!(size("1.5 mm2").judged_as(), Some(WireSize::Awg(16)));
        assert_eq!(size("1 mm2").judged_as(), Some(WireSize::Awg(18)));
        assert_eq!(size("0.5 mm²").judged_as(), Some(WireSize::Awg(22)));
        let fuse = |text: &str| size(text).largest(Protector::Fuse).map(|c| *c.value.numer());
        assert_eq!(fuse("2.5 mm2"), Some(15));
        assert_eq!(fuse("AWG 18"), Some(10));
        assert!(
            WireSize::parse("1.7 mm2").is_err() && WireSize::parse("AWG 17").is_err() && WireSize::parse("18").is_err()
        );
        assert_eq!(size("AWG 00").to_string(), "AWG 00");
        assert_eq!(size("18 awg").to_string(), "AWG 18");
    }
}
