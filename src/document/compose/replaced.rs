//! What is supplied today in the place of a part or of hardware that is no longer made, as lists say it.

use crate::document::inline::{Inline, Inlines};
use crate::model::{Hardware, Manual, Part, hardware_now, part_now};
use crate::units::{Designation, PartNumber};

/// The number to pull for a part, its row, and what it is: `Axle beam, in place of SK-112`. None where the part is not
/// in the list.
pub(super) fn part<'a>(manual: &'a Manual, number: &'a PartNumber) -> Option<(&'a PartNumber, &'a Part, String)> {
    let now = part_now(manual, number).and_then(|now| Some((now, manual.parts.get(now)?)));
    match now {
        Some((now, row)) => Some((now, row, format!("{}, in place of {number}", row.name))),
        None => manual.parts.get(number).map(|row| (number, row, row.name.clone())),
    }
}

/// The same of hardware; without a row where it is not in the list.
pub(super) fn hardware<'a>(
    manual: &'a Manual,
    name: &'a Designation,
) -> (&'a Designation, Option<&'a Hardware>, String) {
    let now = hardware_now(manual, name).and_then(|now| Some((now, manual.hardware.get(now)?)));
    match now {
        Some((now, row)) => (now, Some(row), format!("{}, in place of {name}", row.name)),
        None => {
            let row = manual.hardware.get(name);
            (name, row, row.map_or_else(String::new, |h| h.name.clone()))
        }
    }
}

/// `supplied as SK-114`, for a remark.
pub(super) fn part_remark(manual: &Manual, number: &PartNumber) -> Option<Inlines> {
    part_now(manual, number).map(|now| vec![Inline::text("supplied as "), Inline::strong(now.as_str())])
}

/// The same of hardware.
pub(super) fn hardware_remark(manual: &Manual, name: &Designation) -> Option<Inlines> {
    hardware_now(manual, name).map(|now| vec![Inline::text("supplied as "), Inline::strong(now.as_str())])
}
