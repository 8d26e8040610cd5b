//! What a drawing loses when it is printed in grey: colours that become one, faint lines and letters, lines too thin.
//!
//! Owns: finding it in drawing operations, with what lies under each line and letter. Must not know: steps, settings.

use super::colours::contrast;
use super::drawing::{FillRule, Op, PathPart, Vector};
use super::hatch::{Coloured, middle, toward};
use super::lettering::{scale_of, smallest_letters};
use super::limits::MOST_GREY_STEPS;

/// What grey does to a drawing.
#[derive(Clone, Debug, Default)]
pub struct Greyed {
    pub coloured: Coloured,
    /// The faintest line and the faintest lettering, where either is fainter than it may be.
    pub faint: Vec<Faint>,
    /// The thinnest line, as a share of the drawing's width.
    pub thinnest: Option<f64>,
    /// The smallest lettering, as a share of the drawing's width.
    pub smallest: Option<f64>,
}

/// A line or a letter that hardly stands out from what is under it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Faint {
    pub lettering: bool,
    pub color: u32,
    pub ground: u32,
    /// WCAG 2.2 contrast ratio.
    pub contrast: f64,
}

impl Faint {
    /// A colour of the same kind that stands out enough: darker on a light ground, lighter on a dark one.
    pub fn suggestion(&self, least: f64) -> u32 {
        let to = if contrast(self.ground, 0) > contrast(self.ground, WHITE) { 0 } else { WHITE };
        // A little more than asked for, so that rounding does not undo it.
        toward(self.color, to, |c| contrast(c, self.ground) >= least + 0.02).unwrap_or(to)
    }
}

/// WCAG 2.2, 1.4.3: the least contrast of text.
pub const LEAST_LETTERING: f64 = 4.5;
/// WCAG 2.2, 1.4.11: the least contrast of what must be seen to understand a graphic.
pub const LEAST_LINE: f64 = 3.0;

const WHITE: u32 = 0xFF_FF_FF;

/// Looks through a drawing.
pub fn greyed(vector: &Vector) -> Greyed {
    let mut look = Look { width: vector.width, grounds: Vec::new(), found: Greyed::default(), left: MOST_GREY_STEPS };
    look.found.coloured = Coloured::of(vector);
    look.ops(&vector.ops, [1.0, 0.0, 0.0, 1.0, 0.0, 0.0], 1.0, false);
    look.found.smallest = smallest_letters(vector).map(|size| size / vector.width.max(1e-6));
    look.found
}

/// What was painted, as polygons in the drawing's space.
struct Ground {
    bounds: Bounds,
    rings: Vec<Vec<(f64, f64)>>,
    shape: Shape,
    color: u32,
}

enum Shape {
    Area(FillRule),
    /// A line of half this width.
    Line(f64),
}

/// Left, top, right and bottom of a shape.
#[derive(Clone, Copy)]
struct Bounds([f64; 4]);

impl Bounds {
    /// Of points with so much room around them.
    fn of<'a>(points: impl Iterator<Item = &'a (f64, f64)>, room: f64) -> Self {
        let [left, top, right, bottom] = points.fold([f64::MAX, f64::MAX, f64::MIN, f64::MIN], |b, p| {
            [b[0].min(p.0), b[1].min(p.1), b[2].max(p.0), b[3].max(p.1)]
        });
        Self([left - room, top - room, right + room, bottom + room])
    }

    fn meets(self, other: Self) -> bool {
        self.0[0] <= other.0[2] && other.0[0] <= self.0[2] && self.0[1] <= other.0[3] && other.0[1] <= self.0[3]
    }
}

impl Ground {
    fn new(rings: Vec<Vec<(f64, f64)>>, shape: Shape, color: u32) -> Self {
        let room = match shape {
            Shape::Area(_) => 0.0,
            Shape::Line(half) => half,
        };
        Self { bounds: Bounds::of(rings.iter().flatten(), room), rings, shape, color }
    }

