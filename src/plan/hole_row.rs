//! Rows of holes: where each hole is, measured from one end.

use crate::geometry::{equally_spaced, nearest};
use crate::model::{Hole, Manual, Stations};
use crate::units::{Length, UnitStyle};

/// The places of a row of holes, each measured from the same end. None where the hole item has no row.
///
/// # Errors
/// Places that do not go with the count, do not go forward, or are not on the part; lower case, no full stop.
pub fn hole_row(manual: &Manual, hole: &Hole) -> Option<Result<Vec<Length>, String>> {
    let row = hole.row.as_ref()?;
    let count = usize::try_from(hole.count).unwrap_or(usize::MAX);
    Some(places(&row.stations, count).and_then(|places| {
        let last = places.last().copied().unwrap_or(Length::ZERO);
        let part = manual.parts.get(&hole.part.value);
        match part.and_then(|p| p.cut_length.or(p.blank_length)) {
            Some(length) if last >= length.value => Err(format!(
                "the last hole, at {:.4} in, is beyond the part of {:.4} in",
                last.to_f64(),
                length.value.to_f64()
            )),
            _ => Ok(places),
        }
    }))
}

fn places(stations: &Stations, count: usize) -> Result<Vec<Length>, String> {
    let places = match stations {
        Stations::Spaced { first, last } => equally_spaced(first.value, last.value, count)?,
        Stations::At(at) if at.len() != count => {
            return Err(format!("{} places are written for {count} holes", at.len()));
        }
        Stations::At(at) => at.iter().map(|s| s.value).collect(),
    };
    if places.first().is_some_and(|&p| p <= Length::ZERO) {
        return Err("the first hole is at the end or beyond it".to_owned());
    }
    if places.windows(2).any(|pair| pair[1] <= pair[0]) {
        return Err("a place is not beyond the one before it".to_owned());
    }
    Ok(places)
}

/// What a tape is read to: 1/64 in, or 0.5 mm.
pub fn tape_step(units: UnitStyle) -> Length {
    if units == UnitStyle::Millimetre { Length::millimetres(1, 2) } else { Length::inches(1, 64) }
}

/// The nearest mark of a tape, where the exact place is between two.
pub fn nearest_mark(place: Length, units: UnitStyle) -> Option<Length> {
    Some(nearest(place, tape_step(units))).filter(|near| *near != place)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::{FileId, Span, Spanned};

    fn at(places: &[&str]) -> Stations {
        let span = Span { file: FileId(0), start: 0, end: 0 };
        Stations::At(places.iter().map(|p| Spanned::new(Length::parse(p).expect(p), span)).collect())
    }

    #[test]
    fn a_row_goes_forward_and_has_its_count() {
        assert_eq!(places(&at(&["1/2", "2", "3"]), 3).map(|p| p.len()), Ok(3));
        for (stations, count) in
            [(at(&["1/2", "2"]), 3), (at(&["2", "1"]), 2), (at(&["0", "1"]), 2), (at(&["1", "1"]), 2)]
        {
            assert!(places(&stations, count).is_err());
        }
    }

    #[test]
    fn a_tape_is_read_to_its_marks() {
        let third = Length::inches(1, 3);
        assert_eq!(nearest_mark(third, UnitStyle::InchFraction), Some(Length::inches(21, 64)));
        assert_eq!(nearest_mark(third, UnitStyle::Millimetre), Some(Length::millimetres(17, 2)));
        assert_eq!(nearest_mark(Length::inches(3, 8), UnitStyle::InchFraction), None);
    }
}
