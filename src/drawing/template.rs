//! Templates at full size: a sleeve of paper that is wrapped around the tube's end and cut along.

use super::path::Path;
use super::scene::{Align, Drawing, Line, Mark, Point, Text, Word};
use crate::geometry::{EndCut, Wrap};
use crate::units::{Clock, Length, Rational, UnitStyle};

/// Millimetres in an inch.
const INCH: f64 = 25.4;
/// Steps around the tube.
const STEPS: usize = 360;
/// Paper below the lowest point of the curve and above the highest.
const BELOW: f64 = 24.0;
const WASTE: f64 = 6.0;
/// The tab that the other edge is laid over.
const TAB: f64 = 10.0;
/// Height of the words and the lines to measure, above the sleeve and below it.
const HEAD: f64 = 17.0;
const FOOT: f64 = 62.0;
/// The seam stands at 6, so that the datum line is in the middle.
const SEAM: &str = "6";

/// What a printer makes of a length, across and down: 1 where it prints true.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrintScale {
    across: f64,
    down: f64,
}

impl PrintScale {
    pub const TRUE: Self = Self { across: 1.0, down: 1.0 };

    /// Reads `98.7x99.1`: what came out of 100, across and down. A single number is for both.
    ///
    /// # Errors
    /// A text that is none, or a printer that is off by more than a tenth.
    pub fn parse(text: &str) -> Result<Self, String> {
        let (across, down) = text.split_once('x').unwrap_or((text, text));
        let part = |text: &str| -> Result<f64, String> {
            let value: f64 = text.trim().trim_end_matches('%').parse().map_err(|_| format!("`{text}` is not a number"))?;
            if (90.0..=110.0).contains(&value) { Ok(value / 100.0) } else { Err(format!("{value} is not from 90 to 110")) }
        };
        Ok(Self { across: part(across)?, down: part(down)? })
    }
}

/// The template of an end: `title` says part, hand and end, `tube` its size. `paper` is the thickness of the paper.
pub fn wrap_template(
    end: &EndCut,
    diameter: Length,
    paper: Length,
    title: &str,
    tube: Vec<Word>,
    (scale, units): (PrintScale, UnitStyle),
) -> Drawing {
    let seam = Clock::parse(SEAM).unwrap_or(Clock::TWELVE);
    let wrap = Wrap::new(end, diameter, paper, seam, STEPS);
    let (width, height) = (wrap.width * INCH, wrap.height * INCH);
    // The lowest point of the curve.
    let zero = HEAD + WASTE + height;
    let bottom = zero + BELOW;
    let saddle = matches!(end, EndCut::Saddle { .. });
    let alt = format!("{title}. A template at full size to wrap around the tube: cut on the thick line. Measure both check lines first.");
    let mut sheet = Drawing::new((width + TAB).max(115.0), bottom + FOOT, alt);
    sheet.full_size = true;

    let line = |points: &[crate::geometry::Point]| -> Vec<Point> {
        points.iter().map(|p| (p.x * INCH, zero - p.y * INCH)).collect()
    };
    let outer = line(&wrap.outer);
    let mut waste = outer.clone();
    waste.extend([(width, HEAD), (0.0, HEAD)]);
    sheet.marks.push(Mark::Hatch { area: waste, degrees: 45.0, gap: 2.0 });
    for hour in 1..=12_u8 {
        let Ok(clock) = Clock::parse(&hour.to_string()) else { continue };
        let x = wrap.mark(clock) * INCH;
        if hour % 3 == 0 {
            sheet.path(Path::line((x, HEAD), (x, bottom)), Line::Centre);
            if hour == 6 {
                sheet.path(Path::line((width, HEAD), (width, bottom)), Line::Centre);
            }
        } else {
            sheet.path(Path::line((x, bottom - 5.0), (x, bottom)), Line::Thin);
        }
    }
    if saddle {
        sheet.path(Path::through(&line(&wrap.inner)), Line::Hidden);
    }
    sheet.path(Path::polygon(&[(0.0, HEAD), (width, HEAD), (width, bottom), (0.0, bottom)]), Line::Thin);
    sheet.path(Path::polygon(&[(width, HEAD + 2.0), (width + TAB, HEAD + 6.0), (width + TAB, bottom - 4.0), (width, bottom)]), Line::Thin);
    sheet.path(Path::through(&outer), Line::Thick);
    for hour in [12_u8, 3, 9] {
        let Ok(clock) = Clock::parse(&hour.to_string()) else { continue };
        let x = wrap.mark(clock) * INCH;
        label(&mut sheet, (x + 1.0, bottom - 1.5), &hour.to_string(), true);
    }
    label(&mut sheet, (1.0, bottom - 1.5), "6", true);
    label(&mut sheet, (width + 1.0, bottom - 6.0), "tab", false);
    let sleeve = |part: f64, y: f64| (width * part + 1.5, bottom - y);
    label(&mut sheet, sleeve(0.0, 12.0), "keep", false);
    label(&mut sheet, sleeve(0.5, 12.0), "datum", false);
    sheet.marks.push(Mark::Text(Text { at: (0.0, 5.0), align: Align::Start, size: 4.2, bold: true, words: vec![Word::text(title)] }));
    let mut size = tube;
    size.push(Word::text(". Printed side out, hatched side to the end, cut on the thick line."));
    sheet.words((0.0, 10.5), Align::Start, size);
    if saddle {
        sheet.text((0.0, 15.0), Align::Start, "Dashed: the edge of the bore. File to it from the outside.");
    }
    check_lines(&mut sheet, bottom + 5.0, units);
    sheet.stretched(1.0 / scale.across, 1.0 / scale.down)
}

/// A line across and one down, to measure before anything is cut.
fn check_lines(sheet: &mut Drawing, top: f64, units: UnitStyle) {
    let metric = units == UnitStyle::Millimetre;
    let (across, down) = if metric { (100.0, 50.0) } else { (4.0 * INCH, 2.0 * INCH) };
    let length = |mm: f64| Length::from_inches(Rational::new((mm * 10.0).round() as i64, 254));
    let corner = (4.0, top + 2.0);
    let ends = [(corner.0 + across, corner.1), (corner.0, corner.1 + down)];
    for end in ends {
        sheet.path(Path::line(corner, end), Line::Thin);
    }
    for (x, y) in [corner, ends[0]] {
        sheet.path(Path::line((x, y - 2.0), (x, y + 2.0)), Line::Thin);
    }
    for (x, y) in [corner, ends[1]] {
        sheet.path(Path::line((x - 2.0, y), (x + 2.0, y)), Line::Thin);
    }
    let lines = [
        vec![Word::text("Measure both before you cut: "), Word::Length(length(across)), Word::text(" across, "), Word::Length(length(down)), Word::text(" down.")],
        vec![Word::text("Off? Print at 100 %, not fitted to the page. Still off? Ask for")],
        vec![Word::text("the templates again with --print-scale and what you measured.")],
        vec![Word::text("Hold the sleeve to the tube before you cut: its edges must meet.")],
    ];
    for (i, words) in lines.into_iter().enumerate() {
        sheet.words((corner.0 + 4.0, corner.1 + 7.0 + 5.0 * i as f64), Align::Start, words);
    }
}

fn label(sheet: &mut Drawing, at: Point, text: &str, bold: bool) {
    sheet.marks.push(Mark::Text(Text { at, align: Align::Start, size: 3.3, bold, words: vec![Word::text(text)] }));
}
