//! A bent piece: its bent shape to scale where all bends lie in one plane, and below it the piece laid out flat with the
//! stations of every bend.

use super::path::Path;
use super::scene::{Align, ArrowSide, Drawing, LineType, Mark, Point, Word};
use crate::plan::{BentPiece, BentShape, on_tape};
use crate::units::{Length, UnitStyle, plain};

/// Size of the sheet, millimetres.
const WIDTH: f64 = 136.0;
/// The least width of a bend on the strip that holds its number.
const NUMBERED: f64 = 9.0;
/// Most that the bent shape takes.
const SHAPE: (f64, f64) = (92.0, 42.0);
/// Above the bent shape and below it, for dimensions.
const AROUND: f64 = 15.0;
/// Where the flat strip begins and ends, and how high it is.
const STRIP: (f64, f64) = (14.0, 122.0);
const STRIP_HEIGHT: f64 = 8.0;
/// Steps of an arc.
const STEPS: usize = 24;

/// The drawing of a bent piece.
pub fn bent_piece(piece: &BentPiece, units: UnitStyle) -> Drawing {
    let mut drawing = Drawing::new(WIDTH, 0.0, says(piece, units));
    let below = if piece.is_flat() {
        shape(piece, &mut drawing)
    } else {
        drawing.text(
            (WIDTH / 2.0, 6.0),
            Align::Middle,
            "The bends lie in different planes: turn the piece between them as the table says.",
        );
        10.0
    };
    drawing.height = strip(piece, below + 11.0, &mut drawing);
    drawing
}

/// The bent piece in its plane, in inches, x along the middle leg, y up.
struct BentOutline {
    left: Vec<Point>,
    right: Vec<Point>,
    /// The two ends of each leg on the outside, and the middle of each bend with the middle of its arc.
    legs: Vec<(Point, Point)>,
    bends: Vec<(Point, Point)>,
}

fn walk(piece: &BentPiece) -> BentOutline {
    let half = piece.thickness.to_f64() / 2.0;
    let mut found = BentOutline { left: Vec::new(), right: Vec::new(), legs: Vec::new(), bends: Vec::new() };
    let (mut at, mut heading): (Point, f64) = ((0.0, 0.0), 0.0);
    let mut corners: Vec<Point> = Vec::new();
    let along = |p: Point, heading: f64, by: f64| (p.0 + by * libm::cos(heading), p.1 + by * libm::sin(heading));
    let aside = |p: Point, heading: f64, by: f64| (p.0 - by * libm::sin(heading), p.1 + by * libm::cos(heading));
    let mut edge = |at: Point, heading: f64| {
        found.left.push(aside(at, heading, half));
        found.right.push(aside(at, heading, -half));
    };
    edge(at, heading);
    let mut from = 0.0;
    let mut headings = vec![heading];
    let sense = |i: usize| if piece.turn(piece.toward[i]) == 0 { 1.0 } else { -1.0 };
    let mut arcs = Vec::new();
    for (i, bend) in piece.bends.iter().enumerate() {
        let (begins, ends) = piece.flat.bends[i];
        at = along(at, heading, begins - from);
        from = ends;
        edge(at, heading);
        let outer = aside(at, heading, -sense(i) * half);
        corners.push(along(outer, heading, bend.setback().unwrap_or(0.0)));
        let radius = bend.inside_radius.to_f64() + half;
        let centre = aside(at, heading, sense(i) * radius);
        let angle = bend.angle.to_f64().to_radians() * sense(i);
        for step in 1..=STEPS {
            let h = heading + angle * step as f64 / STEPS as f64;
            edge(aside(centre, h, -sense(i) * radius), h);
        }
        let middle = heading + angle / 2.0;
        arcs.push((aside(centre, middle, -sense(i) * (radius - half)), centre));
        heading += angle;
        at = aside(centre, heading, -sense(i) * radius);
        headings.push(heading);
    }
    at = along(at, heading, piece.flat.length - from);
    edge(at, heading);
    // The ends of the outer legs on the side of their bend.
    let first = aside((0.0, 0.0), 0.0, -sense(0) * half);
    let last = aside(at, heading, -sense(piece.bends.len() - 1) * half);
    let mut ends = vec![first];
    ends.extend(corners);
    ends.push(last);
    found.legs = ends.windows(2).map(|pair| (pair[0], pair[1])).collect();
    found.bends = arcs;
    // The middle leg lies level; sheet bends up from it, tube hangs down.
    let turn = -headings[headings.len() / 2];
    let down = if piece.shape == BentShape::Sheet { sense(0) } else { -sense(0) };
    let place = |p: Point| {
        let (x, y) = (p.0 * libm::cos(turn) - p.1 * libm::sin(turn), p.0 * libm::sin(turn) + p.1 * libm::cos(turn));
        (x, y * down)
    };
    BentOutline {
        left: found.left.into_iter().map(place).collect(),
        right: found.right.into_iter().map(place).collect(),
        legs: found.legs.into_iter().map(|(a, b)| (place(a), place(b))).collect(),
        bends: found.bends.into_iter().map(|(a, b)| (place(a), place(b))).collect(),
    }
}

