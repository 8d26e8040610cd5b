//! The hole a fastener goes through: drill, reamer, limits.

use super::cited::mils;
use super::designation::clearance;
use super::{BlindRivet, Cited, Decoded, Drill, ItemForm, Source, Thread};
use crate::units::{Length, Rational};

/// The hole for a fastener.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FastenerHole {
    pub drill: Drill,
    /// Smallest and largest hole, where a table gives them.
    pub limits: Option<(Length, Length)>,
}

const RIVET_CHART: Source = Source::Published("published rivet hole drills: 1/8 in rivet, No. 30");
const BLIND_TABLE: Source = Source::Published("US Army TM 10-5410-221-14/1, Table 4-3");

/// A hole that is brought to its size with a reamer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ReamedHole {
    /// The drill before it.
    pub drill: Drill,
    pub reamer: Drill,
}

/// The reamed hole for a bolt or pin: its nominal size, after a drill that leaves 1/64 in or 0.2 mm (common practice;
/// metric from memory), or what the hardware list says. `None` for fasteners whose holes are not reamed.
pub fn reamed_hole(fastener: &Decoded) -> Option<Cited<ReamedHole>> {
    let reamer = match (fastener.reamer, fastener.form) {
        (Some(listed), _) => listed,
        (None, ItemForm::Bolt | ItemForm::ClevisBolt | ItemForm::Eyebolt | ItemForm::ClevisPin) => {
            let diameter = fastener.diameter?;
            nominal(diameter)?.map(|hole| hole.drill)
        }
        _ => return None,
    };
    let drill = match reamer.value {
        Drill::SixtyFourths(n) if n > 1 => Cited::new(Drill::SixtyFourths(n - 1), Source::CommonPractice),
        Drill::Millimetre(size) => Cited::from_memory(Drill::Millimetre(size - Length::millimetres(1, 5))),
        other => {
            // The gauge or fraction next below, .005 in or more.
            let below = other.size().value - mils(5);
            let gauges = Drill::gauges().chain((1..=64).map(Drill::SixtyFourths));
            let next = gauges.filter(|d| d.size().value <= below).max_by_key(|d| d.size().value)?;
            Cited::new(next, Source::CommonPractice)
        }
    };
    let before = fastener.hole.filter(|_| fastener.reamer.is_some()).unwrap_or(drill);
    Some(reamer.join(before, |reamer, drill| ReamedHole { drill, reamer }))
}

/// The full-size hole for a fastener, with the source of the advice: the hardware list's own drill, else the tables'.
/// `None` where there is no advice: the manual's own hole is then taken as it stands.
pub fn hole_for(fastener: &Decoded) -> Option<Cited<FastenerHole>> {
    if let Some(drill) = fastener.hole.filter(|_| fastener.reamer.is_none()) {
        return Some(drill.map(|drill| FastenerHole { drill, limits: None }));
    }
    let diameter = fastener.diameter?;
    let advice = match fastener.form {
        ItemForm::SolidRivet(_) => solid_rivet(diameter.value),
        ItemForm::BlindRivet(_) => blind_rivet(diameter.value),
        ItemForm::Nut(_) | ItemForm::Washer(_) | ItemForm::CotterPin | ItemForm::CoachScrew | ItemForm::WoodScrew => {
            None
        }
        _ => match fastener.thread.map(|t| t.value) {
            Some(Thread::Metric { .. }) => metric(diameter.value),
            Some(Thread::Number { number, .. }) => numbered(number),
            _ => nominal(diameter),
        },
    };
    advice.map(|hole| Cited::new(hole.value, hole.source.min(diameter.source)))
}

fn hole(drill: Drill, source: Source) -> Option<Cited<FastenerHole>> {
    Some(Cited::new(FastenerHole { drill, limits: None }, source))
}

/// A hole of the nominal size.
fn nominal(diameter: Cited<Length>) -> Option<Cited<FastenerHole>> {
    let parts = diameter.value.as_inches() * Rational::from_integer(64);
    let tenths = diameter.value.as_inches() * Rational::from_integer(254);
    let drill = if parts.is_integer() {
        Drill::SixtyFourths(u16::try_from(parts.to_integer()).ok()?)
    } else if tenths.is_integer() {
        Drill::Millimetre(diameter.value)
    } else {
        // No. 10 has .190 in, and its reamer is called so.
        Drill::Decimal(diameter.value)
    };
    hole(drill, Source::CommonPractice)
}

