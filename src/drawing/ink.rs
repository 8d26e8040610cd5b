//! Ink: strokes, fills and texts, which is all that a back end has to draw.

use super::dash::dashed;
use super::path::Path;
use super::scene::{Drawing, LineType, Mark, Text};
use super::{dimension, hatch};

/// A shade; there is no other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    Black,
    White,
}

/// Something to draw, in order.
#[derive(Clone, Debug, PartialEq)]
pub enum Ink {
    /// A black line, its width in millimetres.
    Stroke {
        path: Path,
        width: f64,
    },
    Fill {
        path: Path,
        tone: Tone,
    },
    Text(Text),
}

/// Widths of ISO 128-2 for the line group 0.5.
const THICK: f64 = 0.5;
pub(super) const THIN: f64 = 0.25;

impl LineType {
    /// Millimetres.
    pub fn width(self) -> f64 {
        if self == Self::Thick { THICK } else { THIN }
    }

    /// Lengths of dashes and gaps by turns, in line widths: dash 12, long dash 24, gap 3, dot 0.5 (ISO 128-2, from
    /// memory). Empty for a continuous line.
    fn pattern(self) -> &'static [f64] {
        match self {
            Self::Thick | Self::Thin => &[],
            Self::Hidden => &[12.0, 3.0],
            Self::Centre => &[24.0, 3.0, 0.5, 3.0],
            Self::Beside => &[24.0, 3.0, 0.5, 3.0, 0.5, 3.0],
        }
    }
}

impl Drawing {
    /// What is to be drawn, in order.
    pub fn ink(&self) -> Vec<Ink> {
        let mut out = Vec::with_capacity(self.marks.len() * 2);
        for mark in &self.marks {
            match mark {
                Mark::Path(path, line) => stroke(path, *line, &mut out),
                Mark::Cover(path) => out.push(Ink::Fill { path: path.clone(), tone: Tone::White }),
                Mark::Solid(path) => out.push(Ink::Fill { path: path.clone(), tone: Tone::Black }),
                Mark::Hatch { area, degrees, gap } => {
                    out.push(Ink::Stroke { path: hatch::lines(area, *degrees, *gap), width: THIN });
                }
                Mark::Text(text) => out.push(Ink::Text(text.clone())),
                Mark::Level { from, to, away, arrows, words } => {
                    dimension::straight(*from, *to, *away, dimension::DimensionRun::Level, *arrows, words, &mut out);
                }
                Mark::Upright { from, to, away, arrows, words } => {
                    dimension::straight(*from, *to, *away, dimension::DimensionRun::Upright, *arrows, words, &mut out);
                }
                Mark::Arc { centre, radius, from, to, words } => {
                    dimension::angle(*centre, *radius, (*from, *to), words, &mut out);
                }
                Mark::Leader { to, from, words } => dimension::leader(*to, *from, words, &mut out),
            }
        }
        out
    }
}

fn stroke(path: &Path, line: LineType, out: &mut Vec<Ink>) {
    let width = line.width();
    let path = match line.pattern() {
        [] => path.clone(),
        pattern => dashed(path, pattern, width),
    };
    out.push(Ink::Stroke { path, width });
}
