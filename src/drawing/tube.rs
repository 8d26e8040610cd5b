//! A piece of tube as it is cut: side view with break lines, both ends as seen, angles, lengths, clock marks.

use super::path::Path;
use super::scene::{Align, ArrowSide, Drawing, LineType, Mark, Point, Word};
use crate::geometry::EndCut;
use crate::plan::{EndWork, TubePiece, on_tape};
use crate::units::{Clock, Length, UnitStyle, plain};

/// Size of the sheet, millimetres.
const WIDTH: f64 = 144.0;
const HEIGHT: f64 = 60.0;
/// The axis of the tube.
const AXIS: f64 = 29.0;
/// Tube diameter on paper, and most for a main tube's radius.
const TUBE: f64 = 16.0;
const MAIN: f64 = 12.0;
/// Centres of the end views, from the left and the right edge.
const END_VIEW: f64 = 13.0;
/// Half of what is drawn of a main tube.
const MAIN_HALF: f64 = 13.0;
/// Whole tube that is shown between the ends at least.
const BETWEEN: f64 = 15.0;
/// Steps around the tube.
const STEPS: usize = 96;

/// The drawing of a piece. `units` are for its words to those who can't see it.
pub fn tube_piece(piece: &TubePiece, units: UnitStyle) -> Drawing {
    let mut sheet = TubeSheet::new(piece, units);
    sheet.outline();
    for end in [End::A, End::B] {
        sheet.main_tube(end);
        sheet.angle(end);
        sheet.end_view(end);
    }
    sheet.lengths();
    sheet.drawing
}

/// Whether the shortest line of a piece is one of the two that its drawing measures.
pub fn draws_shortest(piece: &TubePiece) -> bool {
    let top = top_line(piece);
    [0.0, 180.0].iter().any(|around| piece.piece.line(top + around) - piece.lines.shortest < 0.001)
}

