//! What takes the place of a part or an item of hardware that is no longer made.

use super::Manual;
use crate::units::{Designation, PartNumber};

/// What is supplied in the place of a part: the end of its chain of `replaced by`. None where nothing takes its place, or
/// where the chain runs in a circle or ends at a number that is not in the list: rules say so.
pub fn part_now<'a>(manual: &'a Manual, number: &PartNumber) -> Option<&'a PartNumber> {
    let mut at = &manual.parts.get(number)?.replaced_by.as_ref()?.value;
    for _ in 0..manual.parts.len() {
        match &manual.parts.get(at)?.replaced_by {
            Some(next) => at = &next.value,
            None => return Some(at),
        }
    }
    None
}

/// The same of hardware.
pub fn hardware_now<'a>(manual: &'a Manual, designation: &Designation) -> Option<&'a Designation> {
    let mut at = &manual.hardware.get(designation)?.replaced_by.as_ref()?.value;
    for _ in 0..manual.hardware.len() {
        match &manual.hardware.get(at)?.replaced_by {
            Some(next) => at = &next.value,
            None => return Some(at),
        }
    }
    None
}
