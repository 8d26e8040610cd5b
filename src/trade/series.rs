//! A nut, washer or cotter pin of a series in the size that goes with a bolt.

use super::{Decoded, ItemForm, Thread, cotter_diameter, cotter_faults, decode};
use crate::units::{Rational, UnitStyle, plain};

/// The item of a series for a bolt: `AN310` for `AN4-10` is `AN310-4`. `None` where the series is not built in.
pub fn of_series(series: &str, bolt: &Decoded) -> Option<Decoded> {
    candidates(series, bolt)?.iter().filter_map(|name| decode(name)).find(|item| of_its_size(item, bolt))
}

/// Whether a nut, washer or cotter pin has the size of a bolt.
pub fn of_its_size(item: &Decoded, bolt: &Decoded) -> bool {
    match item.form {
        ItemForm::Nut(_) => bolt.thread.is_some() && item.thread.map(|t| t.value) == bolt.thread.map(|t| t.value),
        ItemForm::Washer(_) => {
            bolt.diameter.is_some() && item.diameter.map(|d| d.value) == bolt.diameter.map(|d| d.value)
        }
        ItemForm::CotterPin => cotter_faults(bolt, item).is_empty(),
        _ => false,
    }
}

/// Every name that an item of the series for this bolt may have; what is none does not decode.
fn candidates(series: &str, bolt: &Decoded) -> Option<Vec<String>> {
    if series.starts_with("ISO ") {
        // A class stands behind the size: `ISO 7040 8`.
        let (number, class) = match series.match_indices(' ').nth(1) {
            Some((at, _)) => series.split_at(at),
            None => (series, ""),
        };
        let size = plain(&bolt.diameter?.value.pieces(UnitStyle::Millimetre));
        let size = size.strip_suffix(" mm")?;
        let thread = bolt.thread.map(|t| t.value.to_string()).unwrap_or_default();
        let mut all = vec![format!("{number} {size}{class}"), format!("{number} {thread}{class}")];
        if let Some(pin) = cotter_diameter(bolt) {
            let pin = plain(&pin.value.pieces(UnitStyle::Millimetre));
            let pin = pin.trim_end_matches(" mm").to_owned();
            all.extend((10..=80).map(|length| format!("{number} {pin}x{length}")));
        }
        return Some(all);
    }
    let (series, end) = series.strip_suffix('L').map_or((series, ""), |series| (series, "L"));
    let sixteenths = (bolt.diameter?.value.as_inches() * Rational::from_integer(16)).round().to_integer();
    let washer = if sixteenths > 3 { format!("{sixteenths}16") } else { "10".to_owned() };
    let nut = match bolt.thread.map(|t| t.value) {
        Some(Thread::Sixteenths { sixteenths, per_inch }) => format!("{sixteenths}{per_inch}"),
        Some(Thread::Number { number, per_inch }) => format!("{number}{per_inch}"),
        _ => String::new(),
    };
    let mut all = vec![
        format!("{series}-{sixteenths}{end}"),
        format!("{series}-{washer}{end}"),
        format!("{series}-{nut}A"),
        format!("{series}-{nut}"),
        format!("{series}N{sixteenths}"),
        format!("{series}F0{sixteenths}63P"),
    ];
    if let Some(pin) = cotter_diameter(bolt) {
        let dash = (pin.value.as_inches() * Rational::from_integer(32)).to_integer();
        all.extend((1..=12).map(|length| format!("{series}-{dash}-{length}")));
        all.extend((100..500).filter(|_| series == "MS24665").map(|number| format!("{series}-{number}")));
    }
    Some(all)
}