/// The line that is on top in the drawing, degrees clockwise looking at end A: the long point of end A, else that of end B.
fn top_line(piece: &TubePiece) -> f64 {
    match (long_point(&piece.ends[0]), long_point(&piece.ends[1])) {
        (Some(a), _) => f64::from(a.hour() % 12) * 30.0,
        (None, Some(b)) => f64::from(b.from_other_end().hour() % 12) * 30.0,
        (None, None) => 0.0,
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum End {
    A,
    B,
}

struct TubeSheet<'a> {
    drawing: Drawing,
    piece: &'a TubePiece<'a>,
    /// Millimetres of paper to an inch, across and near the ends also along.
    scale: f64,
    /// Where the outermost points of the two ends are.
    left: f64,
    right: f64,
    /// The line of the tube that is on top, degrees clockwise looking at end A.
    top: f64,
    /// Whether the middle is left out.
    broken: bool,
}

impl<'a> TubeSheet<'a> {
    fn new(piece: &'a TubePiece<'a>, units: UnitStyle) -> Self {
        let diameter = piece.outside_diameter.to_f64();
        let largest = piece.ends.iter().filter_map(|e| e.main_diameter).map(|d| d.to_f64() / 2.0).fold(0.0, f64::max);
        let scale = if largest > 0.0 { (TUBE / diameter).min(MAIN / largest) } else { TUBE / diameter };
        let room = |end: &EndWork| if end.main_diameter.is_some() { 46.0 } else { 33.0 };
        let (left, right) = (room(&piece.ends[0]), WIDTH - room(&piece.ends[1]));
        // Both ends must have room, with a stretch of whole tube between them.
        let deep: f64 = piece.ends.iter().map(|e| deepest(&e.geometry)).sum();
        let scale = if deep > 0.0 { scale.min((right - left - BETWEEN) / deep) } else { scale };
        let whole = piece.overall.to_f64() * scale;
        let broken = whole > right - left;
        let top = top_line(piece);
        let drawing = Drawing::new(WIDTH, HEIGHT, says(piece, units));
        Self { drawing, piece, scale, left, right: if broken { right } else { left + whole }, top, broken }
    }

    /// A point of an end's edge; `around` is degrees from the top line, towards the reader first.
    fn edge(&self, end: End, around: f64) -> Point {
        let degrees = self.top + around;
        let y = AXIS - self.piece.outside_diameter.to_f64() / 2.0 * libm::cos(around.to_radians()) * self.scale;
        let x = match end {
            End::A => self.left + self.piece.ends[0].geometry.taken_off(degrees) * self.scale,
            End::B => self.right - self.piece.ends[1].geometry.taken_off(-degrees) * self.scale,
        };
        (x, y)
    }

    fn outline(&mut self) {
        let radius = self.piece.outside_diameter.to_f64() / 2.0 * self.scale;
        for end in [End::A, End::B] {
            let half = |from: f64| -> Vec<Point> {
                (0..=STEPS).map(|i| self.edge(end, from + 180.0 * i as f64 / STEPS as f64)).collect()
            };
            let (front, back) = (half(0.0), half(180.0));
            let apart = front.iter().zip(back.iter().rev()).any(|(f, b)| (f.0 - b.0).abs() > 0.2);
            if apart {
                self.drawing.path(Path::through(&back), LineType::Hidden);
            }
            self.drawing.path(Path::through(&front), LineType::Thick);
        }
        // The break lies where the tube is whole.
        let whole = |end: usize| deepest(&self.piece.ends[end].geometry) * self.scale;
        let middle = f64::midpoint(self.left + whole(0), self.right - whole(1));
        for around in [0.0, 180.0] {
            let (a, b) = (self.edge(End::A, around), self.edge(End::B, around));
            if self.broken {
                self.drawing.path(Path::line(a, (middle - 1.5, a.1)), LineType::Thick);
                self.drawing.path(Path::line((middle + 1.5, b.1), b), LineType::Thick);
            } else {
                self.drawing.path(Path::line(a, b), LineType::Thick);
            }
        }
        if self.broken {
            for x in [middle - 1.5, middle + 1.5] {
                // A thin line with a zigzag: a part is left out.
                let points = [
                    (x, AXIS - radius - 2.0),
                    (x, AXIS - 2.0),
                    (x - 1.0, AXIS - 1.0),
                    (x + 1.0, AXIS + 1.0),
                    (x, AXIS + 2.0),
                    (x, AXIS + radius + 2.0),
                ];
                self.drawing.path(Path::through(&points), LineType::Thin);
            }
        }
        self.drawing.path(Path::line((self.left - 3.0, AXIS), (self.right + 3.0, AXIS)), LineType::Centre);
    }

    /// The tube that a saddle meets, where its axis lies in the plane of the drawing.
    fn main_tube(&mut self, end: End) {
        let work = &self.piece.ends[end as usize];
        let (EndCut::Saddle { cut, .. }, Some(main), Some(up)) =
            (work.geometry, work.main_diameter, self.long_point_up(end))
        else {
            return;
        };
        let Some(angle) = work.cut.and_then(|c| c.angle) else { return };
        let reach = cut.outer_extremes().0.distance * self.scale;
        let way = if end == End::A { 1.0 } else { -1.0 };
        let centre = (if end == End::A { self.left - reach } else { self.right + reach }, AXIS);
        let side = if up { 1.0 } else { -1.0 };
        let (sin, cos) = (libm::sin(angle.value.to_f64().to_radians()), libm::cos(angle.value.to_f64().to_radians()));
        // Towards the acute side; y is down on paper.
        let along = (cos * way, sin * side);
        let across = (along.1 * way * side, -along.0 * way * side);
        let at = |u: f64, v: f64| (centre.0 + along.0 * u + across.0 * v, centre.1 + along.1 * u + across.1 * v);
        let radius = main.to_f64() / 2.0 * self.scale;
        for v in [-radius, radius] {
            self.drawing.path(Path::line(at(-MAIN_HALF, v), at(MAIN_HALF, v)), LineType::Beside);
        }
        self.drawing.path(Path::line(at(-MAIN_HALF - 2.0, 0.0), at(MAIN_HALF + 2.0, 0.0)), LineType::Centre);
    }

    /// Whether the long point of an end is on top (or below); none where it is on neither edge of the view.
    fn long_point_up(&self, end: End) -> Option<bool> {
        let clock = long_point(&self.piece.ends[end as usize])?;
        let seen_from_a = if end == End::A { clock } else { clock.from_other_end() };
        let around = (f64::from(seen_from_a.hour() % 12) * 30.0 - self.top).rem_euclid(360.0);
        if around == 0.0 {
            Some(true)
        } else if around == 180.0 {
            Some(false)
        } else {
            None
        }
    }

    fn angle(&mut self, end: End) {
        let work = &self.piece.ends[end as usize];
        let (Some(up), Some(angle)) = (self.long_point_up(end), work.cut.and_then(|c| c.angle)) else { return };
        let degrees = angle.value.to_f64();
        let side = if up { 1.0 } else { -1.0 };
        let (centre, radius, from, to) = match work.geometry {
            EndCut::Mitre { .. } => {
                let tip = self.edge(end, if up { 0.0 } else { 180.0 });
                let radius = self.piece.outside_diameter.to_f64() * self.scale;
                // What the angle is measured from: a square cut through the long point.
                self.drawing.path(Path::line(tip, (tip.0, tip.1 + side * (radius + 2.0))), LineType::Thin);
                let turn = if end == End::A { degrees } else { -degrees };
                let square = -90.0 * side;
                (tip, radius * 0.62, square, square + turn * side)
            }
            EndCut::Saddle { cut, .. } => {
                let reach = cut.outer_extremes().0.distance * self.scale;
                let x = if end == End::A { self.left - reach } else { self.right + reach };
                let (from, to) = if end == End::A { (0.0, -degrees * side) } else { (180.0, 180.0 + degrees * side) };
                ((x, AXIS), 10.5, from, to)
            }
            EndCut::Square => return,
        };
        self.drawing.marks.push(Mark::Arc { centre, radius, from, to, words: Vec::new() });
        // The words stand clear of the tube, whose outline is what is cut.
        let middle = f64::midpoint(from, to).to_radians();
        let on_arc = (centre.0 + radius * libm::cos(middle), centre.1 - radius * libm::sin(middle));
        let below = AXIS + side * (self.piece.outside_diameter.to_f64() / 2.0 * self.scale + 5.0);
        let inward = if end == End::A { 5.0 } else { -5.0 };
        self.drawing.marks.push(Mark::Leader {
            to: on_arc,
            from: (on_arc.0 + inward, below),
            words: vec![Word::Angle(angle.value)],
        });
    }

    /// The end as someone sees it who looks at it: 12 is the datum line.
    fn end_view(&mut self, end: End) {
        let work = &self.piece.ends[end as usize];
        let x = if end == End::A { END_VIEW } else { WIDTH - END_VIEW };
        let radius = TUBE / 2.0;
        let inner = radius * (1.0 - 2.0 * self.piece.wall.to_f64() / self.piece.outside_diameter.to_f64());
        self.drawing.path(Path::circle((x, AXIS), radius), LineType::Thick);
        if inner > 0.0 {
            self.drawing.path(Path::circle((x, AXIS), inner), LineType::Thick);
        }
        for (dx, dy) in [(radius + 2.0, 0.0), (0.0, radius + 2.0)] {
            self.drawing.path(Path::line((x - dx, AXIS - dy), (x + dx, AXIS + dy)), LineType::Centre);
        }
        let around = |hour: f64, r: f64| {
            let angle = (90.0 - hour * 30.0).to_radians();
            (x + r * libm::cos(angle), AXIS - r * libm::sin(angle))
        };
        for hour in [12_u8, 3, 6, 9] {
            let (px, py) = around(f64::from(hour), radius + 3.8);
            self.drawing.text((px, py + 1.2), Align::Middle, hour.to_string());
        }
        if let Some(clock) = long_point(work) {
            let dot = around(f64::from(clock.hour()), radius);
            self.drawing.marks.push(Mark::Solid(Path::circle(dot, 1.3)));
        }
        let letter = if end == End::A { "End A" } else { "End B" };
        self.drawing.text((x, AXIS - radius - 9.0), Align::Middle, letter);
        let kind = match work.geometry {
            EndCut::Square => "square",
            EndCut::Mitre { .. } => "mitre",
            EndCut::Saddle { .. } => "saddle",
        };
        self.drawing.text((x, AXIS + radius + 9.5), Align::Middle, kind);
        if let Some(words) = work.cut.and_then(|c| c.clock_words()) {
            let words = words.replace(" o'clock", "").replace(" at ", " ");
            // What is wider than its place comes in two lines.
            let parted = words.split_once(" to ").map(|(first, rest)| [first.to_owned(), format!("to {rest}")]);
            for (i, line) in parted.map_or_else(|| vec![words.clone()], Vec::from).into_iter().enumerate() {
                self.drawing.text((x, AXIS + radius + 14.0 + 4.5 * i as f64), Align::Middle, line);
            }
        }
    }

    /// The lengths along the top and the bottom line, and overall where neither is.
    fn lengths(&mut self) {
        let lines = [(0.0, -11.0), (180.0, 11.0)]
            .map(|(around, away)| (around, away, self.piece.piece.line(self.top + around)));
        let shown = lines.iter().map(|line| line.2).fold(0.0, f64::max);
        // First, so that the words of a shorter one interrupt its lines.
        if self.piece.overall.to_f64() - shown > 0.001 {
            let low = AXIS + self.piece.outside_diameter.to_f64() / 2.0 * self.scale;
            self.level((self.left, low), (self.right, low), 19.0, self.piece.overall);
        }
        for (around, away, length) in lines {
            self.level(self.edge(End::A, around), self.edge(End::B, around), away, on_tape(length));
        }
    }

    fn level(&mut self, from: Point, to: Point, away: f64, length: Length) {
        let arrows = if to.0 - from.0 < 12.0 { ArrowSide::Outside } else { ArrowSide::Inside };
        self.drawing.marks.push(Mark::Level { from, to, away, arrows, words: self.length_words(length) });
    }

    fn length_words(&self, length: Length) -> Vec<Word> {
        let mut words = vec![Word::Length(length)];
        words.extend(self.piece.bent.then(|| Word::text(" straight")));
        words
    }
}

/// The most that is taken off a square end, inches.
fn deepest(end: &EndCut) -> f64 {
    (0..STEPS).map(|i| end.taken_off(360.0 * i as f64 / STEPS as f64)).fold(0.0, f64::max)
}

fn long_point(end: &EndWork) -> Option<Clock> {
    match end.geometry {
        EndCut::Square => None,
        EndCut::Mitre { long_point, .. } | EndCut::Saddle { long_point, .. } => Some(long_point),
    }
}

/// The drawing in words.
fn says(piece: &TubePiece, units: UnitStyle) -> String {
    let length = |inches: f64| plain(&on_tape(inches).pieces(units));
    let straight = if piece.bent { ", laid out straight" } else { "" };
    let mut out = format!(
        "{} from the side{straight}, {} overall.",
        piece.part.number.value,
        plain(&piece.overall.pieces(units))
    );
    for (letter, end) in ["A", "B"].iter().zip(&piece.ends) {
        let angle = end.cut.and_then(|c| c.angle).map_or_else(String::new, |a| a.value.to_string());
        let clock = end.cut.and_then(|c| c.clock_words()).map_or_else(String::new, |words| format!(", {words}"));
        out.push_str(&match end.geometry {
            EndCut::Square => format!(" End {letter} is square."),
            EndCut::Mitre { .. } => format!(" End {letter} is mitred {angle} off square{clock}."),
            EndCut::Saddle { .. } => format!(" End {letter} is saddled, {angle} between the axes{clock}."),
        });
    }
    out.push_str(&format!(
        " The longest line is {}, the shortest {}.",
        length(piece.lines.longest),
        length(piece.lines.shortest)
    ));
    out
}
