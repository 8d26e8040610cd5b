//! A bolted joint in section along its bolt: head, washers, members hatched by what they are of, nut, and what shows
//! past it, with the dimensions of stack and grip.
//!
//! Lengths along the bolt are to scale; heads and nuts are drawn in the usual proportions of their diameter. As in any
//! section, bolt, nut and washers are not cut.

use super::path::Path;
use super::scene::{Align, ArrowSide, Drawing, Line, Mark, Point, Word};
use crate::joint::Reading;
use crate::trade::fit::{Counted, Layer};
use crate::trade::{Form, Source, Substance};
use crate::units::{Length, UnitStyle, decimal_text, plain};

/// Size of the sheet, millimetres.
const WIDTH: f64 = 136.0;
const HEIGHT: f64 = 62.0;
/// The axis of the bolt.
const AXIS: f64 = 31.0;
/// Room for the bolt with its head, and its largest diameter on paper.
const ROOM: f64 = 100.0;
const THICKEST: f64 = 9.0;
/// In diameters: height and half width of the head, half width of a nut, of a washer, of what is drawn of a member.
const HEAD: f64 = 0.6;
const HEAD_HALF: f64 = 0.85;
const WASHER_HALF: f64 = 1.05;
const MEMBER_HALF: f64 = 1.6;
/// Half of the thread's core, in diameters.
const CORE_HALF: f64 = 0.42;

/// The section of a bolt with its nut in its stack. `None` where a measure is not known, or it is no such joint.
pub fn joint_section(reading: &Reading, units: UnitStyle) -> Option<Drawing> {
    let fit = reading.fit.as_ref()?.as_ref().ok()?;
    let bolt = reading.fastener.as_deref()?;
    let (diameter, length) = (bolt.diameter?.value, bolt.length?.value);
    // Without one it is threaded up to its head.
    let grip = bolt.grip.map(|g| g.value).filter(|_| fit.margins.hole.is_some());
    let (stack, (head, under_nut)) = (reading.thickness?.value, reading.washers.as_ref()?);
    let height = reading.nut.as_ref()?.height?.value;
    let threads = fit.threads_past?;
    let from_memory = if threads.source == Source::FromMemory { " (from memory)" } else { "" };
    let past = format!("{} threads past the nut{from_memory}", decimal_text(threads.value, 1));
    let words = |length: Length| plain(&length.pieces(units));
    let alt = format!(
        "A bolt in section along its axis, head on the left: {} washers under the head, a stack of {}, {} washers, the nut, \
         and {past}. {}",
        head.len(),
        words(stack),
        under_nut.len(),
        grip.map_or_else(|| "It is threaded up to its head.".to_owned(), |grip| format!("Its grip is {}.", words(grip)))
    );

    let d = diameter.to_f64();
    let scale = (ROOM / (length.to_f64() + HEAD * d)).min(THICKEST / d);
    let d = d * scale;
    let mm = |length: Length| length.to_f64() * scale;
    // The underside of the head.
    let zero = (WIDTH - mm(length) - HEAD * d) / 2.0 + HEAD * d;
    let mut sheet = Section { drawing: Drawing::new(WIDTH, HEIGHT, alt), d, hatch: 0 };

    let mut x = zero;
    for washer in head {
        sheet.block(x, mm(washer.value), WASHER_HALF);
        x += mm(washer.value);
    }
    let from = x;
    let mut starts = Vec::new();
    for member in &reading.members {
        starts.push(x);
        if let Some(Counted::As(thickness)) = member.counted {
            x += mm(thickness);
        }
    }
    for (i, member) in reading.members.iter().enumerate() {
        let (Ok(layer), Some(counted)) = (member.layer, member.counted) else { continue };
        let soft = member.substance == Substance::Soft;
        match (layer, counted) {
            (Layer::Tube { outside_diameter, wall }, counted) => {
                // A tube inside another lies in its middle.
                let start = match counted {
                    Counted::As(_) => starts[i],
                    Counted::Inside(outer) => match reading.members[outer].layer {
                        Ok(Layer::Tube { outside_diameter: around, .. }) => {
                            starts[outer] + (mm(around) - mm(outside_diameter)) / 2.0
                        }
                        _ => starts[i],
                    },
                };
                sheet.tube(start, mm(outside_diameter), wall.map(mm), soft);
            }
            (_, Counted::As(thickness)) => sheet.cut(starts[i], mm(thickness), soft),
            _ => {}
        }
    }
    let to = x;
    for washer in under_nut {
        sheet.block(x, mm(washer.value), WASHER_HALF);
        x += mm(washer.value);
    }
    sheet.nut(x, mm(height), reading.nut.as_ref().is_some_and(|n| matches!(n.form, Form::Nut(form) if form.castellated())));
    sheet.bolt(zero, grip.map_or(0.0, mm), mm(length));

    let top = AXIS - MEMBER_HALF * d;
    let bottom = AXIS + MEMBER_HALF * d;
    let named = |name: &str, length: Length| vec![Word::text(format!("{name} ")), Word::Length(length)];
    let side = |span: f64| if span < 24.0 { ArrowSide::Outside } else { ArrowSide::Inside };
    sheet.drawing.marks.push(Mark::Level {
        from: (from, top),
        to: (to, top),
        away: -7.0,
        arrows: side(to - from),
        words: named("stack", stack),
    });
    if let Some(grip) = grip {
        sheet.drawing.marks.push(Mark::Level {
            from: (zero, bottom),
            to: (zero + mm(grip), bottom),
            away: 7.0,
            arrows: side(mm(grip)),
            words: named("grip", grip),
        });
    }
    let end = zero + mm(length);
    sheet.drawing.text((end.min(WIDTH - 1.0), bottom + 13.0), Align::End, past);
    Some(sheet.drawing)
}

