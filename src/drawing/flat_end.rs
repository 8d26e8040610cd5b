//! A flattened tube end from above and from the side.

use super::path::Path;
use super::scene::{Align, ArrowSide, Drawing, LineType, Mark, Point, Word};
use crate::plan::{FlatEnd, on_tape};
use crate::units::{Length, UnitStyle, plain};

const WIDTH: f64 = 136.0;
/// Where the end of the tube is.
const LEFT: f64 = 34.0;
/// Whole tube that is shown.
const TUBE: f64 = 18.0;
/// Most room for flat and transition.
const ROOM: f64 = 66.0;

/// The drawing of a flattened end.
pub fn flat_end(end: &FlatEnd, units: UnitStyle) -> Drawing {
    let flat = end.work.length.value.to_f64();
    // A transition that nobody gives is drawn as long as the tube is thick, without a dimension.
    let transition = end.work.transition.map_or(end.outside_diameter, |t| t.value).to_f64();
    let scale = (ROOM / (flat + transition)).min(20.0 / end.width);
    let (wide, round) = (end.width / 2.0 * scale, end.outside_diameter.to_f64() / 2.0 * scale);
    let thin = end.thickness.to_f64() / 2.0 * scale;
    let (above, side) = (14.0 + wide, 14.0 + 2.0 * wide + 16.0 + round);
    let height = side + round + 12.0;
    let length = |l: Length| plain(&l.pieces(units));
    let mut alt = format!(
        "{} with a flattened end, from above and from the side: the flat is {} long, {} wide and {} thick.",
        end.part.number.value,
        length(end.work.length.value),
        length(on_tape(end.width)),
        length(end.thickness)
    );
    if let Some(t) = &end.work.transition {
        alt.push_str(&format!(" It goes over into the round tube within {}.", length(t.value)));
    }
    let mut drawing = Drawing::new(WIDTH, height, alt);
    let (a, b) = (LEFT + flat * scale, LEFT + (flat + transition) * scale);
    let right = b + TUBE;
    for (axis, half) in [(above, wide), (side, thin)] {
        let edge = |sign: f64| -> Vec<Point> {
            vec![
                (LEFT, axis + sign * half),
                (a, axis + sign * half),
                (b, axis + sign * round),
                (right, axis + sign * round),
            ]
        };
        let mut outline = edge(-1.0);
        drawing.path(Path::through(&outline), LineType::Thick);
        outline = edge(1.0);
        drawing.path(Path::through(&outline), LineType::Thick);
        drawing.path(Path::line((LEFT, axis - half), (LEFT, axis + half)), LineType::Thick);
        for x in [a, b] {
            let reach = if x == a { half } else { round };
            drawing.path(Path::line((x, axis - reach), (x, axis + reach)), LineType::Thin);
        }
        drawing.path(Path::line((LEFT - 4.0, axis), (right + 4.0, axis)), LineType::Centre);
    }
    let top = above - wide;
    drawing.marks.push(Mark::Level {
        from: (LEFT, top),
        to: (a, top),
        away: -6.0,
        arrows: room(a - LEFT),
        words: vec![Word::Length(end.work.length.value)],
    });
    if let Some(t) = &end.work.transition {
        drawing.marks.push(Mark::Level {
            from: (a, top),
            to: (b, top),
            away: -6.0,
            arrows: room(b - a),
            words: vec![Word::Length(t.value)],
        });
    }
    drawing.marks.push(Mark::Upright {
        from: (LEFT, above - wide),
        to: (LEFT, above + wide),
        away: -9.0,
        arrows: ArrowSide::Inside,
        words: vec![Word::Length(on_tape(end.width))],
    });
    drawing.marks.push(Mark::Upright {
        from: (LEFT, side - thin),
        to: (LEFT, side + thin),
        away: -9.0,
        arrows: ArrowSide::Outside,
        words: vec![Word::Length(end.thickness)],
    });
    drawing.text((right + 6.0, above + 1.2), Align::Start, "from above");
    drawing.text((right + 6.0, side + 1.2), Align::Start, "from the side");
    drawing
}

fn room(millimetres: f64) -> ArrowSide {
    if millimetres < 14.0 { ArrowSide::Outside } else { ArrowSide::Inside }
}
