//! A bolted joint in section along its bolt: head, washers, members hatched by what they are of, nut, and what shows
//! past it, with the dimensions of stack and grip, and a number at each thing in the order from the head.
//!
//! Lengths along the bolt are to scale; heads and nuts are drawn in the usual proportions of their diameter. As in any
//! section, bolt, nut and washers are not cut.

use super::path::Path;
use super::scene::{Align, ArrowSide, Drawing, LineType, Mark, Point, TYPE, Text, Word};
use crate::joint::{Member, Reading};
use crate::model::Joint;
use crate::trade::fit::{CountedAs, Layer};
use crate::trade::{Cited, Family, ItemForm, Source, Substance};
use crate::units::{Length, UnitStyle, decimal_text, plain};

/// Size of the sheet, millimetres.
const WIDTH: f64 = 136.0;
const HEIGHT: f64 = 62.0;
/// The axis of the bolt.
const AXIS: f64 = 23.0;
/// The numbers: their baseline, and how near they may stand to each other.
const NUMBERS: f64 = 4.0;
const APART: f64 = 4.6;
/// Room for the bolt with its head, and its largest diameter on paper.
const ROOM: f64 = 100.0;
const THICKEST: f64 = 9.0;
/// In diameters: height and half width of the head, half width of a nut, of a washer, of what is drawn of a member.
const HEAD: f64 = 0.6;
const HEAD_HALF: f64 = 0.85;
const WASHER_HALF: f64 = 1.05;
const MEMBER_HALF: f64 = 1.6;
/// A countersunk head: how deep it is and half its width.
const SUNK: f64 = 0.5;
const SUNK_HALF: f64 = 1.0;
/// Half of the thread's core, in diameters.
const CORE_HALF: f64 = 0.42;

/// How a member is hatched.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hatching {
    /// Steel and what is like it.
    Close,
    Aluminium,
    /// Wood, plastic, fabric: both ways.
    Crossed,
    /// What is not known.
    Plain,
}

impl Hatching {
    /// How a member of a stack is hatched.
    pub fn of(member: &Member) -> Self {
        match (member.substance, member.family) {
            (Substance::Soft, _) => Self::Crossed,
            (Substance::Metal, Family::Aluminium) => Self::Aluminium,
            (Substance::Metal, _) => Self::Close,
            (Substance::Unknown, _) => Self::Plain,
        }
    }

    /// What the hatch means, as a caption says it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Close => "close hatch: steel",
            Self::Aluminium => "wide hatch: aluminium",
            Self::Crossed => "crossed hatch: plastic, wood or fabric",
            Self::Plain => "no hatch: material not known",
        }
    }

    fn gap(self) -> Option<f64> {
        match self {
            Self::Close => Some(1.2),
            Self::Aluminium => Some(2.4),
            Self::Crossed => Some(2.6),
            Self::Plain => None,
        }
    }
}

