//! Which bolt and washers would fit, out of the series and of what the manual has.

use super::Items;
use crate::model::Manual;
use crate::trade::fit::{BoltChoice, FitRules, Shank, Solution, WasherChoice, bolts_like, solve};
use crate::trade::{Cited, Decoded, ItemForm, WasherForm, decode};
use crate::units::{Length, Rational, UnitStyle, plain};

/// The dash numbers of AN960 washers by bolt size (from memory; a size that does not decode is passed over).
const WASHERS: [&str; 10] = ["6", "8", "10", "416", "516", "616", "716", "816", "916", "1016"];

/// Every bolt like `bolt` with washers that meets the rules on `stack`, those already in the manual first. Empty
/// where the series is not built in or nothing fits. `tolerance` is how far the parts may be off together: what does not hold
/// with it is not offered.
pub fn choices(
    manual: Option<(&Manual, &Items)>,
    bolt: &Decoded,
    stack: Cited<Length>,
    nut: Option<&Decoded>,
    rules: &FitRules,
    tolerance: Length,
) -> Vec<Solution> {
    let listed = |name: &str| manual.is_some_and(|(m, _)| m.hardware.keys().any(|d| d.as_str() == name));
    let bolts: Vec<BoltChoice> = bolts_like(bolt)
        .into_iter()
        .filter_map(|b| {
            let mut shank = Shank::of(&b)?;
            // What the parts are off counts like what the grip is off.
            shank.grip_tolerance = shank.grip_tolerance + tolerance;
            Some(BoltChoice { at_hand: listed(&b.designation), designation: b.designation, shank })
        })
        .collect();
    // Of washers alike in thickness one is enough: of the bolt's own material, then one that the manual has.
    let mut washers: Vec<(bool, WasherChoice)> = Vec::new();
    let material = |item: &Decoded| item.material.map(|m| m.value);
    let mut add = |washer: &Decoded, at_hand| {
        let plain = matches!(washer.form, ItemForm::Washer(WasherForm::Plain | WasherForm::Thin));
        let fits = bolt.diameter.zip(washer.diameter).is_some_and(|(b, w)| b.value == w.value);
        let Some(thickness) = washer.thickness.filter(|_| plain && fits) else { return };
        let alike = material(washer) == material(bolt);
        let choice = WasherChoice { designation: washer.designation.clone(), thickness, at_hand };
        match washers.iter_mut().find(|(_, w)| w.thickness.value == thickness.value) {
            Some(other) if alike && !other.0 => *other = (alike, choice),
            Some(_) => {}
            None => washers.push((alike, choice)),
        }
    };
    if let Some((manual, items)) = manual {
        for washer in manual.hardware.keys().filter_map(|d| items.get(d)) {
            add(washer, true);
        }
    }
    let metric = bolt.diameter.map(|d| plain(&d.value.pieces(UnitStyle::Millimetre)));
    let inch = WASHERS.into_iter().flat_map(|dash| ["", "L"].map(|end| format!("AN960-{dash}{end}")));
    let plain_washers = metric.and_then(|d| d.strip_suffix(" mm").map(|d| format!("ISO 7089 {d}")));
    for name in inch.chain(plain_washers) {
        if let Some(washer) = decode(&name) {
            add(&washer, false);
        }
    }
    let mut washers: Vec<WasherChoice> = washers.into_iter().map(|w| w.1).collect();
    // More kinds than this say nothing new and cost time.
    washers.truncate(5);
    let mut found = solve(&bolts, &washers, stack, nut.and_then(|n| n.height), rules).unwrap_or_default();
    if tolerance > Length::ZERO {
        found.retain(|s| s.worst >= Rational::from_integer(0));
    }
    found
}
