//! Clevis pins AN392 to AN395 and MS20392, cotter pins AN380, AN381 and MS24665. All from memory.

use super::{DesignationReading, digits, no_such, numbered};
use crate::trade::{Cited, Decoded, Drilled, ItemForm};
use crate::units::Length;

/// Cotter pins by the MS24665 dash number: diameter in 1/64 in, length in 1/4 in, corrosion-resistant steel.
/// The number codes nothing, so only those that are known are listed.
const MS24665: [(u32, i64, i64, bool); 7] = [
    (132, 4, 2, false),
    (134, 4, 3, false),
    (151, 4, 2, true),
    (153, 4, 3, true),
    (283, 6, 3, false),
    (285, 6, 4, false),
    (300, 6, 3, true),
];

pub(super) fn read(text: &str) -> DesignationReading {
    if let Some((number, rest)) = numbered(text, "AN") {
        return match number {
            380 => cotter(text, rest, 4),
            381 => cotter(text, rest, 16).map(without_length),
            392..=395 => clevis(text, i64::from(number) - 390, rest),
            _ => None,
        };
    }
    let (number, rest) = numbered(text, "MS")?;
    match number {
        20392 => ms20392(text, rest),
        24665 => ms24665(text, rest),
        _ => None,
    }
}

/// The length of AN381 pins is given in quarters by some printings and in sixteenths by others.
fn without_length(pin: Result<Decoded, super::NoSuch>) -> Result<Decoded, super::NoSuch> {
    pin.map(|pin| Decoded { length: None, ..pin })
}

/// `AN380-2-3`, `AN380-C2-3`: diameter in 1/32 in, length in `1/per_inch` in.
fn cotter(text: &str, rest: &str, per_inch: i64) -> DesignationReading {
    let rest = rest.strip_prefix('-').unwrap_or(rest);
    let (stainless, rest) = match rest.strip_prefix('C') {
        Some(rest) => (true, rest),
        None => (false, rest),
    };
    let (diameter, rest) = digits(rest)?;
    let (length, end) = digits(rest.strip_prefix('-')?)?;
    if !end.is_empty() {
        return None;
    }
    if !(1..=16).contains(&diameter) || !(1..=64).contains(&length) {
        return no_such(format!("no cotter pin has diameter {diameter}/32 in and length {length}/{per_inch} in"), []);
    }
    let length = Length::inches(i64::from(length), per_inch);
    Some(Ok(cotter_pin(text, Length::inches(i64::from(diameter), 32), length, stainless || per_inch == 16)))
}

fn cotter_pin(text: &str, diameter: Length, length: Length, stainless: bool) -> Decoded {
    let mut pin = Decoded::new(text.to_owned(), ItemForm::CotterPin);
    pin.diameter = Some(Cited::from_memory(diameter));
    pin.length = Some(Cited::from_memory(length));
    pin.material =
        Some(Cited::from_memory(if stainless { "corrosion-resistant steel" } else { "cadmium-plated steel" }));
    pin
}

fn ms24665(text: &str, rest: &str) -> DesignationReading {
    let (number, end) = digits(rest.strip_prefix('-')?)?;
    if !end.is_empty() {
        return None;
    }
    Some(Ok(match MS24665.iter().find(|row| row.0 == number) {
        Some(&(_, diameter, length, stainless)) => {
            cotter_pin(text, Length::inches(diameter, 64), Length::inches(length, 4), stainless)
        }
        None => Decoded::new(text.to_owned(), ItemForm::CotterPin),
    }))
}

/// `AN393-11`: diameter by the standard's number, 1/8 in and up by sixteenths; grip to the pin's hole in 1/32 in.
fn clevis(text: &str, sixteenths: i64, rest: &str) -> DesignationReading {
    let (grip, end) = digits(rest.strip_prefix('-')?)?;
    if !end.is_empty() {
        return None;
    }
    clevis_pin(text, sixteenths, grip)
}

/// `MS20392-2C11`: diameter code (1 is 1/8 in, then by sixteenths), material, grip in 1/32 in.
fn ms20392(text: &str, rest: &str) -> DesignationReading {
    let (code, rest) = digits(rest.strip_prefix('-')?)?;
    let (grip, end) = digits(rest.strip_prefix('C')?)?;
    if !end.is_empty() || !(1..=5).contains(&code) {
        return None;
    }
    clevis_pin(text, i64::from(code) + 1, grip)
}

fn clevis_pin(text: &str, sixteenths: i64, grip: u32) -> DesignationReading {
    if !(1..=320).contains(&grip) {
        return no_such(format!("no clevis pin has grip {grip}/32 in"), []);
    }
    let mut pin = Decoded::new(text.to_owned(), ItemForm::ClevisPin);
    pin.diameter = Some(Cited::from_memory(Length::inches(sixteenths, 16)));
    pin.grip = Some(Cited::from_memory(Length::inches(i64::from(grip), 32)));
    pin.material = Some(Cited::from_memory("cadmium-plated steel"));
    pin.shank = Some(Cited::from_memory(Drilled::Drilled));
    Some(Ok(pin))
}
