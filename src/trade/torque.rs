//! Nut torques of FAA AC 43.13-1B CHG 1, Table 7-1.
//!
//! A table value holds only for a stack of solid metal and a nut of the table's kind; whether that is so is for
//! the caller to know.

use super::{Cited, Decoded, Family, ItemForm, Motion, NutForm, Source, Thread, family};
use crate::units::{Measure, MeasureUnit, Rational};

const TABLE: Source = Source::Published("FAA AC 43.13-1B CHG 1, Table 7-1");
const ESTIMATED: Source = Source::Published("FAA AC 43.13-1B CHG 1, Table 7-1 (estimated there)");

/// The column of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NutLoad {
    /// MS20365, AN310 and their like.
    Tension,
    /// MS20364, AN320 and their like.
    Shear,
}

/// A torque range, in-lb, for clean threads without oil.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Torque {
    pub least: i64,
    pub most: i64,
    /// Never to be passed, for example to bring a castle nut's slot to the hole.
    pub limit: i64,
}

struct TorqueRow {
    thread: Thread,
    tension: [i64; 3],
    shear: [i64; 3],
    shear_estimated: bool,
}

const fn sixteenths(sixteenths: u8, per_inch: u8) -> Thread {
    Thread::Sixteenths { sixteenths, per_inch }
}

const fn number(number: u8, per_inch: u8) -> Thread {
    Thread::Number { number, per_inch }
}

const fn row(thread: Thread, tension: [i64; 3], shear: [i64; 3]) -> TorqueRow {
    TorqueRow { thread, tension, shear, shear_estimated: false }
}

const fn estimated(thread: Thread, tension: [i64; 3], shear: [i64; 3]) -> TorqueRow {
    TorqueRow { thread, tension, shear, shear_estimated: true }
}

const ROWS: [TorqueRow; 25] = [
    row(number(8, 36), [12, 15, 20], [7, 9, 12]),
    row(number(10, 32), [20, 25, 40], [12, 15, 25]),
    row(sixteenths(4, 28), [50, 70, 100], [30, 40, 60]),
    row(sixteenths(5, 24), [100, 140, 225], [60, 85, 140]),
    row(sixteenths(6, 24), [160, 190, 390], [95, 110, 240]),
    row(sixteenths(7, 20), [450, 500, 840], [270, 300, 500]),
    row(sixteenths(8, 20), [480, 690, 1100], [290, 410, 660]),
    row(sixteenths(9, 18), [800, 1000, 1600], [480, 600, 960]),
    row(sixteenths(10, 18), [1100, 1300, 2400], [600, 780, 1400]),
    row(sixteenths(12, 16), [2300, 2500, 5000], [1300, 1500, 3000]),
    row(sixteenths(14, 14), [2500, 3000, 7000], [1500, 1800, 4200]),
    estimated(sixteenths(16, 14), [3700, 5500, 10000], [2200, 3300, 6000]),
    estimated(sixteenths(18, 12), [5000, 7000, 15000], [3000, 4200, 9000]),
    estimated(sixteenths(20, 12), [9000, 11000, 25000], [5400, 6600, 15000]),
    row(number(8, 32), [12, 15, 20], [7, 9, 12]),
    row(number(10, 24), [20, 25, 35], [12, 15, 21]),
    row(sixteenths(4, 20), [40, 50, 75], [25, 30, 45]),
    row(sixteenths(5, 18), [80, 90, 160], [48, 55, 100]),
    row(sixteenths(6, 16), [160, 185, 275], [95, 100, 170]),
    row(sixteenths(7, 14), [235, 255, 475], [140, 155, 280]),
    row(sixteenths(8, 13), [400, 480, 880], [240, 290, 520]),
    row(sixteenths(9, 12), [500, 700, 1100], [300, 420, 650]),
    row(sixteenths(10, 11), [700, 900, 1500], [420, 540, 900]),
    row(sixteenths(12, 10), [1150, 1600, 2500], [700, 950, 1500]),
    row(sixteenths(14, 9), [2200, 3000, 4600], [1300, 1800, 2700]),
];

/// The table's range for a thread and a column.
pub fn torque(thread: Thread, load: NutLoad) -> Option<Cited<Torque>> {
    let row = ROWS.iter().find(|row| row.thread == thread)?;
    let ([least, most, limit], source) = match load {
        NutLoad::Tension => (row.tension, TABLE),
        NutLoad::Shear => (row.shear, if row.shear_estimated { ESTIMATED } else { TABLE }),
    };
    Some(Cited::new(Torque { least, most, limit }, source))
}

/// The column a nut belongs to. The table names MS20365, AN310, MS20364 and AN320; that others are alike is
/// from memory, and of the rest nothing is said.
pub fn nut_load(nut: &Decoded) -> Option<Cited<NutLoad>> {
    let named = ["MS20365", "AN310", "MS20364", "AN320"].iter().any(|name| nut.designation.starts_with(name));
    let source = if named { TABLE } else { Source::FromMemory };
    let load = match nut.form {
        ItemForm::Nut(NutForm::Castle | NutForm::Elastic) => NutLoad::Tension,
        ItemForm::Nut(NutForm::CastleShear | NutForm::ElasticShear) => NutLoad::Shear,
        _ => return None,
    };
    Some(Cited::new(load, source))
}

