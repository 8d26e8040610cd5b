//! Templates on paper: a body at full size cut into tiles that fit the page, each with its title, match lines, and the
//! lines to measure before anything is cut.

use super::ink::Ink;
use super::path::{Path, PathSegment};
use super::scene::{Align, Drawing, LineType, Mark, Point, Text, Word};
use super::template::PrintScale;
use crate::units::{Length, Rational, UnitStyle};

const INCH: f64 = 25.4;
/// What two tiles have in common; the match line runs in its middle.
const OVERLAP: f64 = 12.0;
/// How far a match line keeps from a hole to its left, whose length stands beside it, and from one to its right.
const CLEAR: (f64, f64) = (20.0, 13.0);
/// The title and two lines, above; the lines to measure, below, or one of them below and the other beside.
const HEAD: f64 = 17.0;
const FOOT: f64 = 62.0;
const FOOT_BESIDE: f64 = 40.0;
/// Room for the line that stands beside a tile.
const BESIDE: f64 = 12.0;
/// Narrower than this the words would not fit.
const LEAST: f64 = 115.0;

/// What stands on every sheet of a template, and what it must fit into.
pub struct PaperSheet<'a> {
    /// Part, hand, end.
    pub title: &'a str,
    /// The size of the tube, and how the paper is laid.
    pub facts: Vec<Word>,
    pub note: &'a str,
    /// Millimetres of paper, across and down.
    pub room: (f64, f64),
    pub scale: PrintScale,
    pub units: UnitStyle,
}

/// The sheets of a template. Each is a drawing that is never made smaller. `whole` are places across it, in millimetres,
/// that no match line should come near, in order.
pub(super) fn sheets(body: &Drawing, whole: &[f64], sheet: &PaperSheet, alt: &str) -> Vec<Drawing> {
    let (across, down) = sheet.scale.parts();
    // What the printer makes smaller is drawn larger, and takes more of the page.
    let room = (sheet.room.0 * across.min(1.0), sheet.room.1 * down.min(1.0) - HEAD - FOOT);
    let across_page = spans(body.width, room.0, whole);
    let down_page = spans(body.height, room.1, &[]);
    let (columns, rows) = (across_page.len(), down_page.len());
    let ink = body.ink();
    let mut out = Vec::with_capacity(columns * rows);
    for row in 0..rows {
        for column in 0..columns {
            let at = (column, row);
            let tile = if columns * rows == 1 { body.clone() } else { tile(&ink, (&across_page, &down_page), at) };
            let number = row * columns + column + 1;
            out.push(finished(&tile, sheet, room.0, alt, (number, columns * rows)).stretched(1.0 / across, 1.0 / down));
        }
    }
    out
}

/// From where to where each tile reaches in one direction.
fn spans(size: f64, room: f64, whole: &[f64]) -> Vec<(f64, f64)> {
    let mut out = Vec::new();
    let mut from = 0.0;
    while size > from + room {
        let furthest = from + room - OVERLAP / 2.0;
        let clear = |x: f64| !whole.iter().any(|w| (x - CLEAR.0..x + CLEAR.1).contains(w));
        // No further back than half the page; where holes stand too close for it, through them.
        let mut tries = (0..(room / 2.0) as usize).map(|back| furthest - back as f64);
        let matched = tries.find(|&x| clear(x)).unwrap_or(furthest);
        out.push((from, matched + OVERLAP / 2.0));
        from = matched - OVERLAP / 2.0;
    }
    out.push((from, size));
    out
}

/// Where the parts of a body lie along one side: from and to.
type Strips<'a> = &'a [(f64, f64)];

/// A part of the body with its match lines, its corner at the top left.
fn tile(ink: &[Ink], (across, down): (Strips, Strips), (column, row): (usize, usize)) -> Drawing {
    let (columns, rows) = (across.len(), down.len());
    let ((left, right), (top, bottom)) = (across[column], down[row]);
    let mut tile = Drawing::new(right - left, bottom - top, "");
    let here = |p: Point| (p.0 - left, p.1 - top);
    let inside = |p: Point| (left..=right).contains(&p.0) && (top..=bottom).contains(&p.1);
    for ink in ink {
        match ink {
            Ink::Stroke { path, width } => {
                let line = if *width > 0.4 { LineType::Thick } else { LineType::Thin };
                let clipped = clipped(path, (left, top), (right, bottom));
                if !clipped.0.is_empty() {
                    tile.path(clipped.mapped(&here), line);
                }
            }
            Ink::Fill { path, .. } if path.runs().iter().flatten().all(|&p| inside(p)) => {
                tile.marks.push(Mark::Solid(path.mapped(&here)))
            }
            Ink::Fill { .. } => {}
            // What runs on into the next tile stands there.
            Ink::Text(text) if inside(text.at) && (column + 1 == columns || text.at.0 <= right - OVERLAP) => {
                tile.marks.push(Mark::Text(Text { at: here(text.at), ..text.clone() }))
            }
            Ink::Text(_) => {}
        }
    }
    let half = OVERLAP / 2.0;
    let mut upright = |x: f64, number: usize, align: Align| {
        tile.path(Path::line((x, 0.0), (x, bottom - top)), LineType::Centre);
        let beside = if align == Align::Start { 0.8 } else { -0.8 };
        label(&mut tile, (x + beside, 3.0), align, format!("match {number}"));
    };
    if column > 0 {
        upright(half, column, Align::Start);
    }
    if column + 1 < columns {
        upright(right - left - half, column + 1, Align::End);
    }
    let mut level = |y: f64, number: usize| {
        tile.path(Path::line((0.0, y), (right - left, y)), LineType::Centre);
        let letter = char::from(b'a' + (number as u8 - 1) % 26);
        label(&mut tile, (1.0, y - 0.8), Align::Start, format!("match {letter}"));
    };
    if row > 0 {
        level(half, row);
    }
    if row + 1 < rows {
        level(bottom - top - half, row + 1);
    }
    tile
}

