//! Templates at full size: a sleeve of paper that is wrapped around the tube's end and cut along, and a strip that is
//! laid along a row of holes.

use super::hole_row;
use super::path::Path;
use super::scene::{Align, Drawing, LineType, Mark, Point, Text, Word};
use super::tiles::{PaperSheet, sheets};
use crate::geometry::{EndCut, Wrap};
use crate::units::{Clock, Length};

/// Millimetres in an inch.
const INCH: f64 = 25.4;
/// Steps around the tube.
const STEPS: usize = 360;
/// Paper below the lowest point of the curve and above the highest.
const BELOW: f64 = 24.0;
const WASTE: f64 = 6.0;
/// The tab that the other edge is laid over.
const TAB: f64 = 10.0;
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
            let value: f64 =
                text.trim().trim_end_matches('%').parse().map_err(|_| format!("`{text}` is not a number"))?;
            if (90.0..=110.0).contains(&value) {
                Ok(value / 100.0)
            } else {
                Err(format!("{value} is not from 90 to 110"))
            }
        };
        Ok(Self { across: part(across)?, down: part(down)? })
    }

    /// Across and down.
    pub(super) fn parts(self) -> (f64, f64) {
        (self.across, self.down)
    }
}

/// The sheets of an end's template. `paper` is the thickness of the paper.
pub fn wrap_template(end: &EndCut, diameter: Length, paper: Length, sheet: &PaperSheet) -> Vec<Drawing> {
    let seam = Clock::parse(SEAM).unwrap_or(Clock::TWELVE);
    let wrap = Wrap::new(end, diameter, paper, seam, STEPS);
    let alt = "A template at full size to wrap around the tube: cut on the thick line.";
    sheets(&sleeve(&wrap, matches!(end, EndCut::Saddle { .. })), &[], sheet, alt)
}

/// The sheets of a strip for a row of holes, measured from an end.
pub fn strip_template(end: &str, places: &[Length], sheet: &PaperSheet) -> Vec<Drawing> {
    let holes: Vec<f64> = places.iter().map(|p| p.to_f64() * INCH).collect();
    sheets(
        &hole_row::strip(end, places),
        &holes,
        sheet,
        "A strip at full size to lay along the part: a line across at each hole.",
    )
}

/// The sleeve alone.
fn sleeve(wrap: &Wrap, saddle: bool) -> Drawing {
    let (width, height) = (wrap.width * INCH, wrap.height * INCH);
    // The lowest point of the curve.
    let zero = WASTE + height;
    let bottom = zero + BELOW;
    let mut sheet = Drawing::new(width + TAB, bottom, "");
    let line = |points: &[crate::geometry::WrapPoint]| -> Vec<Point> {
        points.iter().map(|p| (p.x * INCH, zero - p.y * INCH)).collect()
    };
    let outer = line(&wrap.outer);
    let mut waste = outer.clone();
    waste.extend([(width, 0.0), (0.0, 0.0)]);
    sheet.marks.push(Mark::Hatch { area: waste, degrees: 45.0, gap: 2.0 });
    for hour in 1..=12_u8 {
        let Ok(clock) = Clock::parse(&hour.to_string()) else { continue };
        let x = wrap.mark(clock) * INCH;
        if hour % 3 == 0 {
            sheet.path(Path::line((x, 0.0), (x, bottom)), LineType::Centre);
            if hour == 6 {
                sheet.path(Path::line((width, 0.0), (width, bottom)), LineType::Centre);
            }
        } else {
            sheet.path(Path::line((x, bottom - 5.0), (x, bottom)), LineType::Thin);
        }
    }
    if saddle {
        sheet.path(Path::through(&line(&wrap.inner)), LineType::Hidden);
    }
    sheet.path(Path::polygon(&[(0.0, 0.0), (width, 0.0), (width, bottom), (0.0, bottom)]), LineType::Thin);
    sheet.path(
        Path::polygon(&[(width, 2.0), (width + TAB, 6.0), (width + TAB, bottom - 4.0), (width, bottom)]),
        LineType::Thin,
    );
    sheet.path(Path::through(&outer), LineType::Thick);
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
    sheet
}

fn label(sheet: &mut Drawing, at: Point, text: &str, bold: bool) {
    sheet.marks.push(Mark::Text(Text { at, align: Align::Start, size: 3.3, bold, words: vec![Word::text(text)] }));
}
