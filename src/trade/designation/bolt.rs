//! Bolts: AN3 to AN20, clevis bolts AN21 to AN36, eyebolts AN42 to AN49.

use super::{DesignationReading, around, digits, no_such, no_such_by, numbered};
use crate::trade::{Cited, Decoded, Drilled, ItemForm, Source, Thread};
use crate::units::Length;

const TABLE: Source = Source::Published("published AN bolt tables");
const RULE: Source = Source::Computed("rule that reproduces the published AN bolt tables");
const LETTERS: Source = Source::Published("published AN bolt code");

/// The last dash number of the published rows.
const LAST_ROW: u32 = 20;
/// The longest dash number that is read (8 in, from memory).
const LAST_DASH: u32 = 80;

/// Diameters of the series, in sixteenths of an inch.
const SIZES: [u32; 13] = [3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20];

/// Close-tolerance bolts AN173 to AN186: dash numbers, lengths and grips as those of AN3 to AN16 (from memory).
pub(super) fn close(number: u32, rest: &str) -> DesignationReading {
    let size = number - 170;
    let same = match straight(size, rest)? {
        Ok(bolt) => bolt,
        Err(none) => {
            let close = |text: String| text.replacen(&format!("AN{size}"), &format!("AN{number}"), 1);
            return no_such(close(none.reason), none.neighbours.into_iter().map(close));
        }
    };
    let memory = |value: Option<Cited<Length>>| value.map(|v| Cited::from_memory(v.value));
    Some(Ok(Decoded {
        designation: same.designation.replacen(&format!("AN{size}"), &format!("AN{number}"), 1),
        diameter: memory(same.diameter),
        length: memory(same.length),
        grip: memory(same.grip),
        thread: same.thread.map(|t| Cited::from_memory(t.value)),
        ..same
    }))
}

/// What fixes length and grip of a series. Of dash number tens and units, E = 8 tens + units in eighths of an
/// inch; length = E/8 + `over`; grip = length - `threaded`. All in sixty-fourths.
struct Series {
    size: u32,
    first: u32,
    over: i64,
    threaded: i64,
}

const SERIES: [Series; 4] = [
    Series { size: 3, first: 3, over: 2, threaded: 26 },
    Series { size: 4, first: 3, over: 2, threaded: 30 },
    Series { size: 5, first: 4, over: 6, threaded: 34 },
    Series { size: 6, first: 5, over: 5, threaded: 41 },
];

impl Series {
    /// Length and grip of a dash number that exists.
    fn length_and_grip(&self, dash: u32) -> (Length, Length) {
        // The shortest bolts of AN3 and AN4 have less thread than the others.
        if dash == 3 {
            return (Length::inches(15, 32), Length::inches(1, 16));
        }
        let eighths = i64::from(8 * (dash / 10) + dash % 10);
        let length = 8 * eighths + self.over;
        (Length::inches(length, 64), Length::inches(length - self.threaded, 64))
    }
}

/// The dash numbers that exist from `first` on: eighths of an inch as tens and units, so never 8 or 9 at the end.
fn dashes(first: u32) -> impl Iterator<Item = u32> {
    (first..=LAST_DASH).filter(|dash| dash % 10 < 8)
}

pub(super) fn read(text: &str) -> DesignationReading {
    let (number, rest) = numbered(text, "AN")?;
    match number {
        3..=20 => straight(number, rest),
        21..=36 => clevis(number, rest),
        42..=49 => eye(number, rest),
        _ => None,
    }
}

/// The letters between the size and the dash number, and the `A` at the end.
struct Code<'a> {
    material: &'a str,
    head: bool,
    dash: u32,
    plain_shank: bool,
}

