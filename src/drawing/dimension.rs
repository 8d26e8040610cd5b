//! Dimensions and leaders after ISO 129-1: thin lines, filled arrowheads of 15 degrees, text above the line.

use super::ink::{Ink, THIN, Tone};
use super::path::Path;
use super::scene::{Align, ArrowSide, Point, TYPE, Text, Word, plain_words};
use crate::units::UnitStyle;

/// Length of an arrowhead, millimetres.
const ARROW: f64 = 3.0;
/// How far an extension line goes beyond its dimension line.
const BEYOND: f64 = 2.0;
/// The gap between an outline and its extension line.
const CLEAR: f64 = 1.0;
/// Between a dimension line and the text above it.
const ABOVE: f64 = 1.0;

#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum DimensionRun {
    Level,
    Upright,
}

/// A dimension with its extension lines.
pub(super) fn straight(
    from: Point,
    to: Point,
    away: f64,
    run: DimensionRun,
    arrows: ArrowSide,
    words: &[Word],
    out: &mut Vec<Ink>,
) {
    let (a, b) = match run {
        DimensionRun::Level => ((from.0, from.1 + away), (to.0, from.1 + away)),
        DimensionRun::Upright => ((from.0 + away, from.1), (from.0 + away, to.1)),
    };
    for (corner, end) in [(from, a), (to, b)] {
        extension(corner, end, out);
    }
    let length = libm::hypot(b.0 - a.0, b.1 - a.1);
    if length <= 0.0 {
        return;
    }
    let unit = ((b.0 - a.0) / length, (b.1 - a.1) / length);
    let back = (-unit.0, -unit.1);
    let outside = 2.2 * ARROW;
    match arrows {
        ArrowSide::Inside => {
            line(a, b, out);
            head(a, back, out);
            head(b, unit, out);
        }
        ArrowSide::Outside => {
            line(
                (a.0 - unit.0 * outside, a.1 - unit.1 * outside),
                (b.0 + unit.0 * outside, b.1 + unit.1 * outside),
                out,
            );
            head(a, unit, out);
            head(b, back, out);
        }
    }
    let (at, align) = match (run, arrows) {
        (DimensionRun::Level, ArrowSide::Inside) => (((a.0 + b.0) / 2.0, a.1 - ABOVE), Align::Middle),
        (DimensionRun::Level, ArrowSide::Outside) if b.0 >= a.0 => ((b.0 + ARROW + 0.5, b.1 - ABOVE), Align::Start),
        (DimensionRun::Level, ArrowSide::Outside) => ((b.0 - ARROW - 0.5, b.1 - ABOVE), Align::End),
        (DimensionRun::Upright, _) => {
            let middle = (a.1 + b.1) / 2.0 + TYPE * 0.36;
            if away < 0.0 { ((a.0 - 1.2, middle), Align::End) } else { ((a.0 + 1.2, middle), Align::Start) }
        }
    };
    if arrows == ArrowSide::Outside {
        cover(at, align, words, out);
    }
    text(at, align, words, out);
}

fn extension(corner: Point, end: Point, out: &mut Vec<Ink>) {
    let length = libm::hypot(end.0 - corner.0, end.1 - corner.1);
    if length <= CLEAR {
        return;
    }
    let unit = ((end.0 - corner.0) / length, (end.1 - corner.1) / length);
    let start = (corner.0 + unit.0 * CLEAR, corner.1 + unit.1 * CLEAR);
    line(start, (end.0 + unit.0 * BEYOND, end.1 + unit.1 * BEYOND), out);
}

/// An arc with arrows at both ends; the text stands outside of its middle.
pub(super) fn angle(centre: Point, radius: f64, turn: (f64, f64), words: &[Word], out: &mut Vec<Ink>) {
    let (from, to) = turn;
    out.push(Ink::Stroke { path: Path::arc(centre, radius, from, to), width: THIN });
    let sense = if to >= from { 1.0 } else { -1.0 };
    // An arrow of a short arc would cover it.
    if (to - from).abs().to_radians() * radius > 2.5 * ARROW {
        for (degrees, way) in [(from, -sense), (to, sense)] {
            let a = degrees.to_radians();
            let tip = (centre.0 + radius * libm::cos(a), centre.1 - radius * libm::sin(a));
            head(tip, (-libm::sin(a) * way, -libm::cos(a) * way), out);
        }
    }
    let middle = f64::midpoint(from, to).to_radians();
    let reach = radius + 2.0;
    let (cos, sin) = (libm::cos(middle), libm::sin(middle));
    let align = if cos > 0.25 {
        Align::Start
    } else if cos < -0.25 {
        Align::End
    } else {
        Align::Middle
    };
    let drop = TYPE * (0.36 - 0.36 * sin);
    let at = (centre.0 + reach * cos, centre.1 - reach * sin + drop);
    cover(at, align, words, out);
    text(at, align, words, out);
}

/// Interrupts edges, axes and extension lines where words stand.
fn cover(at: Point, align: Align, words: &[Word], out: &mut Vec<Ink>) {
    if words.is_empty() {
        return;
    }
    let wide = 0.62 * TYPE * plain_words(words, UnitStyle::InchDecimal).chars().count() as f64;
    let left = match align {
        Align::Start => at.0,
        Align::Middle => at.0 - wide / 2.0,
        Align::End => at.0 - wide,
    };
    out.push(Ink::Fill { path: Path::rectangle(left - 0.3, at.1 - TYPE * 0.82, wide + 0.6, TYPE), tone: Tone::White });
}

/// An arrow on a point, and the words at the other end of its line.
pub(super) fn leader(to: Point, from: Point, words: &[Word], out: &mut Vec<Ink>) {
    let length = libm::hypot(to.0 - from.0, to.1 - from.1);
    if length > 0.0 {
        line(from, to, out);
        head(to, ((to.0 - from.0) / length, (to.1 - from.1) / length), out);
    }
    let (align, gap) = if from.0 < to.0 { (Align::End, -0.8) } else { (Align::Start, 0.8) };
    text((from.0 + gap, from.1 + TYPE * 0.36), align, words, out);
}

fn line(from: Point, to: Point, out: &mut Vec<Ink>) {
    out.push(Ink::Stroke { path: Path::line(from, to), width: THIN });
}

/// A filled arrowhead with its tip here, pointing along `unit`.
fn head(tip: Point, unit: Point, out: &mut Vec<Ink>) {
    let half = ARROW * libm::tan(7.5_f64.to_radians());
    let base = (tip.0 - unit.0 * ARROW, tip.1 - unit.1 * ARROW);
    let side = (-unit.1 * half, unit.0 * half);
    let path = Path::polygon(&[tip, (base.0 + side.0, base.1 + side.1), (base.0 - side.0, base.1 - side.1)]);
    out.push(Ink::Fill { path, tone: Tone::Black });
}

fn text(at: Point, align: Align, words: &[Word], out: &mut Vec<Ink>) {
    if !words.is_empty() {
        out.push(Ink::Text(Text { at, align, size: TYPE, bold: false, words: words.to_vec() }));
    }
}