/// Close holes for numbered sizes, from memory.
fn numbered(number: u8) -> Option<Cited<FastenerHole>> {
    let drill = match number {
        6 => 27,
        8 => 18,
        10 => 11,
        _ => return None,
    };
    hole(Drill::Number(drill), Source::FromMemory)
}

fn metric(diameter: Length) -> Option<Cited<FastenerHole>> {
    let (fine, medium) = clearance(diameter)?;
    Some(Cited::from_memory(FastenerHole { drill: Drill::Millimetre(medium), limits: Some((fine, medium)) }))
}

fn solid_rivet(diameter: Length) -> Option<Cited<FastenerHole>> {
    let thirty_seconds = (diameter.as_inches() * Rational::from_integer(32)).to_integer();
    let (drill, source) = match thirty_seconds {
        3 => (Drill::Number(40), RIVET_CHART),
        4 => (Drill::Number(30), RIVET_CHART),
        5 => (Drill::Number(21), Source::FromMemory),
        6 => (Drill::Number(11), Source::FromMemory),
        8 => (Drill::Letter('F'), Source::FromMemory),
        _ => return None,
    };
    hole(drill, source)
}

fn blind_rivet(diameter: Length) -> Option<Cited<FastenerHole>> {
    match BlindRivet::of_diameter(diameter).next() {
        Some(row) => {
            let limits = row.hole.map(|(least, most)| (mils(least), mils(most)));
            Some(Cited::new(FastenerHole { drill: row.drill, limits }, row.source.min(BLIND_TABLE)))
        }
        // Metric blind rivets: a tenth of a millimetre over the body, from memory.
        None => {
            let drill = Drill::Millimetre(diameter + Length::millimetres(1, 10));
            hole(drill, Source::FromMemory)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::decode;

    fn drill(designation: &str) -> Option<String> {
        hole_for(&decode(designation)?).map(|hole| hole.value.drill.to_string())
    }

    /// Rivets: published hole drills. The others: common practice or from memory.
    #[test]
    fn fasteners_have_their_drill() {
        for (designation, expected) in [
            ("MS20470AD3-4", "No. 40"),
            ("MS20470AD4-5", "No. 30"),
            ("AN4-10A", "1/4 in"),
            ("AN5-10A", "5/16 in"),
            ("ISO 4014 M6x30", "6.6 mm"),
            ("MS20600AD4-3", "No. 30"),
            ("AN393-11", "3/16 in"),
        ] {
            assert_eq!(drill(designation).as_deref(), Some(expected), "{designation}");
        }
        assert_eq!(drill("AN960-416"), None);
    }

    /// A reamed hole is the fastener's nominal size, after a drill that is a little smaller.
    #[test]
    fn a_reamer_follows_its_drill() {
        let reamed = |d: &str| {
            reamed_hole(&decode(d).expect(d)).map(|h| (h.value.drill.to_string(), h.value.reamer.to_string()))
        };
        assert_eq!(reamed("AN4-10A"), Some(("15/64 in".to_owned(), "1/4 in".to_owned())));
        assert_eq!(reamed("AN3-10A"), Some(("No. 13".to_owned(), ".190 in".to_owned())));
        assert_eq!(reamed("AN6-21"), Some(("23/64 in".to_owned(), "3/8 in".to_owned())));
        assert_eq!(reamed("ISO 4014 M6x30"), Some(("5.8 mm".to_owned(), "6 mm".to_owned())));
        assert_eq!(reamed("MS20470AD4-5"), None);
        let ours = Decoded {
            reamer: Some(Cited::from_memory(Drill::parse(".2495").expect("a size"))),
            ..decode("AN4-10A").expect("a bolt")
        };
        let hole = reamed_hole(&ours).expect("a hole");
        let off = hole.value.reamer.size().value - hole.value.drill.size().value;
        assert!(off >= mils(5) && off <= mils(32) && hole.source == Source::FromMemory, "{hole:?}");
    }

    /// No hole is smaller than its fastener.
    #[test]
    fn the_hole_lets_the_fastener_through() {
        for designation in ["AN3-5A", "AN4-10A", "MS20470AD5-5", "MS20470AD6-6", "ISO 4017 M8x20", "MS20470AD8-8"] {
            let item = decode(designation).expect(designation);
            let size = hole_for(&item).expect(designation).value.drill.size().value;
            assert!(size >= item.diameter.expect(designation).value, "{designation}");
        }
    }
}