    /// Whether it lies under a point of something so wide: a line that is no wider is crossed, and is no ground.
    fn holds(&self, at: (f64, f64), width: f64) -> bool {
        match self.shape {
            Shape::Area(rule) => holds(&self.rings, rule, at),
            Shape::Line(half) if half * 2.0 < width * 1.1 => false,
            Shape::Line(half) => self.rings.iter().flat_map(|r| r.windows(2)).any(|w| distance(at, w[0], w[1]) <= half),
        }
    }
}

/// How far a point is from a straight piece of a line.
fn distance(p: (f64, f64), a: (f64, f64), b: (f64, f64)) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let t = (((p.0 - a.0) * dx + (p.1 - a.1) * dy) / (dx * dx + dy * dy).max(1e-12)).clamp(0.0, 1.0);
    (p.0 - a.0 - t * dx).hypot(p.1 - a.1 - t * dy)
}

struct Look {
    width: f64,
    grounds: Vec<Ground>,
    found: Greyed,
    /// How many steps are left: what comes after them in a drawing of very many lines is not looked at.
    left: u64,
}

type Matrix = [f64; 6];

fn apply(m: &Matrix, (x, y): (f64, f64)) -> (f64, f64) {
    (m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5])
}

fn within(outer: &Matrix, inner: &Matrix) -> Matrix {
    let (a, b) = (apply(outer, (inner[0], inner[1])), apply(outer, (inner[2], inner[3])));
    let zero = apply(outer, (0.0, 0.0));
    let at = apply(outer, (inner[4], inner[5]));
    [a.0 - zero.0, a.1 - zero.1, b.0 - zero.0, b.1 - zero.1, at.0, at.1]
}

impl Look {
    fn ops(&mut self, ops: &[Op], matrix: Matrix, opacity: f64, lettering: bool) {
        for (i, op) in ops.iter().enumerate() {
            match op {
                Op::Group { matrix: inner, ops, opacity: own, lettering: letters, .. } => {
                    self.ops(ops, within(&matrix, inner), opacity * own, lettering || letters.is_some());
                }
                Op::Fill { path, rule, paint, opacity: own } => {
                    let rings = rings(path, &matrix);
                    if lettering {
                        self.judge(middle(paint), opacity * own, &rings, f64::INFINITY);
                    } else if opacity * own > 0.5 {
                        self.grounds.push(Ground::new(rings, Shape::Area(*rule), middle(paint)));
                    }
                }
                Op::Stroke { path, color, opacity: own, look } => {
                    let scale = scale_of(&matrix);
                    let share = look.width * scale / self.width.max(1e-6);
                    if share > 0.0 && !lettering {
                        self.found.thinnest = Some(self.found.thinnest.map_or(share, |t| t.min(share)));
                    }
                    // The edge of an area may be as faint as it likes: the area is what is seen.
                    let edge = i > 0 && matches!(&ops[i - 1], Op::Fill { path: filled, .. } if filled == path);
                    let rings = rings(path, &matrix);
                    if !edge && !lettering {
                        self.judge(*color, opacity * own, &rings, look.width * scale);
                    }
                    if opacity * own > 0.5 {
                        self.grounds.push(Ground::new(rings, Shape::Line(look.width * scale / 2.0), *color));
                    }
                }
                Op::Raster { .. } => {}
            }
        }
    }

