//! Metric hardware: ISO designations such as `ISO 4014 M6x30`. Kind, thread and length stand in the designation;
//! what a number means and the sizes behind it are from memory, the sizes checked against a general-purpose library.

use super::{DesignationReading, no_such};
use crate::trade::{Cited, Class, Decoded, Drilled, ItemForm, NutForm, Source, Thread, WasherForm};
use crate::units::{Length, Rational};

/// What is marked on the item itself.
const MARKED: Source = Source::Published("the class that the designation gives");

/// Sizes by nominal diameter, hundredths of a millimetre: bore, rim and thickness of ISO 7089 washers.
const PLAIN: [(u16, i64, i64, i64); 9] = [
    (300, 320, 700, 50),
    (400, 430, 900, 80),
    (500, 530, 1000, 100),
    (600, 640, 1200, 160),
    (800, 840, 1600, 160),
    (1000, 1050, 2000, 200),
    (1200, 1300, 2400, 250),
    (1600, 1700, 3000, 300),
    (2000, 2100, 3700, 300),
];

/// Largest heights of nuts, hundredths of a millimetre: diameter, ISO 4032, ISO 7040.
const NUT_HEIGHT: [(u16, i64, i64); 9] = [
    (300, 240, 450),
    (400, 320, 600),
    (500, 470, 680),
    (600, 520, 800),
    (800, 680, 950),
    (1000, 840, 1190),
    (1200, 1080, 1490),
    (1600, 1480, 1910),
    (2000, 1800, 2280),
];

/// The same of thin nuts: diameter, ISO 4035, ISO 10511 and DIN 985.
const THIN_HEIGHT: [(u16, i64, i64); 9] = [
    (300, 180, 400),
    (400, 220, 500),
    (500, 270, 500),
    (600, 320, 600),
    (800, 400, 800),
    (1000, 500, 1000),
    (1200, 600, 1200),
    (1600, 800, 1600),
    (2000, 1000, 2000),
];

/// ISO 7093, wide rim: bore, rim and thickness.
const WIDE: [(u16, i64, i64, i64); 9] = [
    (300, 320, 900, 80),
    (400, 430, 1200, 100),
    (500, 530, 1500, 120),
    (600, 640, 1800, 160),
    (800, 840, 2400, 200),
    (1000, 1050, 3000, 250),
    (1200, 1300, 3700, 300),
    (1600, 1700, 5000, 300),
    (2000, 2200, 6000, 400),
];

pub(super) fn read(text: &str) -> DesignationReading {
    if let Some(rest) = text.strip_prefix("DIN ") {
        let (standard, rest) = rest.split_once(' ')?;
        return match standard {
            "571" => wood_screw(text, rest, ItemForm::CoachScrew),
            "603" => bolt(text, rest, ItemForm::CoachBolt),
            "985" => nut(text, rest, NutForm::ElasticShear),
            _ => None,
        };
    }
    if let Some(rest) = text.strip_prefix("EN 14592 ") {
        return wood_screw(text, rest, ItemForm::WoodScrew);
    }
    let rest = text.strip_prefix("ISO ")?;
    let (standard, rest) = rest.split_once(' ')?;
    match standard {
        "4014" => bolt(text, rest, ItemForm::Bolt),
        "4017" => bolt(text, rest, ItemForm::FullThreadBolt),
        "4762" => bolt(text, rest, ItemForm::SocketScrew),
        "10642" => bolt(text, rest, ItemForm::CountersunkScrew),
        "7380" | "7380-1" => bolt(text, rest, ItemForm::ButtonScrew),
        "8677" => bolt(text, rest, ItemForm::CoachBolt),
        "4032" => nut(text, rest, NutForm::Plain),
        "4035" => nut(text, rest, NutForm::Check),
        "7040" | "10511" => nut(text, rest, if standard == "7040" { NutForm::Elastic } else { NutForm::ElasticShear }),
        "7042" => nut(text, rest, NutForm::AllMetal),
        "7089" | "7090" => washer(text, rest, WasherForm::Plain),
        "7093" => washer(text, rest, WasherForm::LargeArea),
        "2341" => clevis_pin(text, rest),
        "1234" => split_pin(text, rest),
        _ => None,
    }
}

/// Reads `6`, `1.6` as millimetres; positive, at most four digits.
pub(super) fn millimetres(text: &str) -> Option<Length> {
    let good = (1..=5).contains(&text.len()) && text.starts_with(|c: char| c.is_ascii_digit());
    let length = good.then(|| Length::parse(&format!("{text} mm")).ok()).flatten()?;
    (text.bytes().all(|b| b.is_ascii_digit() || b == b'.') && length > Length::ZERO).then_some(length)
}