/// The section of a bolt with its nut in its stack. The numbers stand at washers, members, washers, nut and cotter pin, in
/// this order. `None` where a measure is not known, or it is no such joint.
pub fn joint_section(joint: &Joint, reading: &Reading, units: UnitStyle) -> Option<Drawing> {
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
    let head_words = if bolt.form == ItemForm::CountersunkScrew { "countersunk head" } else { "head" };
    let alt = format!(
        "A bolt in section along its axis, {head_words} on the left: {} under the head, a stack of {}, {}, the nut, and {past}. {}",
        washer_words(head.len()),
        words(stack),
        washer_words(under_nut.len()),
        grip.map_or_else(
            || "It is threaded up to its head.".to_owned(),
            |grip| format!("Its grip is {}.", words(grip))
        )
    );

    let countersunk = bolt.form == ItemForm::CountersunkScrew && joint.under_head.is_empty();
    // A countersunk head lies within the length.
    let head_height = if countersunk { 0.0 } else { HEAD };
    let d = diameter.to_f64();
    let scale = (ROOM / (length.to_f64() + head_height * d)).min(THICKEST / d);
    let d = d * scale;
    let mm = |length: Length| length.to_f64() * scale;
    // The underside of the head.
    let zero = (WIDTH - mm(length) - head_height * d) / 2.0 + head_height * d;
    let mut sheet = StackSection { drawing: Drawing::new(WIDTH, HEIGHT, alt), d, hatch: 0, numbered: Vec::new() };

    let mut x = zero;
    sheet.washers(&mut x, &joint.under_head, head, mm);
    let from = x;
    let mut starts = Vec::new();
    for member in &reading.members {
        starts.push(x);
        if let Some(CountedAs::As(thickness)) = member.counted {
            x += mm(thickness);
        }
    }
    for (i, member) in reading.members.iter().enumerate() {
        let (Ok(layer), Some(counted)) = (member.layer, member.counted) else { continue };
        let hatching = Hatching::of(member);
        match (layer, counted) {
            (Layer::Tube { outside_diameter, wall }, counted) => {
                // A tube inside another lies in its middle.
                let start = match counted {
                    CountedAs::As(_) => starts[i],
                    CountedAs::Inside(outer) => match reading.members[outer].layer {
                        Ok(Layer::Tube { outside_diameter: around, .. }) => {
                            starts[outer] + (mm(around) - mm(outside_diameter)) / 2.0
                        }
                        _ => starts[i],
                    },
                };
                sheet.tube(start, mm(outside_diameter), wall.map(mm), hatching);
            }
            (_, CountedAs::As(thickness)) => {
                let sunk = if i == 0 && countersunk { SUNK * d } else { 0.0 };
                sheet.cut(starts[i], mm(thickness), hatching, sunk);
                sheet.numbered.push((starts[i] + mm(thickness) / 2.0, MEMBER_HALF));
            }
            _ => {}
        }
    }
    let to = x;
    sheet.washers(&mut x, &joint.under_nut, under_nut, mm);
    sheet.nut(
        x,
        mm(height),
        reading.nut.as_ref().is_some_and(|n| matches!(n.form, ItemForm::Nut(form) if form.castellated())),
    );
    if joint.pin.is_some() {
        sheet.numbered.push((x + mm(height) * 0.8, 0.0));
    }
    sheet.bolt(zero, grip.map_or(0.0, mm), mm(length), if countersunk { HeadShape::Sunk } else { HeadShape::Hexagon });

    let bottom = AXIS + MEMBER_HALF * d;
    let named = |name: &str, length: Length| vec![Word::text(format!("{name} ")), Word::Length(length)];
    let side = |span: f64| if span < 24.0 { ArrowSide::Outside } else { ArrowSide::Inside };
    if let Some(grip) = grip {
        sheet.drawing.marks.push(Mark::Level {
            from: (zero, bottom),
            to: (zero + mm(grip), bottom),
            away: 6.0,
            arrows: side(mm(grip)),
            words: named("grip", grip),
        });
    }
    sheet.drawing.marks.push(Mark::Level {
        from: (from, bottom),
        to: (to, bottom),
        away: 13.0,
        arrows: side(to - from),
        words: named("stack", stack),
    });
    let end = zero + mm(length);
    sheet.drawing.text((end.min(WIDTH - 1.0), bottom + 19.0), Align::End, past);
    sheet.numbers();
    Some(sheet.drawing)
}

/// How the head of a bolt is drawn.
#[derive(Clone, Copy, PartialEq, Eq)]
enum HeadShape {
    Hexagon,
    /// In the cone of the first member.
    Sunk,
}

struct StackSection {
    drawing: Drawing,
    /// The bolt's diameter on paper.
    d: f64,
    /// How many members are hatched: neighbours are hatched the other way.
    hatch: usize,
    /// What gets a number, in order: where it is along the bolt, and its half width in diameters.
    numbered: Vec<(f64, f64)>,
}

impl StackSection {
    /// Something that is not cut: a washer.
    fn block(&mut self, left: f64, width: f64, half: f64) {
        let half = half * self.d;
        self.drawing.path(Path::rectangle(left, AXIS - half, width, 2.0 * half), LineType::Thick);
    }

    /// Washers, a number for each kind as the joint lists them.
    fn washers<T>(&mut self, x: &mut f64, listed: &[(T, i64)], washers: &[Cited<Length>], mm: impl Fn(Length) -> f64) {
        let mut rest = washers.iter();
        for (_, n) in listed {
            let from = *x;
            for washer in rest.by_ref().take(usize::try_from(*n).unwrap_or(0)) {
                self.block(*x, mm(washer.value), WASHER_HALF);
                *x += mm(washer.value);
            }
            self.numbered.push(((from + *x) / 2.0, WASHER_HALF));
        }
    }

    /// The numbers above, each with a line to what it names; moved apart where they would touch.
    fn numbers(&mut self) {
        let things = std::mem::take(&mut self.numbered);
        let mut order: Vec<usize> = (0..things.len()).collect();
        order.sort_by(|&a, &b| things[a].0.total_cmp(&things[b].0).then(a.cmp(&b)));
        let mut places: Vec<f64> = Vec::new();
        for &i in &order {
            let least = places.last().map_or(f64::NEG_INFINITY, |last| last + APART);
            places.push(things[i].0.max(least));
        }
        let shift: f64 =
            order.iter().zip(&places).map(|(&i, p)| p - things[i].0).sum::<f64>() / things.len().max(1) as f64;
        for (&i, place) in order.iter().zip(&places) {
            let (x, half) = things[i];
            let at = (place - shift).clamp(2.0, WIDTH - 2.0);
            let to = (x, AXIS - half * self.d);
            self.drawing.path(Path::line((at, NUMBERS + 1.0), to), LineType::Thin);
            let words = vec![Word::text((i + 1).to_string())];
            self.drawing.marks.push(Mark::Text(Text {
                at: (at, NUMBERS),
                align: Align::Middle,
                size: TYPE,
                bold: true,
                words,
            }));
        }
    }

