//! The marks that stand in text or over figures, drawn by ourselves: boxes, blanks, hands, callouts, symbols.
//!
//! Owns: their shapes. Must not know: paragraphs' breaking, blocks, pages.

use super::frame::{Color, ItemKind, PageShape, Segment, Stroke, TextRun};
use super::para::{InlineMark, TextLook};
use crate::document::HandTag;
use crate::figure::{GreyMark, KeyEntry, grey_of};
use crate::units::Hand;

/// Control point distance for a quarter circle by one cubic: 4/3 (sqrt 2 - 1).
const ARC: f64 = 0.552_284_749_830_793_4;

/// A circle around a point.
pub fn circle(x: f64, y: f64, r: f64) -> Vec<Segment> {
    let k = r * ARC;
    vec![
        Segment::Move(x + r, y),
        Segment::Curve(x + r, y + k, x + k, y + r, x, y + r),
        Segment::Curve(x - k, y + r, x - r, y + k, x - r, y),
        Segment::Curve(x - r, y - k, x - k, y - r, x, y - r),
        Segment::Curve(x + k, y - r, x + r, y - k, x + r, y),
        Segment::Close,
    ]
}

pub fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Vec<Segment> {
    polygon(&[(x, y), (x + width, y), (x + width, y + height), (x, y + height)])
}

pub fn polygon(points: &[(f64, f64)]) -> Vec<Segment> {
    let mut path = Vec::with_capacity(points.len() + 1);
    for (i, &(x, y)) in points.iter().enumerate() {
        path.push(if i == 0 { Segment::Move(x, y) } else { Segment::Line(x, y) });
    }
    path.push(Segment::Close);
    path
}

pub fn filled(path: Vec<Segment>, color: Color) -> ItemKind {
    ItemKind::Shape(PageShape { path, fill: Some(color), stroke: None })
}

pub fn line(x: f64, y: f64, color: Color, width: f64) -> ItemKind {
    ItemKind::Shape(PageShape {
        path: vec![Segment::Move(0.0, 0.0), Segment::Line(x, y)],
        fill: None,
        stroke: Some(Stroke { color, width, dash: None }),
    })
}

pub fn outlined(path: Vec<Segment>, fill: Option<Color>, color: Color, width: f64) -> ItemKind {
    ItemKind::Shape(PageShape { path, fill, stroke: Some(Stroke { color, width, dash: None }) })
}

/// An arrow over a picture from one point to another: on a white edge, so that it shows on any picture.
pub fn arrow(from: (f64, f64), to: (f64, f64), color: Color) -> Vec<ItemKind> {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let length = dx.hypot(dy);
    if length < 0.01 {
        return Vec::new();
    }
    let (dx, dy) = (dx / length, dy / length);
    let head = 10.0_f64.min(length);
    let neck = (to.0 - dx * head, to.1 - dy * head);
    let side = |s: f64| (neck.0 - dy * head * s, neck.1 + dx * head * s);
    let (shaft, point) =
        (vec![Segment::Move(from.0, from.1), Segment::Line(neck.0, neck.1)], polygon(&[to, side(0.4), side(-0.4)]));
    let stroke = |color, width| Some(Stroke { color, width, dash: None });
    vec![
        ItemKind::Shape(PageShape { path: shaft.clone(), fill: None, stroke: stroke(Color::WHITE, 4.6) }),
        ItemKind::Shape(PageShape { path: point.clone(), fill: Some(Color::WHITE), stroke: stroke(Color::WHITE, 3.0) }),
        ItemKind::Shape(PageShape { path: shaft, fill: None, stroke: stroke(color, 1.8) }),
        filled(point, color),
    ]
}

/// A box to tick, its edge in points, on the baseline.
pub fn tick(edge: f64, look: TextLook) -> InlineMark {
    let drop = (edge - look.size * 0.73).max(0.0) / 2.0;
    InlineMark {
        width: edge + look.size * 0.35,
        above: edge - drop,
        below: drop,
        items: vec![((0.0, 0.0), outlined(rectangle(0.6, drop - edge, edge - 1.2, edge), None, look.color, 1.0))],
    }
}