/// Steel grades and property classes as they stand behind the size: `A2`, `A4-70`, `8.8`.
fn material(rest: Option<&str>) -> Option<Option<&'static str>> {
    let Some(grade) = rest else { return Some(None) };
    match grade.trim_start_matches("- ").split('-').next()? {
        "A1" => Some(Some("stainless steel A1")),
        "A2" => Some(Some("stainless steel A2")),
        "A3" => Some(Some("stainless steel A3")),
        "A4" => Some(Some("stainless steel A4")),
        "A5" => Some(Some("stainless steel A5")),
        "4.6" => Some(Some("steel, class 4.6")),
        "4.8" => Some(Some("steel, class 4.8")),
        "5.6" => Some(Some("steel, class 5.6")),
        "5.8" => Some(Some("steel, class 5.8")),
        "6.8" => Some(Some("steel, class 6.8")),
        "04" | "05" | "5" | "6" | "8" | "10" | "12" => Some(Some("steel")),
        "8.8" | "08.8" => Some(Some("steel, class 8.8")),
        "9.8" => Some(Some("steel, class 9.8")),
        "10.9" | "010.9" => Some(Some("steel, class 10.9")),
        "12.9" => Some(Some("steel, class 12.9")),
        "100HV" | "140HV" | "200HV" | "300HV" | "140 HV" | "200 HV" | "St" => Some(Some("steel")),
        _ => None,
    }
}

/// The size and what stands behind it.
fn size_and_material(rest: &str) -> Option<(&str, Option<&'static str>)> {
    let (size, grade) = match rest.split_once(' ') {
        Some((size, grade)) => (size, Some(grade)),
        None => (rest, None),
    };
    Some((size, material(grade)?))
}

/// A thread, and the length behind it: `M6x30`, `M8x1x40`.
fn bolt(text: &str, rest: &str, form: ItemForm) -> DesignationReading {
    let (size, material) = size_and_material(rest)?;
    let (thread, length) = size.rsplit_once('x')?;
    let length = millimetres(length)?;
    let Some(thread @ Thread::Metric { .. }) = Thread::parse(thread) else {
        return no_such(format!("`{thread}` is no metric thread with a known pitch"), []);
    };
    let mut bolt = Decoded::new(text.to_owned(), form);
    bolt.diameter = Some(Cited::from_memory(thread.diameter()));
    bolt.thread = Some(Cited::from_memory(thread));
    bolt.length = Some(Cited::from_memory(length));
    bolt.grip = match form {
        ItemForm::Bolt | ItemForm::CoachBolt => shank(thread, length, 6),
        ItemForm::SocketScrew if length > full_thread(thread) => shank(thread, length, 12),
        _ => None,
    }
    .map(Cited::from_memory);
    bolt.material = material.map(Cited::from_memory);
    bolt.class = class(text, form);
    bolt.shank = Some(Cited::from_memory(Drilled::NotDrilled));
    Some(Ok(bolt))
}

/// The longest socket head screw of a diameter that is threaded up to its head, ISO 4762 (from memory).
fn full_thread(thread: Thread) -> Length {
    const FULL: [(i64, i64); 9] = [(3, 20), (4, 25), (5, 30), (6, 35), (8, 40), (10, 45), (12, 50), (16, 60), (20, 70)];
    let row = FULL.iter().find(|row| Length::millimetres(row.0, 1) >= thread.diameter());
    Length::millimetres(row.map_or(100, |row| row.1), 1)
}

/// Shortest shank that is surely without thread (from memory). ISO 4014: the thread is 2 d + 6 mm long, to 125 mm of
/// length, 2 d + 12 mm to 200 mm, 2 d + 25 mm beyond; its run-out takes another five pitches. ISO 4762: 2 d + 12 mm.
fn shank(thread: Thread, length: Length, short: i64) -> Option<Length> {
    let over = if short == 12 || length <= Length::millimetres(125, 1) {
        short
    } else if length <= Length::millimetres(200, 1) {
        12
    } else {
        25
    };
    let threaded = thread.diameter() * 2 + Length::millimetres(over, 1) + thread.pitch() * 5;
    let shank = length - threaded;
    (shank > Length::ZERO).then_some(shank)
}

fn nut(text: &str, rest: &str, form: NutForm) -> DesignationReading {
    let (size, material) = size_and_material(rest)?;
    let Some(thread @ Thread::Metric { diameter, .. }) = Thread::parse(size) else {
        return no_such(format!("`{size}` is no metric thread with a known pitch"), []);
    };
    let mut nut = Decoded::new(text.to_owned(), ItemForm::Nut(form));
    nut.thread = Some(Cited::from_memory(thread));
    nut.diameter = Some(Cited::from_memory(thread.diameter()));
    let table = if matches!(form, NutForm::Check | NutForm::ElasticShear) { &THIN_HEIGHT } else { &NUT_HEIGHT };
    nut.height = table.iter().find(|row| row.0 == diameter).and_then(|&(_, plain, elastic)| {
        let height = match form {
            NutForm::Plain | NutForm::Check => plain,
            NutForm::Elastic | NutForm::ElasticShear => elastic,
            _ => return None,
        };
        Some(Cited::from_memory(Length::millimetres(height, 100)))
    });
    nut.material = material.map(Cited::from_memory);
    nut.class = class(text, ItemForm::Nut(form));
    Some(Ok(nut))
}

