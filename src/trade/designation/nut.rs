//! Nuts: AN310, AN315, AN316, AN320, AN364, AN365, MS17825, MS20364, MS20365, MS21042, MS21044, MS21045, MS21083.

use super::{DesignationReading, around, digits, no_such, numbered};
use crate::trade::{Cited, Decoded, ItemForm, NutForm, Source, Thread};
use crate::units::Length;

const CODE: Source = Source::Published("published code of AN nuts: bolt diameter in sixteenths, fine thread");

/// Sizes of the nuts that are numbered by the diameter of their bolt in sixteenths of an inch.
const SIXTEENTHS: [u32; 11] = [3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16];

/// Sizes of the nuts that are numbered by diameter and threads per inch run together: 428 is 4/16 and 28.
const RUN_TOGETHER: [(u32, Thread); 14] = {
    const fn no(number: u8, per_inch: u8) -> Thread {
        Thread::Number { number, per_inch }
    }
    const fn sixteenths(sixteenths: u8, per_inch: u8) -> Thread {
        Thread::Sixteenths { sixteenths, per_inch }
    }
    [
        (428, sixteenths(4, 28)),
        (440, no(4, 40)),
        (524, sixteenths(5, 24)),
        (624, sixteenths(6, 24)),
        (632, no(6, 32)),
        (720, sixteenths(7, 20)),
        (820, sixteenths(8, 20)),
        (832, no(8, 32)),
        (918, sixteenths(9, 18)),
        (1018, sixteenths(10, 18)),
        (1032, no(10, 32)),
        (1216, sixteenths(12, 16)),
        (1414, sixteenths(14, 14)),
        (1614, sixteenths(16, 14)),
    ]
};

/// Heights of full-height nuts with an elastic insert by size in sixteenths, thousandths of an inch; from memory.
/// The nearest published ones are the largest heights of IFI regular top-insert locknuts: .249 .328 .359 .469.
const ELASTIC_HEIGHT: [(u32, i64); 4] = [(3, 250), (4, 328), (5, 359), (6, 468)];

pub(super) fn read(text: &str) -> DesignationReading {
    if let Some((number, rest)) = numbered(text, "AN") {
        return match number {
            310 => by_size(text, rest, NutForm::Castle),
            320 => by_size(text, rest, NutForm::CastleShear),
            315 => by_size(text, rest, NutForm::Plain),
            316 => by_size(text, rest, NutForm::Check),
            364 => run_together(text, rest, NutForm::ElasticShear),
            365 => run_together(text, rest, NutForm::Elastic),
            _ => None,
        };
    }
    let (number, rest) = numbered(text, "MS")?;
    match number {
        20364 => run_together(text, rest, NutForm::ElasticShear),
        20365 => run_together(text, rest, NutForm::Elastic),
        21042 => reduced(text, rest),
        21045 => reduced(text, rest),
        21044 => insert(text, rest, NutForm::Elastic),
        21083 => insert(text, rest, NutForm::ElasticShear),
        // A castle nut that has an elastic insert too: it needs its cotter pin all the same.
        17825 => sized(text, rest.strip_prefix('-')?, NutForm::Castle, "cadmium-plated steel"),
        _ => None,
    }
}

/// `AN310-4`, `AN310C4`, `AN310D5R`: the material, the size in sixteenths, `R` for a right-hand thread.
fn by_size(text: &str, rest: &str, form: NutForm) -> DesignationReading {
    let (material, after) = letter(rest, &[("C", "corrosion-resistant steel"), ("D", "aluminium"), ("B", "brass")])
        .unwrap_or(("cadmium-plated steel", rest));
    let after = match after.strip_prefix('-') {
        Some(after) => after,
        None if after.len() < rest.len() => after,
        None => return None,
    };
    let (size, end) = digits(after)?;
    // A left-hand thread would be a different nut in every rule; it is left to the hardware list.
    if !matches!(end, "" | "R") {
        return None;
    }
    let Some(thread) = SIXTEENTHS.contains(&size).then(|| Thread::fine(size as u8)).flatten() else {
        return unknown_size(text, after, size, SIXTEENTHS);
    };
    let mut nut = nut(text, form, thread, material);
    nut.thread = Some(Cited::new(thread, CODE));
    nut.diameter = Some(Cited::new(thread.diameter(), CODE));
    nut.material = Some(Cited::new(material, CODE));
    Some(Ok(nut))
}