/// The runs of a path inside a rectangle.
fn clipped(path: &Path, low: Point, high: Point) -> Path {
    let mut out = Vec::new();
    for run in path.runs() {
        let mut last: Option<Point> = None;
        for pair in run.windows(2) {
            let Some((a, b)) = segment(pair[0], pair[1], low, high) else {
                last = None;
                continue;
            };
            if last != Some(a) {
                out.push(PathSegment::Move(a));
            }
            out.push(PathSegment::Line(b));
            last = Some(b);
        }
    }
    Path(out)
}

/// The part of a straight line inside a rectangle (Liang and Barsky).
fn segment(a: Point, b: Point, low: Point, high: Point) -> Option<(Point, Point)> {
    let d = (b.0 - a.0, b.1 - a.1);
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (p, q) in [(-d.0, a.0 - low.0), (d.0, high.0 - a.0), (-d.1, a.1 - low.1), (d.1, high.1 - a.1)] {
        if p == 0.0 {
            if q < 0.0 {
                return None;
            }
        } else if p < 0.0 {
            from = from.max(q / p);
        } else {
            to = to.min(q / p);
        }
    }
    // What is whole stays as it is, to the bit.
    let at = |t: f64| (a.0 + d.0 * t, a.1 + d.1 * t);
    (from < to).then(|| (if from == 0.0 { a } else { at(from) }, if to == 1.0 { b } else { at(to) }))
}

/// A tile with its title above and the lines to measure below, one beside it where the `room` across allows it.
fn finished(tile: &Drawing, sheet: &PaperSheet, room: f64, alt: &str, (number, of): (usize, usize)) -> Drawing {
    let several = if of > 1 { format!(", sheet {number} of {of}") } else { String::new() };
    let alt = format!("{}{several}. {alt} Measure both check lines first.", sheet.title);
    let wide = tile.width.max(LEAST);
    let beside = (wide + BESIDE <= room).then_some(wide + BESIDE - 4.0);
    let foot = if beside.is_some() { FOOT_BESIDE } else { FOOT };
    let mut out = Drawing::new(beside.map_or(wide, |_| wide + BESIDE), HEAD + tile.height + foot, alt);
    out.full_size = true;
    out.marks = tile.moved(0.0, HEAD).marks;
    let title = format!("{}{several}", sheet.title);
    out.marks.push(Mark::Text(Text {
        at: (0.0, 5.0),
        align: Align::Start,
        size: 4.2,
        bold: true,
        words: vec![Word::text(title)],
    }));
    out.words((0.0, 10.5), Align::Start, sheet.facts.clone());
    let note = if of > 1 {
        format!("{} Join the sheets at match lines of one number.", sheet.note)
    } else {
        sheet.note.to_owned()
    };
    if !note.is_empty() {
        out.text((0.0, 15.0), Align::Start, note.trim());
    }
    let top = HEAD + tile.height + 7.0;
    let upright = beside.map_or((4.0, top), |x| (x, HEAD + 2.0));
    check_lines(&mut out, (10.0, top), upright, sheet);
    out
}