/// `ISO 7089 6`, `ISO 7089 M6`, `ISO 7089 6 A4`.
fn washer(text: &str, rest: &str, form: WasherForm) -> DesignationReading {
    let (size, material) = size_and_material(rest)?;
    let diameter = millimetres(size.strip_prefix('M').unwrap_or(size))?;
    let mut washer = Decoded::new(text.to_owned(), ItemForm::Washer(form));
    washer.diameter = Some(Cited::from_memory(diameter));
    if form != WasherForm::Thin {
        let table = if form == WasherForm::LargeArea { &WIDE } else { &PLAIN };
        let row = table.iter().find(|row| Length::millimetres(i64::from(row.0), 100) == diameter);
        if let Some(&(_, bore, rim, thickness)) = row {
            washer.thickness = Some(Cited::from_memory(Length::millimetres(thickness, 100)));
            washer.bore_and_rim =
                Some(Cited::from_memory((Length::millimetres(bore, 100), Length::millimetres(rim, 100))));
        }
    }
    washer.material = material.map(Cited::from_memory);
    Some(Ok(washer))
}

/// The property class behind the size.
fn class(text: &str, form: ItemForm) -> Option<Cited<Class>> {
    let (_, grade) = text.split_once(' ')?.1.split_once(' ')?.1.split_once(' ')?;
    // A class stands for itself: what it bears is cited where it is told.
    Class::read(grade.trim_start_matches("- "), form).map(|class| Cited::new(class, MARKED))
}

/// `DIN 571 8x60`, `EN 14592 4x40`: diameter and length.
fn wood_screw(text: &str, rest: &str, form: ItemForm) -> DesignationReading {
    let (size, material) = size_and_material(rest)?;
    let (diameter, length) = size.split_once('x')?;
    let mut screw = Decoded::new(text.to_owned(), form);
    screw.diameter = Some(Cited::from_memory(millimetres(diameter)?));
    screw.length = Some(Cited::from_memory(millimetres(length)?));
    screw.material = material.map(Cited::from_memory);
    Some(Ok(screw))
}

/// `ISO 2341 B 6x20 A4`: form B has a hole for a split pin; diameter and length.
fn clevis_pin(text: &str, rest: &str) -> DesignationReading {
    let (letter, rest) = rest.split_once(' ')?;
    let shank = match letter {
        "A" => Drilled::NotDrilled,
        "B" => Drilled::Drilled,
        _ => return None,
    };
    let mut pin = pin(text, rest, ItemForm::ClevisPin)?;
    pin.shank = Some(Cited::from_memory(shank));
    pin.grip = to_hole(&pin).filter(|_| shank == Drilled::Drilled);
    Some(Ok(pin))
}

/// From the head of a clevis pin to its hole: its length less the end behind the hole's middle and half the hole (ISO
/// 2341, from memory). Diameter, end and hole in hundredths of a millimetre.
fn to_hole(pin: &Decoded) -> Option<Cited<Length>> {
    const ENDS: [(i64, i64, i64); 9] = [
        (300, 160, 80),
        (400, 220, 100),
        (500, 290, 120),
        (600, 320, 160),
        (800, 350, 200),
        (1000, 450, 320),
        (1200, 550, 320),
        (1600, 600, 400),
        (2000, 800, 500),
    ];
    let (diameter, length) = (pin.diameter?.value, pin.length?.value);
    let &(_, end, hole) = ENDS.iter().find(|row| Length::millimetres(row.0, 100) == diameter)?;
    let grip = length - Length::millimetres(2 * end + hole, 200);
    (grip > Length::ZERO).then_some(Cited::from_memory(grip))
}

fn split_pin(text: &str, rest: &str) -> DesignationReading {
    pin(text, rest, ItemForm::CotterPin).map(Ok)
}

fn pin(text: &str, rest: &str, form: ItemForm) -> Option<Decoded> {
    let (size, material) = size_and_material(rest)?;
    let (diameter, length) = size.split_once('x')?;
    let mut pin = Decoded::new(text.to_owned(), form);
    pin.diameter = Some(Cited::from_memory(millimetres(diameter)?));
    pin.length = Some(Cited::from_memory(millimetres(length)?));
    pin.material = material.map(Cited::from_memory);
    Some(pin)
}

/// A clearance hole of ISO 273, from memory, millimetres: fine and medium fit for a nominal diameter.
pub(in crate::trade) fn clearance(diameter: Length) -> Option<(Length, Length)> {
    const HOLES: [(i64, i64, i64); 10] = [
        (3, 320, 340),
        (4, 430, 450),
        (5, 530, 550),
        (6, 640, 660),
        (8, 840, 900),
        (10, 1050, 1100),
        (12, 1300, 1350),
        (16, 1700, 1750),
        (20, 2100, 2200),
        (24, 2500, 2600),
    ];
    let millimetres = diameter.as_inches() * Rational::new(127, 5);
    HOLES
        .iter()
        .find(|row| Rational::from_integer(row.0) == millimetres)
        .map(|&(_, fine, medium)| (Length::millimetres(fine, 100), Length::millimetres(medium, 100)))
}
