//! The scene: what a drawing is made of before it is ink.

use std::sync::Arc;

use super::path::Path;
use crate::units::{Angle, Length, UnitStyle, plain};

/// Millimetres of paper from the top left corner, y down.
pub type Point = (f64, f64);

/// A drawing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// Millimetres of paper.
    pub width: f64,
    pub height: f64,
    pub marks: Vec<Mark>,
    /// What it shows, in words.
    pub alt: Arc<str>,
    /// It is a template: never made smaller or larger.
    pub full_size: bool,
}

/// Lines of ISO 128-2 in the group with thick lines of 0.5 mm.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineType {
    /// 01.2: visible edges.
    Thick,
    /// 01.1: dimensions, leaders, hatches.
    Thin,
    /// 02.1: hidden edges.
    Hidden,
    /// 04.1: centre lines.
    Centre,
    /// 05.1: parts that are shown beside the one drawn.
    Beside,
}

/// A piece of a text. Values stay values.
#[derive(Clone, Debug, PartialEq)]
pub enum Word {
    Text(Arc<str>),
    Length(Length),
    Angle(Angle),
}

/// Where a text's point is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Align {
    #[default]
    Start,
    Middle,
    End,
}

/// A level line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// On the baseline.
    pub at: Point,
    pub align: Align,
    /// Size of the type, millimetres: about 1.4 times the height of its capitals.
    pub size: f64,
    pub bold: bool,
    pub words: Vec<Word>,
}

/// Where the arrows of a dimension stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ArrowSide {
    /// Between the ends.
    #[default]
    Inside,
    /// Beyond the ends, where there is no room between them; the text stands beyond the second end.
    Outside,
}

/// Something drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    Path(Path, LineType),
    /// White, to cover what lies below.
    Cover(Path),
    /// Solid black.
    Solid(Path),
    /// Thin lines across an area, degrees against the clock from level, a gap in millimetres apart.
    Hatch {
        area: Vec<Point>,
        degrees: f64,
        gap: f64,
    },
    Text(Text),
    /// The distance of two points along a line that is level or upright, drawn `away` from the first (down or right
    /// positive), with extension lines.
    Level {
        from: Point,
        to: Point,
        away: f64,
        arrows: ArrowSide,
        words: Vec<Word>,
    },
    Upright {
        from: Point,
        to: Point,
        away: f64,
        arrows: ArrowSide,
        words: Vec<Word>,
    },
    /// An angle: an arc with arrows, degrees against the clock from the right.
    Arc {
        centre: Point,
        radius: f64,
        from: f64,
        to: f64,
        words: Vec<Word>,
    },
    /// A line from a text to what it speaks of, ending in an arrow on it.
    Leader {
        to: Point,
        from: Point,
        words: Vec<Word>,
    },
}

/// Size of type in drawings, millimetres.
pub(super) const TYPE: f64 = 3.3;

impl Drawing {
    pub fn new(width: f64, height: f64, alt: impl AsRef<str>) -> Self {
        Self { width, height, marks: Vec::new(), alt: alt.as_ref().into(), full_size: false }
    }

    pub fn path(&mut self, path: Path, line: LineType) {
        self.marks.push(Mark::Path(path, line));
    }

    /// Words at a point, in the usual size.
    pub fn words(&mut self, at: Point, align: Align, words: Vec<Word>) {
        self.marks.push(Mark::Text(Text { at, align, size: TYPE, bold: false, words }));
    }

    pub fn text(&mut self, at: Point, align: Align, text: impl AsRef<str>) {
        self.words(at, align, vec![Word::text(text)]);
    }
}

impl Word {
    pub fn text(text: impl AsRef<str>) -> Self {
        Self::Text(text.as_ref().into())
    }
}

/// Words as plain text in the units of a document.
pub fn plain_words(words: &[Word], units: UnitStyle) -> String {
    words
        .iter()
        .map(|word| match word {
            Word::Text(text) => text.to_string(),
            Word::Length(length) => plain(&length.pieces(units)),
            Word::Angle(angle) => angle.to_string(),
        })
        .collect()
}

impl Drawing {
    /// The drawing with every point multiplied, across and down; type and line widths stay.
    pub fn stretched(&self, across: f64, down: f64) -> Self {
        let placed = self.placed(|p| (p.0 * across, p.1 * down), (across, down));
        Self { width: self.width * across, height: self.height * down, ..placed }
    }

    /// The drawing moved right and down.
    pub(super) fn moved(&self, right: f64, down: f64) -> Self {
        self.placed(|p| (p.0 + right, p.1 + down), (1.0, 1.0))
    }

    /// The drawing with every point placed anew, and with what that makes of lengths across and down.
    fn placed(&self, p: impl Fn(Point) -> Point, (across, down): (f64, f64)) -> Self {
        let path = |path: &Path| path.mapped(&p);
        let marks = self
            .marks
            .iter()
            .map(|mark| match mark {
                Mark::Path(of, line) => Mark::Path(path(of), *line),
                Mark::Cover(of) => Mark::Cover(path(of)),
                Mark::Solid(of) => Mark::Solid(path(of)),
                Mark::Hatch { area, degrees, gap } => {
                    Mark::Hatch { area: area.iter().map(|&a| p(a)).collect(), degrees: *degrees, gap: *gap }
                }
                Mark::Text(text) => Mark::Text(Text { at: p(text.at), ..text.clone() }),
                Mark::Level { from, to, away, arrows, words } => {
                    Mark::Level { from: p(*from), to: p(*to), away: away * down, arrows: *arrows, words: words.clone() }
                }
                Mark::Upright { from, to, away, arrows, words } => Mark::Upright {
                    from: p(*from),
                    to: p(*to),
                    away: away * across,
                    arrows: *arrows,
                    words: words.clone(),
                },
                Mark::Arc { centre, radius, from, to, words } => {
                    Mark::Arc { centre: p(*centre), radius: *radius, from: *from, to: *to, words: words.clone() }
                }
                Mark::Leader { to, from, words } => Mark::Leader { to: p(*to), from: p(*from), words: words.clone() },
            })
            .collect();
        Self { marks, alt: self.alt.clone(), ..*self }
    }
}
