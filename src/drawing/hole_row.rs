//! A row of holes with its cumulative marks, and the strip of paper that is laid along the part.

use super::path::Path;
use super::scene::{Align, Drawing, LineType, Mark, Text, Word};
use crate::units::{Length, UnitStyle, plain};

const WIDTH: f64 = 136.0;
/// Where the end of the part is, and how far the row reaches.
const LEFT: f64 = 12.0;
const RIGHT: f64 = 126.0;
/// Most marks with a length beside them.
const MOST: usize = 24;
/// Rows of lengths.
const ROWS: usize = 3;
const INCH: f64 = 25.4;

/// A row as it lies along the part, to scale from the end it is measured from. `part` names it, `end` is A or B.
pub fn hole_row(part: &str, end: &str, places: &[Length], whole: Option<Length>, units: UnitStyle) -> Drawing {
    let last = places.last().copied().unwrap_or(Length::ZERO).to_f64();
    let first = places.first().copied().unwrap_or(Length::ZERO).to_f64();
    let ends = whole.map(Length::to_f64).filter(|w| *w <= last * 1.25);
    let scale = (RIGHT - LEFT) / ends.unwrap_or(last + first.max(last * 0.06));
    let rows = ROWS.min(places.len()) as f64;
    let top = 6.0 + 4.8 * rows;
    let (bottom, axis) = (top + 10.0, top + 5.0);
    let all: Vec<_> = places.iter().map(|p| plain(&p.pieces(units))).collect();
    let alt = format!("{part}: {} holes in a row, measured from end {end}: {}.", places.len(), all.join(", "));
    let mut drawing = Drawing::new(WIDTH, bottom + 8.0, alt);
    let right = ends.map_or(RIGHT + 6.0, |w| LEFT + w * scale);
    for y in [top, bottom] {
        drawing.path(Path::line((LEFT, y), (right, y)), LineType::Thick);
    }
    drawing.path(Path::line((LEFT, top), (LEFT, bottom)), LineType::Thick);
    if ends.is_some() {
        drawing.path(Path::line((right, top), (right, bottom)), LineType::Thick);
    } else {
        let points = [
            (right, top - 2.0),
            (right, axis - 2.0),
            (right - 1.0, axis - 1.0),
            (right + 1.0, axis + 1.0),
            (right, axis + 2.0),
            (right, bottom + 2.0),
        ];
        drawing.path(Path::through(&points), LineType::Thin);
    }
    drawing.path(Path::line((LEFT - 3.0, axis), (right + 3.0, axis)), LineType::Centre);
    let every = places.len().div_ceil(MOST).max(1);
    let mut shown = 0;
    for (i, place) in places.iter().enumerate() {
        let x = LEFT + place.to_f64() * scale;
        drawing.path(Path::circle((x, axis), 1.1), LineType::Thick);
        drawing.path(Path::line((x, axis - 2.6), (x, axis + 2.6)), LineType::Centre);
        if i % every == 0 || i + 1 == places.len() {
            let y = top - 2.0 - 4.8 * (shown % ROWS) as f64;
            shown += 1;
            drawing.path(Path::line((x, axis - 2.6), (x, y + 0.6)), LineType::Thin);
            drawing.words((x, y), Align::Middle, vec![Word::Length(*place)]);
        }
    }
    drawing.text((LEFT, bottom + 5.0), Align::Middle, format!("End {end}"));
    drawing.text((WIDTH / 2.0, bottom + 5.0), Align::Middle, "each mark from the same end");
    drawing
}

/// The strip at full size, a line across at each hole. Its left edge is laid on the end of the part.
pub(super) fn strip(end: &str, places: &[Length]) -> Drawing {
    let last = places.last().copied().unwrap_or(Length::ZERO).to_f64() * INCH;
    let (width, height) = (last + 16.0, 26.0);
    let mut strip = Drawing::new(width, height, "");
    strip.path(Path::rectangle(0.0, 0.0, width, height), LineType::Thin);
    strip.path(Path::line((0.0, 0.0), (0.0, height)), LineType::Thick);
    strip.path(Path::line((0.0, height / 2.0), (width, height / 2.0)), LineType::Centre);
    let small = |strip: &mut Drawing, at, text: String| {
        strip.marks.push(Mark::Text(Text {
            at,
            align: Align::Start,
            size: 2.8,
            bold: false,
            words: vec![Word::text(text)],
        }));
    };
    small(&mut strip, (1.2, height - 1.5), format!("this edge on end {end}"));
    for (i, place) in places.iter().enumerate() {
        let x = place.to_f64() * INCH;
        strip.path(Path::line((x, 3.0), (x, height - 3.0)), LineType::Thick);
        strip.path(Path::circle((x, height / 2.0), 1.5), LineType::Thin);
        small(&mut strip, (x + 0.8, 6.4), (i + 1).to_string());
    }
    for (i, place) in places.iter().enumerate() {
        // By turns above and below, so that close holes keep their lengths apart.
        let y = if i % 2 == 0 { height - 4.2 } else { height - 7.4 };
        strip.marks.push(Mark::Text(Text {
            at: (place.to_f64() * INCH + 0.8, y),
            align: Align::Start,
            size: 2.8,
            bold: false,
            words: vec![Word::Length(*place)],
        }));
    }
    strip
}
