//! Screw threads: unified by size and threads per inch, metric by diameter and pitch.

use super::Drill;
use crate::units::{Length, Rational};

/// A screw thread.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Thread {
    /// A numbered unified size: `10-32`.
    Number { number: u8, per_inch: u8 },
    /// A unified size in sixteenths of an inch: `1/4-28` is 4 and 28.
    Sixteenths { sixteenths: u8, per_inch: u8 },
    /// A metric size: diameter and pitch in hundredths of a millimetre.
    Metric { diameter: u16, pitch: u16 },
}

/// The fine threads of FAA AC 43.13-1B CHG 1, Table 7-1: size in sixteenths and threads per inch.
const FINE: &[(u8, u8)] =
    &[(4, 28), (5, 24), (6, 24), (7, 20), (8, 20), (9, 18), (10, 18), (12, 16), (14, 14), (16, 14), (18, 12), (20, 12)];

/// Coarse pitches of ISO 261 in hundredths of a millimetre, from memory; checked against a general-purpose library.
const METRIC_COARSE: &[(u16, u16)] = &[
    (160, 35),
    (200, 40),
    (250, 45),
    (300, 50),
    (400, 70),
    (500, 80),
    (600, 100),
    (800, 125),
    (1000, 150),
    (1200, 175),
    (1400, 200),
    (1600, 200),
    (1800, 250),
    (2000, 250),
    (2400, 300),
];

/// Drills for tapped holes where the rule gives a neighbouring gauge (common practice; checked against a general-purpose
/// library).
const CHART: [(Thread, Drill); 8] = [
    (Thread::Number { number: 4, per_inch: 40 }, Drill::Number(43)),
    (Thread::Number { number: 6, per_inch: 32 }, Drill::Number(36)),
    (Thread::Number { number: 8, per_inch: 32 }, Drill::Number(29)),
    (Thread::Number { number: 10, per_inch: 24 }, Drill::Number(25)),
    (Thread::Number { number: 10, per_inch: 32 }, Drill::Number(21)),
    (Thread::Sixteenths { sixteenths: 4, per_inch: 20 }, Drill::Number(7)),
    (Thread::Sixteenths { sixteenths: 4, per_inch: 28 }, Drill::Number(3)),
    (Thread::Sixteenths { sixteenths: 5, per_inch: 18 }, Drill::Letter('F')),
];

impl Thread {
    /// The fine thread of a bolt whose diameter is `sixteenths` of an inch. Three sixteenths is No. 10, 10-32.
    pub fn fine(sixteenths: u8) -> Option<Self> {
        if sixteenths == 3 {
            return Some(Self::Number { number: 10, per_inch: 32 });
        }
        FINE.iter()
            .find(|&&(size, _)| size == sixteenths)
            .map(|&(sixteenths, per_inch)| Self::Sixteenths { sixteenths, per_inch })
    }

    /// The coarse metric thread of a diameter in hundredths of a millimetre.
    pub fn metric_coarse(diameter: u16) -> Option<Self> {
        METRIC_COARSE.iter().find(|&&(d, _)| d == diameter).map(|&(diameter, pitch)| Self::Metric { diameter, pitch })
    }

    /// Reads `10-32`, `1/4-28`, `1 1/8-12`, `M6`, `M8x1`, with or without `UNF`, `UNC` behind it.
    pub fn parse(text: &str) -> Option<Self> {
        let text = text.trim();
        if let Some(metric) = text.strip_prefix(['M', 'm']) {
            let mut parts = metric.splitn(2, ['x', 'X', '×']);
            let diameter = hundredths(parts.next()?.trim())?;
            return match parts.next() {
                None => Self::metric_coarse(diameter),
                Some(pitch) => {
                    let pitch = hundredths(pitch.trim())?;
                    (pitch > 0 && pitch < diameter).then_some(Self::Metric { diameter, pitch })
                }
            };
        }
        let text = text.trim_end_matches(|c: char| c.is_ascii_alphabetic()).trim_end();
        let (size, per_inch) = text.rsplit_once('-')?;
        let per_inch: u8 = per_inch.trim().parse().ok().filter(|&n| n >= 4)?;
        let size = size.trim().trim_start_matches('#');
        if let Some(number) = size.parse::<u8>().ok().filter(|_| size.len() <= 2) {
            return match number {
                1 => Some(Self::Sixteenths { sixteenths: 16, per_inch }).filter(|_| per_inch < 20),
                2..=12 => Some(Self::Number { number, per_inch }),
                _ => None,
            };
        }
        let sixteenths = Length::parse(size).ok()?.as_inches() * Rational::from_integer(16);
        let sixteenths = sixteenths.is_integer().then(|| u8::try_from(sixteenths.to_integer()).ok()).flatten()?;
        (1..=64).contains(&sixteenths).then_some(Self::Sixteenths { sixteenths, per_inch })
    }

