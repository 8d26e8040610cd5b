//! What is printed of a drawing, as bytes: two drawings that print the same give the same bytes.

use super::path::{Path, PathSegment};
use super::scene::{Drawing, Mark, Point, Text, Word, plain_words};
use crate::units::UnitStyle;

/// Places are told apart in steps of a micrometre: finer than any printer, and coarser than what rounding leaves.
const STEPS: f64 = 1000.0;

struct Writer<'a> {
    out: &'a mut Vec<u8>,
    units: UnitStyle,
}

impl Drawing {
    /// Appends what is printed of it. Values count as they are shown in `units`.
    pub fn push_bytes(&self, units: UnitStyle, out: &mut Vec<u8>) {
        let Self { width, height, marks, alt, full_size } = self;
        let mut w = Writer { out, units };
        w.numbers(&[*width, *height]);
        w.tag(u8::from(*full_size));
        w.text(alt);
        marks.iter().for_each(|mark| w.mark(mark));
    }
}

impl Writer<'_> {
    fn tag(&mut self, tag: u8) {
        self.out.push(tag);
    }

    fn numbers(&mut self, all: &[f64]) {
        for number in all {
            self.out.extend(((number * STEPS).round() as i64).to_le_bytes());
        }
    }

    fn text(&mut self, text: &str) {
        self.out.extend((text.len() as u64).to_le_bytes());
        self.out.extend(text.as_bytes());
    }

    fn words(&mut self, words: &[Word]) {
        let text = plain_words(words, self.units);
        self.text(&text);
    }

    fn points(&mut self, points: &[Point]) {
        self.out.extend((points.len() as u64).to_le_bytes());
        points.iter().for_each(|p| self.numbers(&[p.0, p.1]));
    }

    fn path(&mut self, path: &Path) {
        for segment in &path.0 {
            match segment {
                PathSegment::Move(p) => (self.tag(1), self.points(&[*p])),
                PathSegment::Line(p) => (self.tag(2), self.points(&[*p])),
                PathSegment::Curve(a, b, c) => (self.tag(3), self.points(&[*a, *b, *c])),
                PathSegment::Close => (self.tag(4), ()),
            };
        }
    }

    fn mark(&mut self, mark: &Mark) {
        match mark {
            Mark::Path(path, line) => {
                self.tag(10);
                self.tag(*line as u8);
                self.path(path);
            }
            Mark::Cover(path) => {
                self.tag(11);
                self.path(path);
            }
            Mark::Solid(path) => {
                self.tag(12);
                self.path(path);
            }
            Mark::Hatch { area, degrees, gap } => {
                self.tag(13);
                self.points(area);
                self.numbers(&[*degrees, *gap]);
            }
            Mark::Text(Text { at, align, size, bold, words }) => {
                self.tag(14);
                self.numbers(&[at.0, at.1, *size]);
                self.tag(*align as u8);
                self.tag(u8::from(*bold));
                self.words(words);
            }
            Mark::Level { from, to, away, arrows, words } | Mark::Upright { from, to, away, arrows, words } => {
                self.tag(if matches!(mark, Mark::Level { .. }) { 15 } else { 16 });
                self.numbers(&[from.0, from.1, to.0, to.1, *away]);
                self.tag(*arrows as u8);
                self.words(words);
            }
            Mark::Arc { centre, radius, from, to, words } => {
                self.tag(17);
                self.numbers(&[centre.0, centre.1, *radius, *from, *to]);
                self.words(words);
            }
            Mark::Leader { to, from, words } => {
                self.tag(18);
                self.numbers(&[to.0, to.1, from.0, from.1]);
                self.words(words);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Align, LineType};
    use crate::units::Length;

    #[test]
    fn what_prints_the_same_gives_the_same_bytes_and_nothing_else_does() {
        let bytes = |change: &dyn Fn(&mut Drawing), units| {
            let mut drawing = Drawing::new(40.0, 20.0, "A line");
            drawing.path(Path::line((0.0, 0.0), (10.0, 0.0)), LineType::Thick);
            drawing.words((1.0, 2.0), Align::Start, vec![Word::Length(Length::inches(1, 1))]);
            change(&mut drawing);
            let mut out = Vec::new();
            drawing.push_bytes(units, &mut out);
            out
        };
        let style = UnitStyle::InchFraction;
        let as_it_is = bytes(&|_| (), style);
        assert_eq!(as_it_is, bytes(&|d| d.width += 1e-9, style));
        assert_ne!(as_it_is, bytes(&|_| (), UnitStyle::Millimetre));
        let others: [&dyn Fn(&mut Drawing); 4] =
            [&|d| d.width += 0.1, &|d| d.alt = "Another".into(), &|d| d.marks.truncate(1), &|d| {
                d.marks[0] = Mark::Path(Path::line((0.0, 0.0), (10.0, 0.0)), LineType::Thin)
            }];
        assert!(others.iter().all(|other| bytes(other, style) != as_it_is));
    }
}