    /// Notes a colour that is too faint on most of what is under it: of a line of a width, or of letters (no width).
    fn judge(&mut self, color: u32, opacity: f64, rings: &[Vec<(f64, f64)>], width: f64) {
        let least = if width.is_finite() { LEAST_LINE } else { LEAST_LETTERING };
        let points: Vec<(f64, f64)> = rings.iter().flat_map(|ring| middles(ring)).collect();
        let bounds = Bounds::of(points.iter(), 0.0);
        let grounds: Vec<&Ground> = self.grounds.iter().filter(|g| g.bounds.meets(bounds)).collect();
        let corners: usize = grounds.iter().flat_map(|g| &g.rings).map(Vec::len).sum();
        self.left = self.left.saturating_sub(self.grounds.len() as u64 + (corners * points.len()) as u64);
        if self.left == 0 {
            return;
        }
        // What lies along a wider line is that line's shading, and the wider one is judged by itself.
        let shading = |&at: &(f64, f64)| {
            let under = grounds.iter().rev().find(|g| g.holds(at, width));
            under.is_some_and(|g| matches!(g.shape, Shape::Line(_)))
        };
        if points.is_empty() || opacity < 0.05 || points.iter().filter(|p| shading(p)).count() * 2 > points.len() {
            return;
        }
        let mut seen: Vec<Faint> = points
            .iter()
            .map(|&at| {
                let ground = grounds.iter().rev().find(|g| g.holds(at, f64::INFINITY)).map_or(WHITE, |g| g.color);
                let color = mixed(color, ground, opacity);
                Faint { lettering: !width.is_finite(), color, ground, contrast: contrast(color, ground) }
            })
            .collect();
        seen.sort_by(|a, b| a.contrast.total_cmp(&b.contrast));
        let Some(&half) = seen.get(seen.len() / 2).filter(|half| half.contrast < least) else { return };
        match self.found.faint.iter_mut().find(|f| f.lettering == half.lettering) {
            Some(known) if known.contrast <= half.contrast => {}
            Some(known) => *known = half,
            None => self.found.faint.push(half),
        }
    }
}

/// A colour through which its ground shines.
fn mixed(color: u32, ground: u32, opacity: f64) -> u32 {
    let part = |shift: u32| {
        let channel = |c: u32| f64::from((c >> shift) & 0xFF);
        ((channel(color) * opacity + channel(ground) * (1.0 - opacity)).round() as u32) << shift
    };
    part(16) | part(8) | part(0)
}

/// A path as closed or open polygons. Curves are followed in eight steps.
fn rings(path: &[PathPart], matrix: &Matrix) -> Vec<Vec<(f64, f64)>> {
    let mut rings: Vec<Vec<(f64, f64)>> = Vec::new();
    let mut at = (0.0, 0.0);
    for part in path {
        match *part {
            PathPart::Move(x, y) => {
                rings.push(vec![apply(matrix, (x, y))]);
                at = (x, y);
            }
            PathPart::Line(x, y) => {
                rings.last_mut().into_iter().for_each(|r| r.push(apply(matrix, (x, y))));
                at = (x, y);
            }
            PathPart::Curve(x1, y1, x2, y2, x, y) => {
                for n in 1..=8 {
                    let t = f64::from(n) / 8.0;
                    let s = 1.0 - t;
                    let mix = |a: f64, b: f64, c: f64, d: f64| {
                        s * s * s * a + 3.0 * s * s * t * b + 3.0 * s * t * t * c + t * t * t * d
                    };
                    let point = (mix(at.0, x1, x2, x), mix(at.1, y1, y2, y));
                    rings.last_mut().into_iter().for_each(|r| r.push(apply(matrix, point)));
                }
                at = (x, y);
            }
            PathPart::Close => {
                if let Some(ring) = rings.last_mut() {
                    ring.extend(ring.first().copied());
                }
            }
        }
    }
    rings
}

/// Points in the middle of some of a line's pieces.
fn middles(ring: &[(f64, f64)]) -> impl Iterator<Item = (f64, f64)> {
    let step = ring.len().div_ceil(12).max(1);
    ring.windows(2).step_by(step).map(|w| ((w[0].0 + w[1].0) / 2.0, (w[0].1 + w[1].1) / 2.0))
}