/// A rule to write on, `width` points long.
pub fn blank(width: f64, look: TextLook) -> InlineMark {
    let width = width.max(6.0);
    InlineMark {
        width,
        above: look.size * 1.3,
        below: 3.0,
        items: vec![((0.0, 2.0), line(width, 0.0, look.color, 0.6))],
    }
}

/// The shape before the word of a hand.
pub fn hand(hand: Hand, look: TextLook) -> InlineMark {
    let tag = HandTag::of(hand);
    let h = look.size * 0.72;
    let corners = tag.corners.map(|(x, y)| (x * h, (y - 1.0) * h));
    let item = outlined(polygon(&corners), tag.full.then_some(look.color), look.color, look.size * 0.09);
    InlineMark { width: HandTag::WIDTH * h + look.size * 0.32, above: h, below: 0.0, items: vec![((0.0, 0.0), item)] }
}

/// A callout's number in text: the same ring as in the figure.
pub fn callout_in_text(number: TextRun, look: TextLook) -> InlineMark {
    let width = number.width();
    let r = (look.size * 0.62).max(width / 2.0 + look.size * 0.18);
    let middle = -look.size * 0.36;
    let at = (r - width / 2.0, middle + number.size * 0.36);
    InlineMark {
        width: r * 2.0 + look.size * 0.1,
        above: r - middle,
        below: r + middle,
        items: vec![
            ((0.0, 0.0), outlined(circle(r, middle, r), Some(Color::WHITE), look.color, look.size * 0.09)),
            (at, ItemKind::Text(number)),
        ],
    }
}

/// Size of a fraction's digits over that of the text.
pub const FRACTION_DIGITS: f64 = 0.74;

/// A fraction: small digits above and below a stroke and clear of it, read as `says`. The stroke is a letter too, so that who reads
/// the letters alone never takes 3/8 for 38.
pub fn fraction(says: &str, mut upper: TextRun, mut stroke: TextRun, mut lower: TextRun, look: TextLook) -> InlineMark {
    let em = |share: f64| look.size * share;
    // What it says is said by the first run.
    upper.actual = Some(says.into());
    stroke.actual = Some("".into());
    lower.actual = Some("".into());
    // Both numbers stand beside the half of the stroke that is theirs.
    let at_stroke = upper.width() - em(0.1);
    let at_lower = at_stroke + stroke.width() * 0.65 + em(0.06);
    InlineMark {
        width: at_lower + lower.width() + em(0.02),
        above: em(0.87),
        below: em(0.12),
        items: vec![
            ((0.0, -look.rise - em(0.31)), ItemKind::Text(upper)),
            ((at_stroke, -look.rise), ItemKind::Text(stroke)),
            ((at_lower, -look.rise + em(0.1)), ItemKind::Text(lower)),
        ],
    }
}

/// The alert symbol: a triangle with an exclamation mark. `height` in points; placed from its top left.
pub fn alert(height: f64, ink: Color, ground: Color) -> Vec<ItemKind> {
    let width = height * 1.12;
    let (cx, bar) = (width / 2.0, height * 0.075);
    vec![
        filled(polygon(&[(cx, 0.0), (width, height), (0.0, height)]), ink),
        filled(
            polygon(&[
                (cx - bar, height * 0.36),
                (cx + bar, height * 0.36),
                (cx + bar * 0.62, height * 0.70),
                (cx - bar * 0.62, height * 0.70),
            ]),
            ground,
        ),
        filled(circle(cx, height * 0.82, bar), ground),
    ]
}

/// A row of dots that leads the eye over `width` points.
pub fn dots(width: f64, color: Color) -> ItemKind {
    ItemKind::Shape(PageShape {
        path: vec![Segment::Move(0.0, 0.0), Segment::Line(width, 0.0)],
        fill: None,
        stroke: Some(Stroke { color, width: 0.9, dash: Some((0.9, 2.4)) }),
    })
}

