//! Lettering of a drawing made larger, so that it can be read however small the drawing is printed.
//!
//! Owns: the change to the drawing's operations. Must not know: where it is printed.

use super::drawing::{Letters, Op, Vector};

/// The least size of a drawing's lettering in print, in points.
pub const LEAST_LETTERS: f64 = 7.5;
/// The same in a grey print, which is read on the bench from further away.
pub const LEAST_LETTERS_GREY: f64 = 8.0;

/// How much larger lettering is made at most: what is larger would run into what is beside it.
pub const MOST_LARGER: f64 = 1.7;

/// Makes the lettering of a drawing at least so large, in the drawing's units, each text from the point that it is set from; none
/// more than [`MOST_LARGER`] times.
pub fn letter_anew(vector: &mut Vector, least: f64) {
    anew(&mut vector.ops, 1.0, least);
}

/// The size of the smallest lettering, in the drawing's units.
pub fn smallest_letters(vector: &Vector) -> Option<f64> {
    smallest(&vector.ops, 1.0)
}

/// How much larger a matrix makes things.
pub(super) fn scale_of(m: &[f64; 6]) -> f64 {
    (m[0] * m[3] - m[1] * m[2]).abs().sqrt()
}

fn anew(ops: &mut [Op], scale: f64, least: f64) {
    for op in ops {
        let Op::Group { matrix, lettering, ops, .. } = op else { continue };
        let scale = scale * scale_of(matrix);
        let Some(Letters { size, at }) = *lettering else {
            anew(ops, scale, least);
            continue;
        };
        let larger = (least / (size * scale).max(1e-9)).min(MOST_LARGER);
        if larger > 1.0 {
            // First larger from its point, then as the group places it.
            let (dx, dy) = (at.0 * (1.0 - larger), at.1 * (1.0 - larger));
            let [a, b, c, d, e, f] = *matrix;
            *matrix = [a * larger, b * larger, c * larger, d * larger, a * dx + c * dy + e, b * dx + d * dy + f];
        }
    }
}

fn smallest(ops: &[Op], scale: f64) -> Option<f64> {
    let each = |op: &Op| {
        let Op::Group { matrix, lettering, ops, .. } = op else { return None };
        let scale = scale * scale_of(matrix);
        lettering.map_or_else(|| smallest(ops, scale), |letters| Some(letters.size * scale))
    };
    ops.iter().filter_map(each).reduce(f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::{Drawing, FigureFile, FigureKind, drawing};

    fn read(inside: &str) -> Vector {
        let text = format!("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"400\" height=\"200\">{inside}</svg>");
        let file = FigureFile {
            name: "a.svg".into(),
            kind: FigureKind::Svg,
            width: 400,
            height: 200,
            bytes: text.into_bytes().into(),
        };
        match drawing(&file) {
            Ok(Drawing::Vector(vector)) => vector,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn small_letters_grow_from_their_point_and_large_ones_stay() {
        let text = |size: u32| {
            format!(
                "<g transform=\"scale(2)\"><text x=\"50\" y=\"40\" text-anchor=\"middle\" font-size=\"{size}\">14</text></g>"
            )
        };
        let mut small = read(&text(5));
        assert_eq!(smallest_letters(&small).map(|size| size.round()), Some(10.0));
        letter_anew(&mut small, 12.0);
        assert!((smallest_letters(&small).unwrap() - 12.0).abs() < 1e-6);
        // No more than that.
        letter_anew(&mut small, 40.0);
        assert!((smallest_letters(&small).unwrap() - 12.0 * MOST_LARGER).abs() < 1e-6);
        let mut large = read(&text(9));
        letter_anew(&mut large, 12.0);
        assert!((smallest_letters(&large).unwrap() - 18.0).abs() < 1e-6);
        assert_eq!(smallest_letters(&read("<path d=\"M0 0H9\" stroke=\"#000\"/>")), None);
    }

    #[test]
    fn a_text_grows_to_both_sides_of_its_middle() {
        let middle = |vector: &Vector| {
            let Some(Op::Group { matrix, ops, .. }) = vector.ops.first() else { panic!("{:?}", vector.ops) };
            let Some(Op::Group { lettering: Some(letters), matrix: inner, .. }) = ops.first() else {
                panic!("{ops:?}")
            };
            let at = |m: &[f64; 6], (x, y): (f64, f64)| (m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]);
            at(matrix, at(inner, letters.at))
        };
        let mut text = read(
            "<g transform=\"translate(7 9)\"><text x=\"50\" y=\"40\" text-anchor=\"middle\" font-size=\"10\">14</text></g>",
        );
        let before = middle(&text);
        letter_anew(&mut text, 13.0);
        let after = middle(&text);
        assert!((before.0 - after.0).abs() < 1e-6 && (before.1 - after.1).abs() < 1e-6, "{before:?} {after:?}");
    }
}
