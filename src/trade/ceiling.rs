//! How far a screw may be drawn before something gives: the ceiling over every torque, the designer's included.
//!
//! Metric: the weaker of screw and nut by their classes, over a stated range of friction. Inch: the largest torques of the
//! table. Whether the parts between them bear it is for the designer to know.

use super::strength::{Class, proof_load_of};
use super::{
    Cited, Decoded, Family, ItemForm, NutLoad, Source, Thread, ThreadState, family, inch_pounds, nut_load, torque,
};
use crate::units::{Measure, MeasureUnit, Rational, decimal_text};

/// The usual preload, as a share of the proof load (common practice).
const USUAL: f64 = 0.7;
/// The mean diameter under head or nut, in thread diameters: 1.24 to 1.33 for hexagon heads of M3 to M20 (common
/// practice). The smaller gives the lower ceiling.
const BEARING: f64 = 1.25;
/// Aluminium bolts bear 62,000 psi where the table's steel bears 125,000 (from memory).
const ALUMINIUM: (i64, i64) = (62, 125);

/// Lowest and highest friction, in thread and under head or nut. Settable.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Friction {
    /// Plated threads and faces as supplied.
    pub dry: Cited<(Rational, Rational)>,
    pub greased: Cited<(Rational, Rational)>,
    /// Stainless steel on stainless steel, dry: it binds.
    pub stainless: Cited<(Rational, Rational)>,
}

impl Default for Friction {
    /// Dry 0.14 to 0.24 in published VDI 2230 tables; greased 0.08 to 0.16 from memory; stainless to 0.35 by common practice.
    fn default() -> Self {
        let range = |least, most| (Rational::new(least, 100), Rational::new(most, 100));
        Self {
            dry: Cited::new(range(14, 24), Source::CommonPractice),
            greased: Cited::from_memory(range(8, 16)),
            stainless: Cited::new(range(14, 35), Source::CommonPractice),
        }
    }
}

impl Friction {
    /// The range for a class in this state of its threads.
    pub fn range(&self, class: Class, state: ThreadState) -> Cited<(Rational, Rational)> {
        match (state, class) {
            (ThreadState::Greased, _) => self.greased,
            (ThreadState::Dry, Class::Stainless { .. }) => self.stainless,
            (ThreadState::Dry, _) => self.dry,
        }
    }

    /// The range as a message says it: `friction 0.14 to 0.24`.
    pub fn words(&self, class: Class, state: ThreadState) -> String {
        let (least, most) = self.range(class, state).value;
        format!("friction {} to {}", decimal_text(least, 2), decimal_text(most, 2))
    }
}

/// How a torque lies to the ceiling.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum UnderCeiling {
    Under,
    /// Where friction is lowest it gives more than the usual preload.
    AboveUsual,
    /// Something gives way.
    Past,
}

/// What gives first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Weakest {
    Screw,
    Nut,
}

/// The ceiling of one joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ceiling {
    /// Where friction is lowest, this gives the usual preload. `None` in inch sizes, whose table has one limit.
    pub usual: Option<Measure>,
    /// Past this the weakest gives way even where friction is highest.
    pub most: Measure,
    pub weakest: Weakest,
    /// The property class that decided; `None` in inch sizes.
    pub class: Option<Class>,
    /// The class is not written, and the lowest there is was taken.
    pub assumed: bool,
}

impl Ceiling {
    /// How the most of a torque range lies to it. `None` for a measure that is no torque.
    pub fn judge(&self, most: Measure) -> Option<UnderCeiling> {
        let most = inch_pounds(most)?;
        let above = |limit: Measure| inch_pounds(limit).is_some_and(|limit| most > limit);
        Some(if above(self.most) {
            UnderCeiling::Past
        } else if self.usual.is_some_and(above) {
            UnderCeiling::AboveUsual
        } else {
            UnderCeiling::Under
        })
    }
}

/// The ceiling for a screw and its nut. `None` where neither tables nor standards have its thread.
pub fn ceiling(
    screw: &Decoded,
    nut: Option<&Decoded>,
    friction: &Friction,
    state: ThreadState,
) -> Option<Cited<Ceiling>> {
    match screw.thread?.value {
        Thread::Metric { diameter, pitch } => {
            metric(screw, nut, (f64::from(diameter) / 100.0, f64::from(pitch) / 100.0), friction, state)
        }
        _ => inch(screw, nut),
    }
}