    /// The nominal (largest) diameter. Numbered sizes: 0.060 in and 0.013 in a number (ASME B1.1, from memory).
    pub fn diameter(self) -> Length {
        match self {
            Self::Number { number, .. } => Length::inches(60 + 13 * i64::from(number), 1000),
            Self::Sixteenths { sixteenths, .. } => Length::inches(i64::from(sixteenths), 16),
            Self::Metric { diameter, .. } => Length::millimetres(i64::from(diameter), 100),
        }
    }

    /// The drill for a tapped hole by the usual chart; for a thread that is not in it the diameter less a pitch (common
    /// practice, about three quarters of a full thread), as the nearest tenth of a millimetre, or the number, letter or
    /// sixty-fourth next above; .002 in less is let pass.
    pub fn tap_drill(self) -> Drill {
        if let Some(&(_, drill)) = CHART.iter().find(|row| row.0 == self) {
            return drill;
        }
        let wanted = self.diameter() - self.pitch();
        if let Self::Metric { .. } = self {
            let tenths = (wanted.as_inches() * Rational::from_integer(254)).round().to_integer();
            return Drill::Millimetre(Length::millimetres(tenths, 10));
        }
        let least = wanted - Length::inches(2, 1000);
        let all = Drill::gauges().chain((1..=128).map(Drill::SixtyFourths));
        all.filter(|d| d.size().value >= least).min_by_key(|d| d.size().value).unwrap_or(Drill::Decimal(wanted))
    }

    /// The distance from one thread to the next.
    pub fn pitch(self) -> Length {
        match self {
            Self::Number { per_inch, .. } | Self::Sixteenths { per_inch, .. } => Length::inches(1, i64::from(per_inch)),
            Self::Metric { pitch, .. } => Length::millimetres(i64::from(pitch), 100),
        }
    }
}

/// Hundredths of a millimetre out of `6`, `1.25`.
fn hundredths(text: &str) -> Option<u16> {
    let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
    let digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
    if whole.is_empty() || whole.len() > 2 || fraction.len() > 2 || !digits(whole) || !digits(fraction) {
        return None;
    }
    format!("{whole}{fraction:0<2}").parse().ok().filter(|&n| n > 0)
}

impl std::fmt::Display for Thread {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match *self {
            Self::Number { number, per_inch } => write!(f, "{number}-{per_inch}"),
            Self::Sixteenths { sixteenths, per_inch } => {
                let size = Rational::new(i64::from(sixteenths), 16);
                let (whole, rest) = (size.to_integer(), size.fract());
                match (whole, *rest.numer()) {
                    (w, 0) => write!(f, "{w}-{per_inch}"),
                    (0, n) => write!(f, "{n}/{}-{per_inch}", rest.denom()),
                    (w, n) => write!(f, "{w} {n}/{}-{per_inch}", rest.denom()),
                }
            }
            Self::Metric { diameter, pitch } => {
                write!(f, "M{}", millimetres(diameter))?;
                if Self::metric_coarse(diameter) == Some(*self) { Ok(()) } else { write!(f, "x{}", millimetres(pitch)) }
            }
        }
    }
}

fn millimetres(hundredths: u16) -> String {
    let text = format!("{}.{:02}", hundredths / 100, hundredths % 100);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_and_writes_the_same_thread() {
        for text in ["10-32", "1/4-28", "5/16-18", "1-14", "1 1/8-12", "8-36", "M6", "M8x1", "M2.5"] {
            assert_eq!(Thread::parse(text).expect(text).to_string(), text);
        }
        assert_eq!(Thread::parse("#10-32 UNF"), Thread::parse("10-32"));
        assert_eq!(Thread::parse("M6x1"), Thread::parse("M6"));
        for text in ["", "M", "M6x9", "1/4", "1/3-28", "10-", "99-12", "M6x0"] {
            assert_eq!(Thread::parse(text), None, "{text}");
        }
    }

    /// Basic major diameters of ASME B1.1: No. 8 .164, No. 10 .190, as printed in thread charts.
    #[test]
    fn numbered_sizes_have_their_diameter() {
        assert_eq!(Thread::parse("8-32").map(Thread::diameter), Some(Length::inches(164, 1000)));
        assert_eq!(Thread::parse("10-32").map(Thread::diameter), Some(Length::inches(190, 1000)));
    }
}