    /// A member in section, above and below the bolt.
    /// `sunk` is how deep the cone of a countersunk head goes into it.
    fn cut(&mut self, left: f64, width: f64, hatching: Hatching, sunk: f64) {
        let (outer, inner) = (MEMBER_HALF * self.d, self.d / 2.0);
        let degrees = if self.hatch.is_multiple_of(2) { 45.0 } else { 135.0 };
        self.hatch += 1;
        for side in [-1.0, 1.0] {
            // Half the width of the hole, from the outside of the head on.
            let half =
                |x: f64| if x < sunk { SUNK_HALF * self.d - (SUNK_HALF * self.d - inner) * x / sunk } else { inner };
            let mut area: Vec<Point> = vec![
                (left, AXIS + side * outer),
                (left + width, AXIS + side * outer),
                (left + width, AXIS + side * half(width)),
            ];
            if sunk > 0.0 && sunk < width {
                area.push((left + sunk, AXIS + side * inner));
            }
            area.push((left, AXIS + side * half(0.0)));
            if let Some(gap) = hatching.gap() {
                self.drawing.marks.push(Mark::Hatch { area: area.clone(), degrees, gap });
                if hatching == Hatching::Crossed {
                    self.drawing.marks.push(Mark::Hatch { area: area.clone(), degrees: 180.0 - degrees, gap });
                }
            }
            self.drawing.path(Path::polygon(&area), LineType::Thick);
        }
    }

    /// A tube that the bolt goes right through: both its walls in section.
    fn tube(&mut self, left: f64, outside: f64, wall: Option<f64>, hatching: Hatching) {
        let wall = wall.unwrap_or(0.0).min(outside / 2.0);
        if wall > 0.0 {
            self.cut(left, wall, hatching, 0.0);
            // Both walls are of one piece and hatched alike.
            self.hatch -= 1;
            self.cut(left + outside - wall, wall, hatching, 0.0);
        } else {
            let half = MEMBER_HALF * self.d;
            for x in [left, left + outside] {
                self.drawing.path(Path::line((x, AXIS - half), (x, AXIS + half)), LineType::Thick);
            }
        }
        self.numbered.push((left + wall / 2.0, MEMBER_HALF));
    }

    fn nut(&mut self, left: f64, width: f64, castle: bool) {
        self.block(left, width, HEAD_HALF);
        self.numbered.push((left + width / 2.0, HEAD_HALF));
        for side in [-1.0, 1.0] {
            let y = AXIS + side * HEAD_HALF * self.d / 2.0;
            self.drawing.path(Path::line((left, y), (left + width, y)), LineType::Thin);
        }
        if castle {
            // The slot, with its pin.
            let slot = left + width * 0.8;
            self.drawing.marks.push(Mark::Solid(Path::circle((slot, AXIS), (self.d / 9.0).max(0.5))));
        }
    }

    fn bolt(&mut self, zero: f64, grip: f64, length: f64, shape: HeadShape) {
        let (d, half) = (self.d, self.d / 2.0);
        let countersunk = shape == HeadShape::Sunk;
        let head = if countersunk { SUNK_HALF } else { HEAD_HALF } * d;
        let height = if countersunk { 0.0 } else { HEAD * d };
        let sunk = if countersunk { SUNK * d } else { 0.0 };
        if countersunk {
            let cone =
                [(zero, AXIS - head), (zero + sunk, AXIS - half), (zero + sunk, AXIS + half), (zero, AXIS + head)];
            self.drawing.path(Path::polygon(&cone), LineType::Thick);
        } else {
            self.drawing.path(Path::rectangle(zero - height, AXIS - head, height, 2.0 * head), LineType::Thick);
        }
        for side in [-1.0, 1.0] {
            let y = AXIS + side * half;
            self.drawing.path(Path::line((zero + sunk, y), (zero + length, y)), LineType::Thick);
            let core = AXIS + side * CORE_HALF * d;
            self.drawing.path(Path::line((zero + grip.max(sunk), core), (zero + length, core)), LineType::Thin);
            let y = AXIS + side * head / 2.0;
            if !countersunk {
                self.drawing.path(Path::line((zero - height, y), (zero, y)), LineType::Thin);
            }
        }
        for x in [zero + grip, zero + length].into_iter().filter(|x| *x > zero + sunk) {
            self.drawing.path(Path::line((x, AXIS - half), (x, AXIS + half)), LineType::Thick);
        }
        let (left, right) = (zero - height - 3.0, zero + length + 3.0);
        self.drawing.path(Path::line((left, AXIS), (right, AXIS)), LineType::Centre);
    }
}

fn washer_words(n: usize) -> String {
    match n {
        0 => "no washer".to_owned(),
        1 => "1 washer".to_owned(),
        n => format!("{n} washers"),
    }
}
