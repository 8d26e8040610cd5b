//! The compiler's own drawings on paper.
//!
//! Owns: their place in a column and their size. Must not know: what is drawn.

use super::composer::{Composer, Stand};
use super::fonts::FaceStyle;
use super::frame::{Color, ItemKind, PageItem, PageShape, Role, Segment as Out, Stroke, TagId};
use super::para::TextLook;
use super::slab::Slab;
use crate::document::{CellAlign, Drawn, Inline};
use crate::drawing::{self, Drawing, Ink, Path, PathSegment, Text, Tone, Word};
use crate::units::UnitStyle;

/// Points in a millimetre.
const MM: f64 = 72.0 / 25.4;

/// What a drawing may be shrunk to where it would else leave a page part empty.
const SMALLER: f64 = 0.88;

/// The share of a column's width that a drawing takes which has its words beside it, and the gap between them in points.
const NARROW: f64 = 0.66;
const GUTTER: f64 = 16.0;

pub fn drawing(c: &mut Composer, drawn: &Drawn) {
    let tag = c.new_tag(Role::Figure);
    c.alt(tag, drawn.drawing.alt.clone());
    let exact = drawn.drawing.full_size;
    let (from, to) = if exact { (0.0, drawn.drawing.width) } else { inked(&drawn.drawing, c.setting.units) };
    let (wide, high) = ((to - from) * MM, drawn.drawing.height * MM);
    let scale = if exact { 1.0 } else { (c.width / wide).min(c.page_height * 0.62 / high).min(1.0) };
    let captioned = !drawn.caption.is_empty();
    let beside = captioned && !exact && wide * scale < c.width * NARROW;
    let keep = captioned && !beside;
    let mut slab = Slab { keep, float: !exact, ..sheet(c, &drawn.drawing, tag, scale, from) };
    if !exact && !beside {
        slab.smaller.push(Slab { keep, ..sheet(c, &drawn.drawing, tag, scale * SMALLER, from) });
    }
    if !captioned {
        c.push(slab);
        return;
    }
    let tag = c.new_tag(Role::Caption);
    let look = TextLook::new(FaceStyle::Regular, c.size.max(c.setting.style.small), c.setting.style.text);
    let para = c.para(&drawn.caption, look);
    if beside {
        let left = c.x + wide * scale + GUTTER;
        let words = c.block_of(&para, look, tag, (left, c.x + c.width - left), CellAlign::Start);
        c.push(with_beside(slab, words));
    } else {
        c.push(slab);
        c.set_whole(&para, look, tag, Stand::after(3.0));
    }
}

/// A drawing with words beside the middle of it.
fn with_beside(mut slab: Slab, mut words: Slab) -> Slab {
    let (high, low) = (slab.height, words.height);
    words.shift(0.0, ((high - low) / 2.0).max(0.0));
    words.height = 0.0;
    slab.stack(words, -high);
    Slab { height: high.max(low), ..slab }
}

/// From where to where there is ink across, in millimetres: what is left and right of it is not printed.
fn inked(drawing: &Drawing, units: UnitStyle) -> (f64, f64) {
    let (mut from, mut to) = (drawing.width, 0.0_f64);
    let mut at = |x: f64| (from, to) = (from.min(x), to.max(x));
    for ink in drawing.ink() {
        match &ink {
            Ink::Stroke { path, .. } | Ink::Fill { path, .. } => path.0.iter().for_each(|segment| match *segment {
                PathSegment::Move(a) | PathSegment::Line(a) => at(a.0),
                PathSegment::Curve(a, b, e) => [a, b, e].iter().for_each(|p| at(p.0)),
                PathSegment::Close => {}
            }),
            Ink::Text(text) => {
                // No sign is wider than this on average.
                let wide = drawing::plain_words(&text.words, units).chars().count() as f64 * text.size * 0.7;
                let left = match text.align {
                    drawing::Align::Start => 0.0,
                    drawing::Align::Middle => wide / 2.0,
                    drawing::Align::End => wide,
                };
                at(text.at.0 - left);
                at(text.at.0 - left + wide);
            }
        }
    }
    let (from, to) = ((from - 1.0).max(0.0), (to + 1.0).min(drawing.width));
    if from < to { (from, to) } else { (0.0, drawing.width) }
}

/// The drawing from a place across on, in millimetres.
fn sheet(c: &mut Composer, drawing: &Drawing, tag: TagId, scale: f64, from: f64) -> Slab {
    let mut slab = Slab { height: drawing.height * MM * scale, before: c.size, ..Slab::default() };
    let x = c.x - from * MM * scale;
    for ink in drawing.ink() {
        match &ink {
            Ink::Stroke { path, width } => {
                let stroke = Stroke { color: Color::BLACK, width: width * MM * scale, dash: None };
                shape(
                    &mut slab,
                    tag,
                    x,
                    PageShape { path: points(path, MM * scale), fill: None, stroke: Some(stroke) },
                );
            }
            Ink::Fill { path, tone } => {
                let fill = match tone {
                    Tone::Black => Color::BLACK,
                    Tone::White => Color::WHITE,
                };
                shape(&mut slab, tag, x, PageShape { path: points(path, MM * scale), fill: Some(fill), stroke: None });
            }
            Ink::Text(text) => letters(c, text, tag, (x, MM * scale), &mut slab),
        }
    }
    slab
}

fn shape(slab: &mut Slab, tag: TagId, x: f64, shape: PageShape) {
    if !shape.path.is_empty() {
        slab.items.push(PageItem { tag: Some(tag), at: (x, 0.0), kind: ItemKind::Shape(shape) });
    }
}

fn points(path: &Path, scale: f64) -> Vec<Out> {
    let p = |p: (f64, f64)| (p.0 * scale, p.1 * scale);
    path.0
        .iter()
        .map(|segment| match *segment {
            PathSegment::Move(a) => Out::Move(p(a).0, p(a).1),
            PathSegment::Line(a) => Out::Line(p(a).0, p(a).1),
            PathSegment::Curve(a, b, e) => Out::Curve(p(a).0, p(a).1, p(b).0, p(b).1, p(e).0, p(e).1),
            PathSegment::Close => Out::Close,
        })
        .collect()
}

/// A line of text with its baseline where the drawing has it.
fn letters(c: &mut Composer, text: &Text, tag: TagId, (x, scale): (f64, f64), slab: &mut Slab) {
    let face = if text.bold { FaceStyle::Bold } else { FaceStyle::Regular };
    let look = TextLook::new(face, text.size * scale, Color::BLACK);
    let mut inlines: Vec<Inline> = text
        .words
        .iter()
        .map(|word| match word {
            Word::Text(words) => Inline::Text(words.clone()),
            Word::Length(length) => Inline::Length(*length),
            Word::Angle(angle) => Inline::Angle(*angle),
        })
        .collect();
    let width = c.para(&inlines, look).width() + 1.0;
    inlines.push(Inline::text(" "));
    let para = c.para(&inlines, look);
    let left = match text.align {
        drawing::Align::Start => 0.0,
        drawing::Align::Middle => -width / 2.0,
        drawing::Align::End => -width,
    };
    // Room for the last space, so that the line is never broken.
    let column = (x + text.at.0 * scale + left, width + look.size);
    let mut line = c.block_of(&para, look, tag, column, CellAlign::Start);
    line.shift(0.0, text.at.1 * scale - line.baseline.unwrap_or(0.0));
    slab.items.append(&mut line.items);
}
