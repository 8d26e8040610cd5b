//! Joints that lives hang on: what the author says so of, and what is of steering, brakes or rig.

use crate::model::{Joint, Manual};
use crate::trade::{Cited, Source};

use super::{Reading, Tightening};

/// Areas of a craft whose joints keep a castle nut and pin where they turn, in every trade (FAA AC 43.13-1B, 7-64).
const AREAS: [&str; 6] = ["steering", "brake", "brakes", "rig", "rigging", "mast"];

/// Whether lives hang on a joint: it is called critical, or a part of it belongs to steering, brakes or rig.
pub fn lives_hang_on(manual: &Manual, joint: &Joint) -> bool {
    let of_area = |area: &str| {
        area.split(|c: char| !c.is_alphanumeric()).any(|word| AREAS.contains(&word.to_lowercase().as_str()))
    };
    let areas = joint.stack.iter().filter_map(|m| manual.parts.get(&m.part.value));
    joint.critical.is_some() || areas.into_iter().any(|part| of_area(&part.area))
}

/// What a joint is judged by that is recalled and was not looked up: what it is, in words.
pub fn recalled(reading: &Reading) -> Vec<&'static str> {
    fn from_memory<T>(value: Option<Cited<T>>) -> bool {
        value.is_some_and(|v| v.source == Source::FromMemory)
    }
    let fastener = reading.fastener.as_deref();
    let nut = reading.nut.as_deref();
    let torque = if let Tightening::Table(torque) = &reading.tightening { Some(*torque) } else { None };
    let washers = reading.washers.iter().flat_map(|(head, under_nut)| head.iter().chain(under_nut));
    [
        ("grip", from_memory(fastener.and_then(|f| f.grip))),
        ("length", fastener.is_some_and(|f| f.grip.is_none() && from_memory(f.length))),
        ("height of the nut", from_memory(nut.and_then(|n| n.height))),
        ("thickness of a washer", washers.copied().any(|w| from_memory(Some(w)))),
        ("table torque", from_memory(torque)),
    ]
    .into_iter()
    .filter_map(|(what, recalled)| recalled.then_some(what))
    .collect()
}
