//! Blind rivets by number: the grip they hold.

use super::cited::mils;
use super::{Cited, Drill, GripRange, Source};
use crate::units::Length;

const TABLE: Source = Source::Published("US Army TM 10-5410-221-14/1, Table 4-3");
/// The publication has the row, its number was worked out of its neighbours.
const INFERRED: Source = Source::Computed("row of TM 10-5410-221-14/1, Table 4-3, number inferred");

/// A row of the table. Lengths in thousandths of an inch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BlindRivet {
    /// Diameter in 1/32 in, then the largest grip in 1/16 in.
    pub number: &'static str,
    thirty_seconds: i64,
    pub drill: Drill,
    pub(super) hole: Option<(i64, i64)>,
    length: Option<i64>,
    grip: (i64, i64),
    pub source: Source,
}

const fn row(
    number: &'static str,
    thirty_seconds: i64,
    (drill, hole): (Drill, (i64, i64)),
    length: i64,
    grip: (i64, i64),
    source: Source,
) -> BlindRivet {
    BlindRivet { number, thirty_seconds, drill, hole: Some(hole), length: Some(length), grip, source }
}

const fn remembered(number: &'static str, grip: (i64, i64)) -> BlindRivet {
    let source = Source::FromMemory;
    BlindRivet { number, thirty_seconds: 6, drill: Drill::Number(11), hole: None, length: None, grip, source }
}

const NO_41: (Drill, (i64, i64)) = (Drill::Number(41), (96, 100));
const NO_30: (Drill, (i64, i64)) = (Drill::Number(30), (128, 132));
const NO_20: (Drill, (i64, i64)) = (Drill::Number(20), (160, 164));
const F: (Drill, (i64, i64)) = (Drill::Letter('F'), (257, 261));

const ROWS: [BlindRivet; 21] = [
    row("32", 3, NO_41, 212, (20, 125), TABLE),
    row("34", 3, NO_41, 337, (126, 250), TABLE),
    row("41", 4, NO_30, 170, (20, 62), TABLE),
    row("42", 4, NO_30, 232, (63, 125), TABLE),
    row("43", 4, NO_30, 294, (126, 187), TABLE),
    row("44", 4, NO_30, 357, (188, 250), TABLE),
    row("45", 4, NO_30, 419, (251, 312), TABLE),
    row("46", 4, NO_30, 481, (313, 375), TABLE),
    row("48", 4, NO_30, 628, (376, 500), TABLE),
    row("52", 5, NO_20, 254, (20, 125), TABLE),
    row("53", 5, NO_20, 316, (126, 187), INFERRED),
    row("54", 5, NO_20, 379, (188, 250), TABLE),
    row("56", 5, NO_20, 504, (251, 375), TABLE),
    remembered("62", (20, 125)),
    remembered("64", (126, 250)),
    remembered("66", (251, 375)),
    remembered("68", (376, 500)),
    row("84", 8, F, 447, (125, 250), TABLE),
    row("86", 8, F, 572, (251, 375), TABLE),
    row("88", 8, F, 697, (376, 500), TABLE),
    row("812", 8, F, 947, (626, 750), TABLE),
];

/// How a stack lies to what a blind rivet holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grip {
    Holds,
    /// The stack is thinner than the least grip by this much: the rivet stays loose.
    TooThin(Length),
    /// The stack is thicker than the largest grip by this much: no head forms.
    TooThick(Length),
    /// Not too thick, but the least grip is not known.
    LeastUnknown,
}

impl GripRange {
    /// How a stack of `thickness` lies to this range.
    pub fn judge(self, thickness: Length) -> Grip {
        if thickness > self.most {
            return Grip::TooThick(thickness - self.most);
        }
        match self.least {
            None => Grip::LeastUnknown,
            Some(least) if thickness < least => Grip::TooThin(least - thickness),
            Some(_) => Grip::Holds,
        }
    }
}

impl BlindRivet {
    /// The rivet of a number, `42`.
    pub fn of_number(number: &str) -> Option<Self> {
        ROWS.iter().copied().find(|row| row.number == number)
    }

    /// The rivets of a diameter, least grip first.
    pub fn of_diameter(diameter: Length) -> impl Iterator<Item = Self> {
        ROWS.iter().copied().filter(move |row| row.diameter() == diameter)
    }

    /// The rivets of a diameter that hold `thickness`. The rows follow each other in thousandths of an inch, so
    /// a thickness between two rows is taken by the thicker one.
    pub fn holding(diameter: Length, thickness: Length) -> Option<Self> {
        let fits = |row: &Self| {
            let GripRange { least, most } = row.grip().value;
            least.is_some_and(|least| thickness > least - mils(1)) && thickness <= most
        };
        Self::of_diameter(diameter).find(fits)
    }

    pub fn diameter(self) -> Length {
        Length::inches(self.thirty_seconds, 32)
    }

    /// Length before setting.
    pub fn length(self) -> Option<Cited<Length>> {
        self.length.map(|length| Cited::new(mils(length), self.source))
    }

    pub fn grip(self) -> Cited<GripRange> {
        let (least, most) = self.grip;
        Cited::new(GripRange { least: Some(mils(least)), most: mils(most) }, self.source)
    }
}