/// `AN365-428A`, `MS20365-1032`, `AN364D632`.
fn run_together(text: &str, rest: &str, form: NutForm) -> DesignationReading {
    let (material, after) =
        letter(rest, &[("D", "aluminium"), ("B", "brass"), ("C", "corrosion-resistant steel")]).unwrap_or(("", rest));
    let after = match after.strip_prefix('-') {
        Some(after) => after,
        None if !material.is_empty() => after,
        None => return None,
    };
    let (size, end) = digits(after)?;
    if !matches!(end, "" | "A" | "C") {
        return None;
    }
    let sizes = RUN_TOGETHER.map(|(size, _)| size);
    let Some(&(_, thread)) = RUN_TOGETHER.iter().find(|&&(code, _)| code == size) else {
        return unknown_size(text, after, size, sizes);
    };
    let material = if material.is_empty() { "cadmium-plated steel" } else { material };
    let mut nut = nut(text, form, thread, material);
    // What the letter behind the size means differs between printings, so nothing is said about it.
    if end == "C" {
        nut.material = None;
    }
    Some(Ok(nut))
}

/// `MS21042-4`, `MS21042L4`, `MS21042-06`, `MS21045-4`.
fn reduced(text: &str, rest: &str) -> DesignationReading {
    let after = rest.strip_prefix('-').or_else(|| rest.strip_prefix("L-")).or_else(|| rest.strip_prefix('L'))?;
    sized(text, after, NutForm::AllMetal, "cadmium-plated steel")
}

/// `MS21044N4`, `MS21044C4`, `MS21044N08`, `MS21083N4`.
fn insert(text: &str, rest: &str, form: NutForm) -> DesignationReading {
    let (material, after) = letter(
        rest,
        &[("N", "cadmium-plated steel"), ("C", "corrosion-resistant steel"), ("B", "brass"), ("D", "aluminium")],
    )?;
    let after = after.strip_prefix('-').unwrap_or(after);
    sized(text, after, form, material)
}

/// The size of an MS nut: numbered sizes with a leading zero, else sixteenths.
fn sized(text: &str, after: &str, form: NutForm, material: &'static str) -> DesignationReading {
    let thread = match after {
        "04" => Some(Thread::Number { number: 4, per_inch: 40 }),
        "06" => Some(Thread::Number { number: 6, per_inch: 32 }),
        "08" => Some(Thread::Number { number: 8, per_inch: 32 }),
        _ => None,
    };
    if let Some(thread) = thread {
        return Some(Ok(nut(text, form, thread, material)));
    }
    let (size, end) = digits(after)?;
    if !end.is_empty() {
        return None;
    }
    match SIXTEENTHS.contains(&size).then(|| Thread::fine(size as u8)).flatten() {
        Some(thread) => Some(Ok(nut(text, form, thread, material))),
        None => unknown_size(text, after, size, SIXTEENTHS),
    }
}

fn letter<'a>(rest: &'a str, letters: &[(&str, &'static str)]) -> Option<(&'static str, &'a str)> {
    letters.iter().find_map(|&(letter, material)| Some((material, rest.strip_prefix(letter)?)))
}

/// The error for a size that is not made, with `text` rewritten to its neighbours. `size_at` is its end part.
fn unknown_size<const N: usize>(text: &str, size_at: &str, size: u32, sizes: [u32; N]) -> DesignationReading {
    let lead = &text[..text.len() - size_at.len()];
    let end = size_at.trim_start_matches(|c: char| c.is_ascii_digit());
    let near = around(sizes, size).into_iter().map(|size| format!("{lead}{size}{end}"));
    no_such(format!("{} nuts have no size {size}", lead.trim_end_matches('-')), near)
}

fn nut(text: &str, form: NutForm, thread: Thread, material: &'static str) -> Decoded {
    let mut nut = Decoded::new(text.to_owned(), ItemForm::Nut(form));
    nut.thread = Some(Cited::from_memory(thread));
    nut.diameter = Some(Cited::from_memory(thread.diameter()));
    nut.material = Some(Cited::from_memory(material));
    if form == NutForm::Elastic {
        let size = match thread {
            Thread::Number { number: 10, .. } => 3,
            Thread::Sixteenths { sixteenths, .. } => u32::from(sixteenths),
            _ => 0,
        };
        nut.height = ELASTIC_HEIGHT
            .iter()
            .find(|&&(s, _)| s == size)
            .map(|&(_, height)| Cited::new(Length::inches(height, 1000), Source::FromMemory));
    }
    nut
}
