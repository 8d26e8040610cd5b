//! Solid rivets: AN470 and MS20470 universal head, AN426 and MS20426 flush 100 degrees.

use super::{DesignationReading, around, no_such};
use crate::trade::{Cited, Decoded, ItemForm, RivetHead, Source};
use crate::units::Length;

const CODE: Source = Source::Published("NAVEDTRA 14018, rivet code");

/// Letters of the material, longer ones first.
const MATERIALS: [(&str, &str); 6] = [
    ("AD", "2117 aluminium"),
    ("DD", "2024 aluminium"),
    ("A", "1100 aluminium"),
    ("B", "5056 aluminium"),
    ("D", "2017 aluminium"),
    ("M", "nickel-copper alloy"),
];

/// Diameters that are made, in thirty-seconds of an inch (from memory).
const DIAMETERS: [u32; 9] = [2, 3, 4, 5, 6, 8, 10, 12, 14];

pub(super) fn read(text: &str) -> DesignationReading {
    let heads = [
        ("MS20470", RivetHead::Universal),
        ("AN470", RivetHead::Universal),
        ("MS20426", RivetHead::Flush100),
        ("AN426", RivetHead::Flush100),
    ];
    let (standard, head) = heads.into_iter().find(|(standard, _)| text.starts_with(standard))?;
    let rest = &text[standard.len()..];
    let (letters, material) = MATERIALS.into_iter().find(|(letters, _)| rest.starts_with(letters))?;
    let (diameter, length) = rest[letters.len()..].split_once('-')?;
    let diameter: u32 = number(diameter)?;
    let (sixteenths, half) = match length.strip_suffix(".5") {
        Some(whole) => (number(whole)?, 1),
        None => (number(length)?, 0),
    };
    let lead = format!("{standard}{letters}");
    if !DIAMETERS.contains(&diameter) {
        let near = around(DIAMETERS, diameter).into_iter().map(|d| format!("{lead}{d}-{length}"));
        return no_such(format!("{standard} rivets have no diameter {diameter}/32 in"), near);
    }
    if sixteenths == 0 {
        return no_such("a rivet has no length 0", []);
    }
    let mut rivet = Decoded::new(text.to_owned(), ItemForm::SolidRivet(head));
    rivet.diameter = Some(Cited::new(Length::inches(i64::from(diameter), 32), CODE));
    rivet.length = Some(Cited::new(Length::inches(i64::from(2 * sixteenths + half), 32), CODE));
    rivet.material = Some(Cited::new(material, CODE));
    Some(Ok(rivet))
}

/// One or two digits, no leading zero.
fn number(text: &str) -> Option<u32> {
    let good = (1..=2).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
    (good && !(text.len() > 1 && text.starts_with('0'))).then(|| text.parse().ok()).flatten()
}