fn metric(
    screw: &Decoded,
    nut: Option<&Decoded>,
    (diameter, pitch): (f64, f64),
    friction: &Friction,
    state: ThreadState,
) -> Option<Cited<Ceiling>> {
    let of = |item: &Decoded| {
        let written = item.class.map(|c| c.value);
        let class = Class::lowest(item.form, written);
        // What its maker says that it bears wins over its class.
        if let Some((load, source)) = item.strength.and_then(|s| Some((newtons(s.value)?, s.source))) {
            return Some((load, class, false, source));
        }
        let assumed = written != Some(class);
        let load = proof_load_of(item, class)?;
        let source = load.source.min(item.class.map_or(Source::CommonPractice, |c| c.source));
        Some((load.value, class, assumed, source))
    };
    let screw = of(screw)?;
    // A nut of an unknown class does not raise the ceiling, and lowers it to that of the lowest class.
    let nut = nut.filter(|n| matches!(n.form, ItemForm::Nut(_))).and_then(of);
    let (weakest, (load, class, assumed, source)) = match nut {
        Some(nut) if nut.0 < screw.0 => (Weakest::Nut, nut),
        _ => (Weakest::Screw, screw),
    };
    let range = friction.range(screw.1, state);
    let plain = |n: Rational| *n.numer() as f64 / *n.denom() as f64;
    let (lowest, highest) = (plain(range.value.0), plain(range.value.1));
    let at = |load: f64, friction: f64| newton_metres(load * lever(diameter, pitch, friction) / 1000.0);
    let ceiling = Ceiling {
        usual: Some(at(load * USUAL, lowest)?),
        most: at(load, highest)?,
        weakest,
        class: Some(class),
        assumed,
    };
    Some(Cited::new(ceiling, source.min(range.source).min(Source::CommonPractice)))
}

/// Torque per force, mm: of the thread's slope, of friction in the thread and under the head (VDI 2230).
fn lever(diameter: f64, pitch: f64, friction: f64) -> f64 {
    let flank = diameter - 0.649_52 * pitch;
    0.159 * pitch + 0.577 * friction * flank + friction * BEARING * diameter / 2.0
}

/// A force in newtons; `None` for a measure that is none.
fn newtons(force: Measure) -> Option<f64> {
    let value = *force.value.numer() as f64 / *force.value.denom() as f64;
    match force.unit {
        MeasureUnit::Newton => Some(value),
        MeasureUnit::PoundForce => Some(value * 4.448_221_615),
        _ => None,
    }
}

/// To a tenth of a newton metre, downward.
fn newton_metres(value: f64) -> Option<Measure> {
    let tenths = (value * 10.0).floor();
    (0.0..1e12)
        .contains(&tenths)
        .then(|| Measure { value: Rational::new(tenths as i64, 10), unit: MeasureUnit::NewtonMetre })
}

fn inch(screw: &Decoded, nut: Option<&Decoded>) -> Option<Cited<Ceiling>> {
    let thread = screw.thread?;
    let nut = nut.filter(|n| matches!(n.form, ItemForm::Nut(_)));
    // A nut that the table does not name bears no more than those it names.
    let load = nut.and_then(nut_load).unwrap_or(Cited::new(NutLoad::Tension, Source::CommonPractice));
    let shear = screw.form == ItemForm::ClevisBolt || load.value == NutLoad::Shear;
    let row = torque(thread.value, if shear { NutLoad::Shear } else { NutLoad::Tension })?;
    let limit = Rational::from_integer(row.value.limit);
    let aluminium = |item: &Decoded| item.material.is_some_and(|m| family(m.value) == Family::Aluminium);
    let soft = aluminium(screw) || nut.is_some_and(aluminium);
    let weakest = if load.value == NutLoad::Shear || !aluminium(screw) && soft { Weakest::Nut } else { Weakest::Screw };
    // No nut bears more than the column for tension; that one bears less has to be known.
    let mut source = row.source.min(thread.source);
    if shear {
        source = source.min(load.source);
    }
    let mut most = limit;
    if soft {
        most = (limit * Rational::new(ALUMINIUM.0, ALUMINIUM.1)).floor();
        source = Source::FromMemory;
    }
    let most = Measure { value: most, unit: MeasureUnit::InchPound };
    Some(Cited::new(Ceiling { usual: None, most, weakest, class: None, assumed: false }, source))
}