/// The table's range for a nut.
pub fn torque_for(nut: &Decoded) -> Option<Cited<Torque>> {
    let (thread, load) = (nut.thread?, nut_load(nut)?);
    let found = torque(thread.value, load.value)?;
    Some(Cited::new(found.value, found.source.min(thread.source).min(load.source)))
}

/// What keeps a table value from being right (common practice): the designer's value is required.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NoTableTorque {
    /// The bolt goes across a tube without a bushing.
    UnbushedTube,
    /// The joint turns.
    Pivot,
    /// Wood, plastic, fabric or rubber in the stack.
    SoftStack,
    /// The stack's material is not known to be metal.
    UnknownStack,
    /// There is no nut, or the table has none like it.
    UnknownNut,
    /// An aluminium bolt or nut: the table is for steel on steel.
    Aluminium,
    /// A clevis bolt, whose thin head is made for shear alone.
    ClevisBolt,
    /// Greased or oiled threads: less torque draws as much.
    Greased,
}

/// Whether the threads are dry or greased.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ThreadState {
    Dry,
    Greased,
}

impl NoTableTorque {
    /// The reason as a document prints it behind "designer's value required".
    pub fn words(self) -> &'static str {
        match self {
            Self::UnbushedTube => "across a tube without a bushing",
            Self::Pivot => "the joint turns",
            Self::SoftStack => "wood, plastic or fabric in the stack",
            Self::UnknownStack => "material of the stack not known",
            Self::UnknownNut => "no table value for this nut",
            Self::Aluminium => "an aluminium bolt or nut; the table is for steel",
            Self::ClevisBolt => "a clevis bolt, made for shear alone",
            Self::Greased => "greased threads; the table is for dry ones",
        }
    }
}

/// What is clamped, as far as the table's values are concerned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Clamped {
    SolidMetal,
    UnbushedTube,
    Soft,
    Unknown,
}

/// The table's range where it holds: a solid stack of metal, steel on steel threads, a known nut, a joint that does not
/// turn.
///
/// # Errors
/// Why there is none.
pub fn table_torque(
    bolt: &Decoded,
    nut: Option<&Decoded>,
    clamped: Clamped,
    motion: Motion,
    state: ThreadState,
) -> Result<Cited<Torque>, NoTableTorque> {
    if motion == Motion::Turns {
        return Err(NoTableTorque::Pivot);
    }
    let aluminium = |item: &Decoded| item.material.is_some_and(|m| family(m.value) == Family::Aluminium);
    match clamped {
        Clamped::SolidMetal if bolt.form == ItemForm::ClevisBolt => Err(NoTableTorque::ClevisBolt),
        Clamped::SolidMetal if aluminium(bolt) || nut.is_some_and(aluminium) => Err(NoTableTorque::Aluminium),
        Clamped::SolidMetal if state == ThreadState::Greased => Err(NoTableTorque::Greased),
        Clamped::SolidMetal => nut.and_then(torque_for).ok_or(NoTableTorque::UnknownNut),
        Clamped::UnbushedTube => Err(NoTableTorque::UnbushedTube),
        Clamped::Soft => Err(NoTableTorque::SoftStack),
        Clamped::Unknown => Err(NoTableTorque::UnknownStack),
    }
}

/// How a designer's range lies to the table's. The designer's always wins; this is for the reader to see.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Against {
    Within,
    /// Some of it is below the table's least.
    Below,
    /// Some of it is above the table's recommended range, but not above its limit.
    Above,
    /// Some of it is above the table's limit.
    PastLimit,
}

/// Compares a designer's range, in-lb, with the table's.
pub fn compare_torque(least: Rational, most: Rational, table: Torque) -> Against {
    let whole = Rational::from_integer;
    if most > whole(table.limit) {
        Against::PastLimit
    } else if most > whole(table.most) {
        Against::Above
    } else if least < whole(table.least) {
        Against::Below
    } else {
        Against::Within
    }
}

/// Whether the drag of the nut as it runs down is to be added to the table's value (FAA AC 43.13-1B, 7-40).
pub fn adds_run_down_drag(form: NutForm) -> bool {
    form.self_locking()
}

impl Torque {
    /// The range as measures, in in-lb.
    pub fn inch_pounds(self) -> (Measure, Measure) {
        let measure = |value| Measure { value: Rational::from_integer(value), unit: MeasureUnit::InchPound };
        (measure(self.least), measure(self.most))
    }
}

/// A torque in inch-pounds, not rounded, or `None` for a measure that is no torque. One in-lb is 0.112 984 83 N m.
pub fn inch_pounds(torque: Measure) -> Option<Rational> {
    match torque.unit {
        MeasureUnit::InchPound => Some(torque.value),
        MeasureUnit::NewtonMetre => Some(torque.value * Rational::new(100_000, 11_298)),
        _ => None,
    }
}

/// A torque in newton metres to a tenth, from in-lb. One in-lb is 0.112 984 83 N m (0.0254 m by 4.448 221 615 N).
///
/// `None` for a measure that is no torque.
pub fn newton_metres(torque: Measure) -> Option<Measure> {
    match torque.unit {
        MeasureUnit::NewtonMetre => Some(torque),
        MeasureUnit::InchPound => {
            let (n, d) = (i128::from(*torque.value.numer()), i128::from(*torque.value.denom()));
            let tenths = (n * 112_984_829 * 2 / 100_000_000 + d).div_euclid(2 * d);
            let value = Rational::new(i64::try_from(tenths).ok()?, 10);
            Some(Measure { value, unit: MeasureUnit::NewtonMetre })
        }
        _ => None,
    }
}
