//! A part in a jig that serves both hands: which face is up, and from where it is drilled.

use super::path::Path;
use super::scene::{Align, Drawing, LineType, Mark};
use crate::model::DrilledFrom;
use crate::units::Hand;

const WIDTH: f64 = 136.0;

/// The jig from the side with the part in it, once for each hand; `here` is the hand of the step it stands in. `up` is
/// the face that is up in it, `other` the one for the other hand.
pub fn one_jig(here: Hand, up: &str, other: &str, from: DrilledFrom) -> Drawing {
    let there = here.opposite();
    let alt = format!(
        "One jig for both hands, from the side, drilled from {}: for the {here} hand with the {up} up, for the {there} hand with the {other} up.",
        from.word()
    );
    let mut drawing = Drawing::new(WIDTH, 44.0, alt);
    for (x, hand, face) in [(6.0, here, up), (74.0, there, other)] {
        let right = x + 56.0;
        let (top, bottom) = (20.0, 24.0);
        drawing.path(Path::rectangle(x + 4.0, top, 48.0, bottom - top), LineType::Thick);
        let base = vec![(x, bottom), (right, bottom), (right, bottom + 6.0), (x, bottom + 6.0)];
        drawing.marks.push(Mark::Hatch { area: base.clone(), degrees: 45.0, gap: 2.0 });
        drawing.path(Path::polygon(&base), LineType::Thick);
        for stop in [x, right - 4.0] {
            drawing.path(Path::rectangle(stop, top - 3.0, 4.0, bottom - top + 3.0), LineType::Thick);
        }
        let hole = x + 38.0;
        for edge in [-1.6, 1.6] {
            drawing.path(Path::line((hole + edge, top), (hole + edge, bottom)), LineType::Hidden);
        }
        drawing.path(Path::line((hole, top - 2.0), (hole, bottom + 8.0)), LineType::Centre);
        let (tip, tail) = match from {
            DrilledFrom::Above => ((hole, top), (hole, top - 11.0)),
            DrilledFrom::Below => ((hole, bottom + 6.0), (hole, bottom + 17.0)),
        };
        drawing.marks.push(Mark::Leader { to: tip, from: tail, words: Vec::new() });
        drawing.text((hole + 3.0, tail.1 + 2.0), Align::Start, "drill");
        drawing.text((x + 6.0, top - 2.0), Align::Start, format!("{face} up"));
        drawing.text((x + 6.0, bottom + 11.0), Align::Start, format!("{hand} hand"));
    }
    drawing
}