/// A line across and one down from these points, to measure before anything is cut. They stand apart, so that the tick
/// of one does not make the other longer.
fn check_lines(out: &mut Drawing, level: Point, upright: Point, sheet: &PaperSheet) {
    let metric = sheet.units == UnitStyle::Millimetre;
    let (across, down) = if metric { (100.0, 50.0) } else { (4.0 * INCH, 2.0 * INCH) };
    let length = |mm: f64| Length::from_inches(Rational::new((mm * 10.0).round() as i64, 254));
    let ends = [(level.0 + across, level.1), (upright.0, upright.1 + down)];
    out.path(Path::line(level, ends[0]), LineType::Thin);
    out.path(Path::line(upright, ends[1]), LineType::Thin);
    for (x, y) in [level, ends[0]] {
        out.path(Path::line((x, y - 2.0), (x, y + 2.0)), LineType::Thin);
    }
    for (x, y) in [upright, ends[1]] {
        out.path(Path::line((x - 2.0, y), (x + 2.0, y)), LineType::Thin);
    }
    let mut lines = vec![vec![
        Word::text("Measure both before you cut: "),
        Word::Length(length(across)),
        Word::text(" across, "),
        Word::Length(length(down)),
        Word::text(" down."),
    ]];
    let (across, down) = sheet.scale.parts();
    if sheet.scale == PrintScale::TRUE {
        // A worn sleeve of two inches closes its edges within a thirty-second of an inch then: common practice.
        lines.extend(if metric {
            [
                vec![Word::text("Good: 99.5 to 100.5 mm. Off? Print at 100 %, not fitted to the page. Still")],
                vec![Word::text("off? Type into the print dialog, as its scale, 10000 divided by the")],
                vec![Word::text("millimetres measured: 98.7 gives 101.3 %. Then measure again.")],
            ]
        } else {
            [
                vec![Word::text("Good: 3 63/64 to 4 1/64 in. Off? Print at 100 %, not fitted to the page.")],
                vec![Word::text("Still off? Type into the print dialog, as its scale, 400 divided by the")],
                vec![Word::text("inches measured: 3.95 gives 101.3 %. Then measure again.")],
            ]
        });
        lines.push(vec![Word::text("Off by unlike parts across and down? Tell the maker both measures.")]);
    } else {
        let percent = |part: f64| crate::units::decimal_text(Rational::new((1000.0 / part).round() as i64, 10), 1);
        lines.push(vec![Word::text(format!(
            "CORRECTED for one printer: drawn at {} % across, {} % down. Print at 100 %",
            percent(across),
            percent(down)
        ))]);
        lines.push(vec![Word::text("on that printer alone. On any other this sheet is wrong.")]);
    }
    lines.push(vec![Word::text("Try the paper on the part before you cut: its edges must meet.")]);
    for (i, words) in lines.into_iter().enumerate() {
        out.words((level.0, level.1 + 8.0 + 5.0 * i as f64), Align::Start, words);
    }
}

fn label(sheet: &mut Drawing, at: Point, align: Align, text: String) {
    sheet.marks.push(Mark::Text(Text { at, align, size: 2.8, bold: false, words: vec![Word::text(text)] }));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_cut_at_the_edges() {
        assert_eq!(segment((-5.0, 5.0), (15.0, 5.0), (0.0, 0.0), (10.0, 10.0)), Some(((0.0, 5.0), (10.0, 5.0))));
        assert_eq!(segment((2.0, 2.0), (3.0, 3.0), (0.0, 0.0), (10.0, 10.0)), Some(((2.0, 2.0), (3.0, 3.0))));
        assert_eq!(segment((-5.0, 5.0), (-1.0, 5.0), (0.0, 0.0), (10.0, 10.0)), None);
        assert_eq!(segment((-5.0, 4.0), (4.0, -5.0), (0.0, 0.0), (10.0, 10.0)), None);
    }

    /// Two tiles together have the whole line, and each match line lies at the same place of the body in both.
    #[test]
    fn tiles_meet_at_their_match_lines() {
        let mut body = Drawing::new(300.0, 20.0, "");
        body.path(Path::line((0.0, 10.0), (300.0, 10.0)), LineType::Thick);
        let room = (160.0, 30.0);
        let across = spans(body.width, room.0, &[]);
        assert_eq!(across, [(0.0, 160.0), (148.0, 300.0)]);
        let tiles = [0, 1].map(|column| tile(&body.ink(), (&across, &[(0.0, 20.0)]), (column, 0)));
        let span = |d: &Drawing| {
            d.marks.iter().find_map(|m| {
                if let Mark::Path(p, LineType::Thick) = m { Some((p.runs()[0][0].0, p.runs()[0][1].0)) } else { None }
            })
        };
        let matched = |d: &Drawing| {
            d.marks
                .iter()
                .find_map(|m| if let Mark::Path(p, LineType::Centre) = m { Some(p.runs()[0][0].0) } else { None })
        };
        assert_eq!((span(&tiles[0]), span(&tiles[1])), (Some((0.0, 160.0)), Some((0.0, 152.0))));
        assert_eq!((matched(&tiles[0]), matched(&tiles[1])), (Some(154.0), Some(6.0)));
        // 154 on the first and 148 + 6 on the second are the same place.
        assert_eq!(room.0 - OVERLAP + 6.0, 154.0);
    }

    #[test]
    fn no_match_line_comes_near_a_hole() {
        let holes: Vec<f64> = (0..12).map(|i| 50.0 + f64::from(i) * 76.3).collect();
        let across = spans(900.0, 180.0, &holes);
        for pair in across.windows(2) {
            assert!((pair[0].1 - pair[1].0 - OVERLAP).abs() < 1e-9, "{pair:?}");
            let matched = pair[1].0 + OVERLAP / 2.0;
            assert!(holes.iter().all(|h| (h - matched).abs() >= 13.0), "{matched}");
        }
        assert!(across.iter().all(|(from, to)| to - from <= 180.0) && across.last().is_some_and(|l| l.1 == 900.0));
        // Holes everywhere: the line goes through them.
        let dense: Vec<f64> = (0..900).map(f64::from).collect();
        assert_eq!(spans(900.0, 180.0, &dense), spans(900.0, 180.0, &[]));
    }
}