/// Draws the bent shape; returns how far down it reaches.
fn shape(piece: &BentPiece, drawing: &mut Drawing) -> f64 {
    let shape = walk(piece);
    let all = || shape.left.iter().chain(&shape.right);
    let (low, high) = all().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), p| (l.min(p.1), h.max(p.1)));
    let (left, right) = all().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), p| (l.min(p.0), h.max(p.0)));
    let scale = (SHAPE.0 / (right - left)).min(SHAPE.1 / (high - low));
    let x0 = (WIDTH - (right - left) * scale) / 2.0;
    let top = AROUND;
    let paper = |p: Point| (x0 + (p.0 - left) * scale, top + (high - p.1) * scale);
    let mut outline: Vec<Point> = shape.left.iter().map(|&p| paper(p)).collect();
    outline.extend(shape.right.iter().rev().map(|&p| paper(p)));
    drawing.path(Path::polygon(&outline), LineType::Thick);
    if piece.shape == BentShape::Round {
        let middle: Vec<Point> = shape
            .left
            .iter()
            .zip(&shape.right)
            .map(|(a, b)| paper((f64::midpoint(a.0, b.0), f64::midpoint(a.1, b.1))))
            .collect();
        drawing.path(Path::through(&middle), LineType::Centre);
    }
    for (i, (&(a, b), leg)) in shape.legs.iter().zip(&piece.legs).enumerate() {
        leg_dimension(drawing, i, (paper(a), paper(b)), *leg, (top, top + (high - low) * scale));
    }
    let alike = piece.bends.windows(2).all(|pair| pair[0] == pair[1]);
    for (i, (&(arc, centre), bend)) in shape.bends.iter().zip(&piece.bends).enumerate() {
        let (arc, centre) = (paper(arc), paper(centre));
        let side = if arc.0 < WIDTH / 2.0 { 1.0 } else { -1.0 };
        let length = libm::hypot(centre.0 - arc.0, centre.1 - arc.1).max(1e-6);
        let inward = (centre.1 - arc.1) / length;
        let from = (arc.0 + side * 6.0, arc.1 + inward * (4.0 + 5.0 * if alike { 0.0 } else { (i % 2) as f64 }));
        let mut words = vec![Word::text((i + 1).to_string())];
        if !alike {
            words.extend([
                Word::text(": "),
                Word::Angle(bend.angle),
                Word::text(", R "),
                Word::Length(bend.inside_radius),
            ]);
        }
        drawing.marks.push(Mark::Leader { to: arc, from, words });
    }
    let bottom = top + (high - low) * scale;
    if alike {
        let each = if piece.bends.len() > 1 { "each bend " } else { "bend " };
        let words = vec![
            Word::text(each),
            Word::Angle(piece.bends[0].angle),
            Word::text(", R "),
            Word::Length(piece.bends[0].inside_radius),
        ];
        drawing.words((WIDTH / 2.0, bottom + AROUND - 0.5), Align::Middle, words);
    }
    let last = shape.left.len() - 1;
    let end = |i: usize, inner: usize| {
        let middle = |i: usize| {
            paper((f64::midpoint(shape.left[i].0, shape.right[i].0), f64::midpoint(shape.left[i].1, shape.right[i].1)))
        };
        let (p, q) = (middle(i), middle(inner));
        let length = libm::hypot(p.0 - q.0, p.1 - q.1).max(1e-6);
        (p.0 + (p.0 - q.0) / length * 3.0, p.1 + (p.1 - q.1) / length * 3.0 + 1.2)
    };
    drawing.text(end(0, 1), Align::Middle, "A");
    drawing.text(end(last, last - 1), Align::Middle, "B");
    bottom + AROUND
}

fn leg_dimension(drawing: &mut Drawing, leg: usize, (a, b): (Point, Point), length: Length, (top, bottom): (f64, f64)) {
    let words = vec![Word::Length(length)];
    let level = (a.1 - b.1).abs() < 0.05;
    let upright = (a.0 - b.0).abs() < 0.05;
    let arrows = if libm::hypot(b.0 - a.0, b.1 - a.1) < 12.0 { ArrowSide::Outside } else { ArrowSide::Inside };
    if level {
        let away = if a.1 - top < bottom - a.1 { -9.0 } else { 9.0 };
        let (from, to) = if a.0 <= b.0 { (a, b) } else { (b, a) };
        drawing.marks.push(Mark::Level { from, to, away, arrows, words });
    } else if upright {
        let away = if a.0 < WIDTH / 2.0 { -8.0 } else { 8.0 };
        let (from, to) = if a.1 <= b.1 { (a, b) } else { (b, a) };
        drawing.marks.push(Mark::Upright { from, to, away, arrows, words });
    } else {
        let middle = (f64::midpoint(a.0, b.0), f64::midpoint(a.1, b.1));
        let side = if middle.0 < WIDTH / 2.0 { -1.0 } else { 1.0 };
        let words = vec![Word::text(format!("leg {}: ", leg + 1)), Word::Length(length)];
        drawing.marks.push(Mark::Leader { to: middle, from: (middle.0 + side * 8.0, middle.1 - 5.0), words });
    }
}

