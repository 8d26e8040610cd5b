//! Blind rivets by number: MS20600 and its kin, and the ISO 15977 to 15984 series.

use super::DesignationReading;
use crate::trade::{Cited, Decoded, GripRange, ItemForm, RivetHead};
use crate::units::Length;

/// Standard, head, body and mandrel; from memory.
const ISO: [(&str, RivetHead, &str); 8] = [
    ("ISO 15977", RivetHead::Protruding, "aluminium body, steel mandrel"),
    ("ISO 15978", RivetHead::Flush120, "aluminium body, steel mandrel"),
    ("ISO 15979", RivetHead::Protruding, "steel body, steel mandrel"),
    ("ISO 15980", RivetHead::Flush120, "steel body, steel mandrel"),
    ("ISO 15981", RivetHead::Protruding, "aluminium body, aluminium mandrel"),
    ("ISO 15982", RivetHead::Flush120, "aluminium body, aluminium mandrel"),
    ("ISO 15983", RivetHead::Protruding, "stainless steel body, stainless steel mandrel"),
    ("ISO 15984", RivetHead::Flush120, "stainless steel body, stainless steel mandrel"),
];

pub(super) fn read(text: &str) -> DesignationReading {
    ms20600(text).or_else(|| iso(text))
}

/// `MS20600AD4-3`: head by the standard's number, material, diameter in 1/32 in, largest grip in 1/16 in. All of
/// it from memory; the smallest grip is not coded.
fn ms20600(text: &str) -> DesignationReading {
    let (standard, head) = [("MS20600", RivetHead::Protruding), ("MS20601", RivetHead::Flush100)]
        .into_iter()
        .find(|(standard, _)| text.starts_with(standard))?;
    let rest = &text[standard.len()..];
    let (letters, material) = [
        ("AD", "2117 aluminium"),
        ("B", "5056 aluminium"),
        ("MP", "nickel-copper alloy"),
        ("M", "nickel-copper alloy"),
    ]
    .into_iter()
    .find(|(letters, _)| rest.starts_with(letters))?;
    let (diameter, grip) = rest[letters.len()..].split_once('-')?;
    let number = |text: &str| -> Option<i64> {
        let good = (1..=2).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
        good.then(|| text.parse().ok()).flatten().filter(|&n| n > 0)
    };
    let (diameter, grip) = (number(diameter).filter(|d| matches!(d, 3 | 4 | 5 | 6 | 8))?, number(grip)?);
    let mut rivet = Decoded::new(text.to_owned(), ItemForm::BlindRivet(head));
    rivet.diameter = Some(Cited::from_memory(Length::inches(diameter, 32)));
    rivet.grip_range = Some(Cited::from_memory(GripRange { least: None, most: Length::inches(grip, 16) }));
    rivet.material = Some(Cited::from_memory(material));
    Some(Ok(rivet))
}

/// `ISO 15977 4x12`: diameter and length in millimetres.
fn iso(text: &str) -> DesignationReading {
    let &(standard, head, material) = ISO.iter().find(|(standard, ..)| text.starts_with(standard))?;
    let mut words = text[standard.len()..].strip_prefix(' ')?.split(' ');
    let (diameter, length) = words.next()?.split_once('x')?;
    let mut rivet = Decoded::new(text.to_owned(), ItemForm::BlindRivet(head));
    rivet.diameter = Some(Cited::from_memory(super::iso::millimetres(diameter)?));
    rivet.length = Some(Cited::from_memory(super::iso::millimetres(length)?));
    rivet.material = Some(Cited::from_memory(material));
    Some(Ok(rivet))
}