struct Section {
    drawing: Drawing,
    /// The bolt's diameter on paper.
    d: f64,
    /// How many members are hatched: neighbours are hatched the other way.
    hatch: usize,
}

impl Section {
    /// Something that is not cut: a washer.
    fn block(&mut self, left: f64, width: f64, half: f64) {
        let half = half * self.d;
        self.drawing.path(Path::rectangle(left, AXIS - half, width, 2.0 * half), Line::Thick);
    }

    /// A member in section, above and below the bolt.
    fn cut(&mut self, left: f64, width: f64, soft: bool) {
        let (outer, inner) = (MEMBER_HALF * self.d, self.d / 2.0);
        let gap = if soft { 2.6 } else { 1.3 };
        let degrees = if self.hatch.is_multiple_of(2) { 45.0 } else { 135.0 };
        self.hatch += 1;
        for top in [AXIS - outer, AXIS + inner] {
            let height = outer - inner;
            let area: Vec<Point> = vec![(left, top), (left + width, top), (left + width, top + height), (left, top + height)];
            self.drawing.marks.push(Mark::Hatch { area: area.clone(), degrees, gap });
            if soft {
                // Soft stuff is hatched both ways.
                self.drawing.marks.push(Mark::Hatch { area: area.clone(), degrees: 180.0 - degrees, gap });
            }
            self.drawing.path(Path::polygon(&area), Line::Thick);
        }
    }

    /// A tube that the bolt goes right through: both its walls in section.
    fn tube(&mut self, left: f64, outside: f64, wall: Option<f64>, soft: bool) {
        let wall = wall.unwrap_or(0.0).min(outside / 2.0);
        if wall > 0.0 {
            self.cut(left, wall, soft);
            // Both walls are of one piece and hatched alike.
            self.hatch -= 1;
            self.cut(left + outside - wall, wall, soft);
        } else {
            let half = MEMBER_HALF * self.d;
            for x in [left, left + outside] {
                self.drawing.path(Path::line((x, AXIS - half), (x, AXIS + half)), Line::Thick);
            }
        }
    }

    fn nut(&mut self, left: f64, width: f64, castle: bool) {
        self.block(left, width, HEAD_HALF);
        for side in [-1.0, 1.0] {
            let y = AXIS + side * HEAD_HALF * self.d / 2.0;
            self.drawing.path(Path::line((left, y), (left + width, y)), Line::Thin);
        }
        if castle {
            // The slot, with its pin.
            let slot = left + width * 0.8;
            self.drawing.marks.push(Mark::Solid(Path::circle((slot, AXIS), (self.d / 9.0).max(0.5))));
        }
    }

    fn bolt(&mut self, zero: f64, grip: f64, length: f64) {
        let (d, half) = (self.d, self.d / 2.0);
        let head = HEAD_HALF * d;
        self.drawing.path(Path::rectangle(zero - HEAD * d, AXIS - head, HEAD * d, 2.0 * head), Line::Thick);
        for side in [-1.0, 1.0] {
            let y = AXIS + side * half;
            self.drawing.path(Path::line((zero, y), (zero + length, y)), Line::Thick);
            let core = AXIS + side * CORE_HALF * d;
            self.drawing.path(Path::line((zero + grip, core), (zero + length, core)), Line::Thin);
            let y = AXIS + side * head / 2.0;
            self.drawing.path(Path::line((zero - HEAD * d, y), (zero, y)), Line::Thin);
        }
        for x in [zero + grip, zero + length] {
            self.drawing.path(Path::line((x, AXIS - half), (x, AXIS + half)), Line::Thick);
        }
        let (left, right) = (zero - HEAD * d - 3.0, zero + length + 3.0);
        self.drawing.path(Path::line((left, AXIS), (right, AXIS)), Line::Centre);
    }
}
