//! Hatches: lines across an area, cut to its outline.

use super::path::{Path, PathSegment};
use super::scene::Point;

/// Most lines of one hatch; an area that would need more is left with these.
const MOST: i64 = 4000;

/// Lines at an angle, `gap` apart, inside a polygon of any shape (even-odd). The lines of areas side by side meet:
/// they are counted from the paper's corner.
pub(super) fn lines(area: &[Point], degrees: f64, gap: f64) -> Path {
    let angle = degrees.to_radians();
    // y is down on paper.
    let (dx, dy) = (libm::cos(angle), -libm::sin(angle));
    let across = |p: Point| -p.0 * dy + p.1 * dx;
    let along = |p: Point| p.0 * dx + p.1 * dy;
    let low = area.iter().map(|&p| across(p)).fold(f64::INFINITY, f64::min);
    let high = area.iter().map(|&p| across(p)).fold(f64::NEG_INFINITY, f64::max);
    let mut out = Vec::new();
    if gap <= 0.0 || !low.is_finite() || !high.is_finite() {
        return Path(out);
    }
    let first = (low / gap).ceil() as i64;
    for i in first..first + MOST {
        let c = i as f64 * gap;
        if c > high {
            break;
        }
        let mut cuts: Vec<f64> = Vec::new();
        for (k, &p) in area.iter().enumerate() {
            let q = area[(k + 1) % area.len()];
            let (a, b) = (across(p), across(q));
            if (a <= c) != (b <= c) {
                cuts.push(along(p) + (along(q) - along(p)) * (c - a) / (b - a));
            }
        }
        cuts.sort_by(f64::total_cmp);
        for pair in cuts.chunks_exact(2) {
            let point = |s: f64| (s * dx - c * dy, s * dy + c * dx);
            out.push(PathSegment::Move(point(pair[0])));
            out.push(PathSegment::Line(point(pair[1])));
        }
    }
    Path(out)
}