/// Reads `-6A`, `C-6`, `CH6A`, `DD-6`. Where letters stand, the dash may be left out.
fn code<'a>(rest: &'a str, materials: &[&'a str]) -> Option<Code<'a>> {
    let material = materials.iter().copied().find(|m| rest.starts_with(m)).unwrap_or("");
    let after = &rest[material.len()..];
    let (head, after) = match after.strip_prefix('H') {
        Some(after) => (true, after),
        None => (false, after),
    };
    let after = match after.strip_prefix('-') {
        Some(after) => after,
        None if head || !material.is_empty() => after,
        None => return None,
    };
    let (dash, end) = digits(after)?;
    let plain_shank = match end {
        "" => false,
        "A" => true,
        _ => return None,
    };
    Some(Code { material, head, dash, plain_shank })
}

fn straight(number: u32, rest: &str) -> DesignationReading {
    let code = code(rest, &["DD", "C"])?;
    let write = |size: u32, dash: u32| {
        let lead = format!("AN{size}{}{}", code.material, if code.head { "H" } else { "" });
        format!("{lead}-{dash}{}", if code.plain_shank { "A" } else { "" })
    };
    if !SIZES.contains(&number) {
        let near = around(SIZES, number).into_iter().map(|size| write(size, code.dash));
        return no_such(format!("there are no AN{number} bolts"), near);
    }
    let series = SERIES.iter().find(|s| s.size == number);
    let first = series.map_or(3, |s| s.first);
    if !dashes(first).any(|dash| dash == code.dash) {
        let near = around(dashes(first), code.dash).into_iter().map(|dash| write(number, dash));
        let source = if series.is_some() && code.dash <= LAST_DASH { TABLE } else { Source::FromMemory };
        return no_such_by(source, format!("AN{number} bolts have no dash number {}", code.dash), near);
    }
    let mut bolt = Decoded::new(write(number, code.dash), ItemForm::Bolt);
    let thread = Thread::fine(number as u8)?;
    // Three sixteenths is the trade's name of the size; the bolt is No. 10.
    bolt.diameter = Some(Cited::new(thread.diameter(), LETTERS));
    bolt.thread = Some(Cited::new(thread, if number <= 6 { TABLE } else { Source::FromMemory }));
    if let Some(series) = series {
        let source = if code.dash <= LAST_ROW { TABLE } else { RULE };
        let (length, grip) = series.length_and_grip(code.dash);
        bolt.length = Some(Cited::new(length, source));
        bolt.grip = Some(Cited::new(grip, source));
    }
    bolt.material = Some(Cited::new(
        match code.material {
            "C" => "corrosion-resistant steel",
            "DD" => "2024 aluminium",
            _ => "cadmium-plated steel",
        },
        LETTERS,
    ));
    bolt.shank = Some(Cited::new(drilled(!code.plain_shank), LETTERS));
    bolt.head = Some(Cited::new(drilled(code.head), LETTERS));
    Some(Ok(bolt))
}

fn drilled(hole: bool) -> Drilled {
    if hole { Drilled::Drilled } else { Drilled::NotDrilled }
}

/// Threads of the clevis bolts, from memory.
fn clevis_thread(number: u32) -> Option<Thread> {
    match number {
        21 => Some(Thread::Number { number: 6, per_inch: 40 }),
        22 => Some(Thread::Number { number: 8, per_inch: 36 }),
        23..=30 => Thread::fine(number as u8 - 20),
        32 | 34 | 36 => Thread::fine(number as u8 - 20),
        _ => None,
    }
}

fn clevis(number: u32, rest: &str) -> DesignationReading {
    let code = code(rest, &["C"]).filter(|code| !code.head)?;
    let write =
        |number: u32| format!("AN{number}{}-{}{}", code.material, code.dash, if code.plain_shank { "A" } else { "" });
    let Some(thread) = clevis_thread(number) else {
        let sizes = (21..=36).filter(|&n| clevis_thread(n).is_some());
        return no_such(format!("there are no AN{number} clevis bolts"), around(sizes, number).into_iter().map(write));
    };
    if code.dash == 0 || code.dash > LAST_DASH {
        return no_such(format!("AN{number} clevis bolts have no dash number {}", code.dash), []);
    }
    let mut bolt = Decoded::new(write(number), ItemForm::ClevisBolt);
    bolt.diameter = Some(Cited::from_memory(thread.diameter()));
    bolt.thread = Some(Cited::from_memory(thread));
    bolt.material = Some(Cited::from_memory(steel(code.material)));
    bolt.shank = Some(Cited::from_memory(drilled(!code.plain_shank)));
    Some(Ok(bolt))
}

fn steel(material: &str) -> &'static str {
    if material == "C" { "corrosion-resistant steel" } else { "cadmium-plated steel" }
}

/// Threads of the eyebolts, from memory. AN44 and AN45 share a thread and differ in the eye.
fn eye(number: u32, rest: &str) -> DesignationReading {
    let (letter, after) = if rest.starts_with('B') { rest.split_at(1) } else { ("", rest) };
    // Behind a letter the dash may be left out.
    let dashed =
        if letter.is_empty() || after.starts_with(['-', 'C']) { after.to_owned() } else { format!("-{after}") };
    let code = code(&dashed, &["C"]).filter(|code| !code.head)?;
    let size = match number {
        42 => 3,
        43 => 4,
        44 | 45 => 5,
        46 => 6,
        47 => 7,
        48 => 8,
        _ => 9,
    };
    let write =
        |dash: u32| format!("AN{number}{letter}{}-{dash}{}", code.material, if code.plain_shank { "A" } else { "" });
    if !dashes(3).any(|dash| dash == code.dash) {
        let near = around(dashes(3), code.dash).into_iter().map(write);
        return no_such(format!("AN{number} eyebolts have no dash number {}", code.dash), near);
    }
    let thread = Thread::fine(size)?;
    let mut bolt = Decoded::new(write(code.dash), ItemForm::Eyebolt);
    bolt.diameter = Some(Cited::from_memory(thread.diameter()));
    bolt.thread = Some(Cited::from_memory(thread));
    bolt.material = Some(Cited::from_memory(steel(code.material)));
    bolt.shank = Some(Cited::from_memory(drilled(!code.plain_shank)));
    Some(Ok(bolt))
}