/// Draws the piece laid out flat below `top`; returns how far down it reaches.
fn strip(piece: &BentPiece, top: f64, drawing: &mut Drawing) -> f64 {
    let scale = (STRIP.1 - STRIP.0) / piece.flat.length;
    let rows = if piece.bends.len() > 1 { 2.0 } else { 1.0 };
    let y = top + 4.6 * rows;
    let bottom = y + STRIP_HEIGHT;
    let x = |inches: f64| STRIP.0 + inches * scale;
    drawing.path(Path::rectangle(STRIP.0, y, STRIP.1 - STRIP.0, STRIP_HEIGHT), LineType::Thick);
    if piece.shape == BentShape::Round {
        drawing.path(
            Path::line((STRIP.0 - 3.0, y + STRIP_HEIGHT / 2.0), (STRIP.1 + 3.0, y + STRIP_HEIGHT / 2.0)),
            LineType::Centre,
        );
    }
    for (i, &(begins, ends)) in piece.flat.bends.iter().enumerate() {
        let area = vec![(x(begins), y), (x(ends), y), (x(ends), bottom), (x(begins), bottom)];
        drawing.marks.push(Mark::Hatch { area, degrees: 45.0, gap: 1.2 });
        let row = 4.6 * (i % 2) as f64;
        for (inches, up) in [(begins, true), (ends, false)] {
            let px = x(inches);
            let tip = if up { y - 2.0 - row } else { bottom + 2.0 + row };
            let (from, to) = if up { (tip, bottom) } else { (y, tip) };
            drawing.path(Path::line((px, from), (px, to)), LineType::Thin);
            let words = vec![Word::Length(on_tape(inches))];
            // Beside the mark, to the side where there is room.
            let right = if up { px < STRIP.0 + 16.0 } else { px < STRIP.1 - 16.0 };
            let (side, align) = if right { (0.8, Align::Start) } else { (-0.8, Align::End) };
            let at = (px + side, if up { y - 1.4 - row } else { bottom + 4.2 + row });
            drawing.words(at, align, words);
        }
        let (middle, level) = (f64::midpoint(x(begins), x(ends)), y + STRIP_HEIGHT / 2.0);
        // A narrow bend has its number beside it: on it, it would hide the marks.
        if x(ends) - x(begins) < NUMBERED {
            drawing.text((x(ends) + 1.0, level + 1.2), Align::Start, (i + 1).to_string());
        } else {
            drawing.marks.push(Mark::Cover(Path::circle((middle, level), 2.3)));
            drawing.text((middle, level + 1.2), Align::Middle, (i + 1).to_string());
        }
    }
    drawing.text((STRIP.0 - 3.5, y + STRIP_HEIGHT / 2.0 + 1.2), Align::End, "A");
    drawing.text((STRIP.1 + 3.5, y + STRIP_HEIGHT / 2.0 + 1.2), Align::Start, "B");
    let away = 6.0 + 4.6 * rows;
    drawing.marks.push(Mark::Level {
        from: (STRIP.0, bottom),
        to: (STRIP.1, bottom),
        away,
        arrows: ArrowSide::Inside,
        words: vec![Word::Length(on_tape(piece.flat.length)), Word::text(" laid out flat")],
    });
    bottom + away + 4.0
}

fn says(piece: &BentPiece, units: UnitStyle) -> String {
    let length = |l: Length| plain(&l.pieces(units));
    let mut out =
        format!("{} bent, and laid out flat: {} long.", piece.part.number.value, length(on_tape(piece.flat.length)));
    for (i, bend) in piece.bends.iter().enumerate() {
        let (begins, ends) = piece.flat.bends[i];
        out.push_str(&format!(
            " Bend {} turns through {} about an inside radius of {}, from {} to {} from end A.",
            i + 1,
            bend.angle,
            length(bend.inside_radius),
            length(on_tape(begins)),
            length(on_tape(ends))
        ));
    }
    let legs: Vec<_> = piece.legs.iter().map(|&l| length(l)).collect();
    out.push_str(&format!(" The legs along the outside are {}.", legs.join(", ")));
    out
}