fn holds(rings: &[Vec<(f64, f64)>], rule: FillRule, (x, y): (f64, f64)) -> bool {
    let mut winding = 0;
    for ring in rings {
        let closing = ring.last().copied().into_iter().chain(ring.iter().copied()).zip(ring.iter().copied());
        for ((x1, y1), (x2, y2)) in closing {
            if (y1 <= y) != (y2 <= y) && x < x1 + (y - y1) / (y2 - y1) * (x2 - x1) {
                winding += if y2 > y1 { 1 } else { -1 };
            }
        }
    }
    if rule == FillRule::EvenOdd { winding % 2 != 0 } else { winding != 0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::vector;

    fn look(inside: &str) -> Greyed {
        let svg = format!("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"100\" height=\"100\">{inside}</svg>");
        greyed(&vector::read(svg.as_bytes()).unwrap())
    }

    /// Contrast ratios as coloraide 4 gives them (`contrast(method="wcag21")`).
    #[test]
    fn a_faint_line_is_found_on_what_is_under_it() {
        let line =
            |color: &str| format!("<path d=\"M20 20L60 60\" fill=\"none\" stroke=\"{color}\" stroke-width=\"2\"/>");
        let on_dark = "<rect width=\"100\" height=\"100\" fill=\"#00305a\"/>";
        assert!(look(&line("#949494")).faint.is_empty(), "3.03 to 1");
        let faint = look(&line("#969696")).faint;
        assert!((faint[0].contrast - 2.96).abs() < 0.01 && !faint[0].lettering, "{faint:?}");
        assert!(look(&format!("{on_dark}{}", line("#c0c0c0"))).faint.is_empty());
        let faint = look(&format!("{on_dark}{}", line("#333333"))).faint;
        assert_eq!((faint.len(), faint[0].ground), (1, 0x00_30_5A));
        // Half through: #808080 on white is seen as #c0c0c0, 1.82 to 1.
        let through = look("<path d=\"M20 20L60 60\" fill=\"none\" stroke=\"#808080\" opacity=\"0.5\"/>").faint;
        assert!((through[0].contrast - 1.82).abs() < 0.02, "{through:?}");
    }

    #[test]
    fn a_light_line_on_a_wider_dark_one_is_seen() {
        let line = |color: &str, width: u8| {
            format!("<path d=\"M20 20L60 60\" fill=\"none\" stroke=\"{color}\" stroke-width=\"{width}\"/>")
        };
        assert!(look(&format!("{}{}", line("#333", 8), line("#eee", 4))).faint.is_empty());
        assert!(look(&format!("{}{}", line("#333", 2), line("#333", 2))).faint.is_empty(), "lines may meet");
        assert_eq!(look(&format!("{}{}", line("#eee", 4), line("#333", 8))).faint.len(), 1);
    }

    #[test]
    fn letters_need_more_than_lines_and_edges_nothing() {
        let text = "<text x=\"10\" y=\"50\" font-size=\"20\" fill=\"#808080\">Cable</text>";
        let faint = look(text).faint;
        assert!(faint[0].lettering && (faint[0].contrast - 3.95).abs() < 0.01, "{faint:?}");
        assert!(look(&text.replace("808080", "707070")).faint.is_empty());
        assert!(look("<rect width=\"40\" height=\"40\" fill=\"#eee\" stroke=\"#ddd\"/>").faint.is_empty());
    }

    #[test]
    fn the_thinnest_line_counts_as_it_is_drawn() {
        let thin = "<g transform=\"scale(0.5)\"><path d=\"M0 0L90 90\" stroke=\"#000\" stroke-width=\"1\" fill=\"none\"/></g>\
            <path d=\"M0 0L90 90\" stroke=\"#000\" stroke-width=\"3\" fill=\"none\"/>";
        assert!((look(thin).thinnest.unwrap() - 0.005).abs() < 1e-6);
        assert_eq!(look("<rect width=\"4\" height=\"4\"/>").thinnest, None);
    }
}