/// A sample of what stands for a colour in a grey print: a square filled so, or a line drawn so.
pub fn swatch(entry: &KeyEntry, look: TextLook) -> InlineMark {
    let (w, h) = (look.size * 1.9, look.size * 0.9);
    let items = match entry.mark {
        GreyMark::Hatch(hatch) => {
            let lines = if grey_of(entry.color) < 0.5 { Color::WHITE } else { Color::BLACK };
            let gap = look.size * 0.32;
            let mut path = Vec::new();
            for &degrees in hatch.directions {
                for (from, to) in hatch_lines((0.0, -h, w, h), degrees, gap) {
                    path.push(Segment::Move(from.0, from.1));
                    path.push(Segment::Line(to.0, to.1));
                }
            }
            let dash = hatch.broken.then_some((gap * 0.9, gap * 0.6));
            let hatch =
                PageShape { path, fill: None, stroke: Some(Stroke { color: lines, width: look.size * 0.08, dash }) };
            vec![outlined(rectangle(0.0, -h, w, h), Some(Color(entry.color)), look.color, 0.5), ItemKind::Shape(hatch)]
        }
        GreyMark::Dashes(dashes) => {
            let width = look.size * 0.16;
            let mut path = Vec::new();
            for (from, to) in drawn_parts(dashes, w * 1.6 / width) {
                path.push(Segment::Move(from * width, -h * 0.35));
                path.push(Segment::Line(to * width, -h * 0.35));
            }
            let stroke = Some(Stroke { color: Color(entry.color), width, dash: None });
            vec![ItemKind::Shape(PageShape { path, fill: None, stroke })]
        }
    };
    let width = if matches!(entry.mark, GreyMark::Dashes(_)) { w * 1.6 } else { w };
    let items = items.into_iter().map(|item| ((0.0, look.size * 0.1), item)).collect();
    InlineMark { width: width + look.size * 0.3, above: h, below: 0.0, items }
}

/// From where to where a line of a length is drawn, by the lengths of strokes and gaps; as a whole where there are none.
fn drawn_parts(dashes: &[f64], length: f64) -> Vec<(f64, f64)> {
    if dashes.is_empty() {
        return vec![(0.0, length)];
    }
    let mut parts = Vec::new();
    let mut at = 0.0;
    for pair in dashes.chunks(2).cycle() {
        if at >= length {
            break;
        }
        parts.push((at, (at + pair[0]).min(length)));
        at += pair.iter().sum::<f64>().max(0.5);
    }
    parts
}

/// Lines `gap` apart at an angle, cut to a rectangle (left, top, width, height; y down).
fn hatch_lines(area: (f64, f64, f64, f64), degrees: f64, gap: f64) -> Vec<((f64, f64), (f64, f64))> {
    let (left, top, width, height) = area;
    let angle = degrees.to_radians();
    let (dx, dy) = (libm::cos(angle), -libm::sin(angle));
    let (cx, cy) = (left + width / 2.0, top + height / 2.0);
    let reach = (width + height) / 2.0;
    let count = (reach / gap) as i32;
    let mut lines = Vec::new();
    for i in -count..=count {
        let (px, py) = (cx - dy * gap * f64::from(i), cy + dx * gap * f64::from(i));
        // The part of the line that lies within both pairs of sides.
        let (mut from, mut to) = (-reach * 2.0, reach * 2.0);
        for (p, d, low, high) in [(px, dx, left, left + width), (py, dy, top, top + height)] {
            if d.abs() < 1e-9 {
                if p < low || p > high {
                    to = from - 1.0;
                }
                continue;
            }
            let (a, b) = ((low - p) / d, (high - p) / d);
            from = from.max(a.min(b));
            to = to.min(a.max(b));
        }
        if to > from {
            lines.push(((px + dx * from, py + dy * from), (px + dx * to, py + dy * to)));
        }
    }
    lines
}
