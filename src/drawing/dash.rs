//! Dashes, worked out along a path.

use super::path::{Path, PathSegment};

/// The path in dashes; the pattern's dashes and gaps by turns, in line widths.
pub(super) fn dashed(path: &Path, pattern: &[f64], width: f64) -> Path {
    let mut out = Vec::new();
    for run in path.runs() {
        let (mut at, mut left) = (0, pattern[0] * width);
        let mut down = false;
        for pair in run.windows(2) {
            let (from, to) = (pair[0], pair[1]);
            let length = libm::hypot(to.0 - from.0, to.1 - from.1);
            if length <= 0.0 {
                continue;
            }
            let point = |along: f64| {
                let part = along / length;
                (from.0 + (to.0 - from.0) * part, from.1 + (to.1 - from.1) * part)
            };
            let mut along = 0.0;
            while along < length {
                let end = (along + left).min(length);
                if at % 2 == 0 {
                    if !down {
                        out.push(PathSegment::Move(point(along)));
                        down = true;
                    }
                    out.push(PathSegment::Line(point(end)));
                }
                left -= end - along;
                along = end;
                if left <= 1e-9 {
                    at = (at + 1) % pattern.len();
                    left = pattern[at] * width;
                    down = false;
                }
            }
        }
    }
    Path(out)
}
