//! A page's content stream, made ready: marked content, text, shapes, figures.
//!
//! Owns: drawing operators. Must not know: objects of the file.

use std::collections::BTreeMap;

use super::faces::Codes;
use super::ink::PdfInk;
use crate::figure::Crop;
use crate::layout::{Color, ItemKind, LaidPage, PageItem, PageShape, Segment, TagId, TextRun};
use crate::units::FigureName;

/// A page's content and the structure element of each of its marked-content numbers.
pub struct Content {
    pub bytes: Vec<u8>,
    pub marked: Vec<TagId>,
}

/// What content is written against.
pub struct ContentSheet<'a> {
    pub ink: PdfInk,
    pub codes: &'a Codes,
    /// Resource name and natural size of each figure.
    pub figures: &'a BTreeMap<FigureName, Placeable>,
    /// Structure type of each element, as its marked content is called.
    pub roles: &'a [&'static str],
}

/// A figure as a resource: its name, and the matrix that brings it into the unit square with y up.
pub struct Placeable {
    pub resource: String,
    pub base: [f64; 6],
}

struct ContentWriter<'a> {
    sheet: &'a ContentSheet<'a>,
    height: f64,
    out: Vec<u8>,
    marked: Vec<TagId>,
    open: OpenMarks,
    fill: Option<Color>,
    font: Option<(u8, i64)>,
}

#[derive(Clone, Copy, PartialEq)]
enum OpenMarks {
    Nothing,
    Artifact,
    Tagged(TagId),
}

pub fn content(page: &LaidPage, sheet: &ContentSheet) -> Content {
    let mut writer = ContentWriter {
        sheet,
        height: page.size.1,
        out: Vec::with_capacity(16 * 1024),
        marked: Vec::new(),
        open: OpenMarks::Nothing,
        fill: None,
        font: None,
    };
    let mut items = page.items.iter().peekable();
    while let Some(item) = items.next() {
        match &item.kind {
            ItemKind::Text(run) => {
                let says = run.actual.as_deref().filter(|s| !s.is_empty());
                match says {
                    Some(says) => writer.mark_saying(item.tag, says),
                    None => writer.mark(item.tag),
                }
                writer.text(item, run);
                // Runs that say nothing of their own belong to the one before: the rest of a fraction.
                while let Some(next) = items.next_if(|n| continues(item, n)) {
                    if let ItemKind::Text(run) = &next.kind {
                        writer.text(next, run);
                    }
                }
                if says.is_some() {
                    writer.mark_end();
                }
            }
            ItemKind::Shape(shape) => {
                writer.mark(item.tag);
                writer.shape(item.at, shape);
            }
            ItemKind::Figure { name, crop, width, height } => {
                writer.mark(item.tag);
                writer.figure(item.at, name, *crop, (*width, *height));
            }
        }
    }
    writer.mark_end();
    Content { bytes: writer.out, marked: writer.marked }
}

fn continues(first: &PageItem, next: &PageItem) -> bool {
    next.tag == first.tag && matches!(&next.kind, ItemKind::Text(run) if run.actual.as_deref() == Some(""))
}

impl ContentWriter<'_> {
    fn push(&mut self, text: &str) {
        self.out.extend_from_slice(text.as_bytes());
    }

    /// Writes a number in hundredths of a point, and a space.
    fn number(&mut self, value: f64) {
        push_number(&mut self.out, value);
    }

    fn mark(&mut self, tag: Option<TagId>) {
        let wanted = tag.map_or(OpenMarks::Artifact, OpenMarks::Tagged);
        if wanted == self.open {
            return;
        }
        self.mark_end();
        match tag {
            None => self.push("/Artifact BMC\n"),
            Some(tag) => {
                let line = format!("/{} <</MCID {}>> BDC\n", self.sheet.roles[tag.0 as usize], self.marked.len());
                self.push(&line);
                self.marked.push(tag);
            }
        }
        self.open = wanted;
    }

    fn mark_end(&mut self) {
        if self.open != OpenMarks::Nothing {
            self.push("EMC\n");
            self.open = OpenMarks::Nothing;
        }
    }

    /// A sequence of its own with what it says: sequences in one another trip some readers.
    fn mark_saying(&mut self, tag: Option<TagId>, says: &str) {
        self.mark_end();
        let mut head = match tag {
            None => "/Span <<".to_owned(),
            Some(_) => format!("/Span <</MCID {} ", self.marked.len()),
        };
        head.push_str("/ActualText <FEFF");
        for unit in says.encode_utf16() {
            head.push_str(&format!("{unit:04X}"));
        }
        head.push_str(">>> BDC\n");
        self.push(&head);
        self.marked.extend(tag);
        self.open = tag.map_or(OpenMarks::Artifact, OpenMarks::Tagged);
    }

    fn fill(&mut self, color: Color) {
        if self.fill != Some(color) {
            let operator = self.sheet.ink.fill(color);
            self.push(&operator);
            self.fill = Some(color);
        }
    }

    fn text(&mut self, item: &PageItem, run: &TextRun) {
        if run.glyphs.is_empty() {
            return;
        }
        self.fill(run.color);
        self.push("BT\n");
        let size = (run.size * 100.0).round() as i64;
        if self.font != Some((run.face.0, size)) {
            let name = format!("/F{} ", run.face.0);
            self.push(&name);
            self.number(run.size);
            self.push("Tf\n");
            self.font = Some((run.face.0, size));
        }
        self.push("1 0 0 1 ");
        self.number(item.at.0);
        self.number(self.height - item.at.1);
        self.push("Tm\n[");
        let mut in_string = false;
        let mut raised: i16 = 0;
        let mut pending: i64 = 0;
        for glyph in &run.glyphs {
            let (code, width) = self.sheet.codes.of(run.face, glyph.id);
            if glyph.dy != raised {
                if in_string {
                    self.push(")");
                    in_string = false;
                }
                self.push("]TJ\n");
                self.number(f64::from(glyph.dy) * run.size / 1000.0);
                self.push("Ts\n[");
                raised = glyph.dy;
            }
            let kern = pending - i64::from(glyph.dx);
            if kern != 0 {
                if in_string {
                    self.push(")");
                    in_string = false;
                }
                self.push(&kern.to_string());
            }
            if !in_string {
                self.push("(");
                in_string = true;
            }
            for byte in code.to_be_bytes() {
                match byte {
                    b'(' | b')' | b'\\' => self.out.extend_from_slice(&[b'\\', byte]),
                    b'\r' => self.push("\\r"),
                    b'\n' => self.push("\\n"),
                    _ => self.out.push(byte),
                }
            }
            pending = i64::from(width) - i64::from(glyph.advance) + i64::from(glyph.dx);
        }
        if in_string {
            self.push(")");
        }
        self.push("]TJ\n");
        if raised != 0 {
            self.push("0 Ts\n");
        }
        self.push("ET\n");
    }

    fn shape(&mut self, at: (f64, f64), shape: &PageShape) {
        if let Some(color) = shape.fill {
            self.fill(color);
        }
        if let Some(stroke) = &shape.stroke {
            let operator = self.sheet.ink.stroke(stroke.color);
            self.push(&operator);
            self.number(stroke.width);
            self.push("w ");
            if let Some((dash, gap)) = stroke.dash {
                self.push("[");
                self.number(dash);
                self.number(gap);
                self.push("] 0 d\n");
            }
        }
        let height = self.height;
        for segment in &shape.path {
            let mut point = |x: f64, y: f64| {
                push_number(&mut self.out, at.0 + x);
                push_number(&mut self.out, height - at.1 - y);
            };
            match *segment {
                Segment::Move(x, y) => {
                    point(x, y);
                    self.push("m ");
                }
                Segment::Line(x, y) => {
                    point(x, y);
                    self.push("l ");
                }
                Segment::Curve(x1, y1, x2, y2, x, y) => {
                    point(x1, y1);
                    point(x2, y2);
                    point(x, y);
                    self.push("c ");
                }
                Segment::Close => self.push("h "),
            }
        }
        self.push(match (shape.fill.is_some(), shape.stroke.is_some()) {
            (true, true) => "B\n",
            (true, false) => "f\n",
            (false, true) => "S\n",
            (false, false) => "n\n",
        });
        if shape.stroke.is_some_and(|s| s.dash.is_some()) {
            self.push("[] 0 d\n");
        }
    }

    fn figure(&mut self, at: (f64, f64), name: &FigureName, crop: Option<Crop>, size: (f64, f64)) {
        let Some(figure) = self.sheet.figures.get(name) else { return };
        let [a, b, c, d, e, f] = figure.base;
        let (mut at, (mut w, mut h)) = (at, size);
        self.push("q ");
        if let Some(crop) = crop {
            for value in [at.0, self.height - at.1 - h, w, h] {
                self.number(value);
            }
            self.push("re W n ");
            let whole = crop.around(w, h);
            at = (at.0 + whole.0, at.1 + whole.1);
            (w, h) = (whole.2, whole.3);
        }
        for value in [a * w, b * h, c * w, d * h] {
            push_fine(&mut self.out, value);
        }
        self.number(at.0 + e * w);
        self.number(self.height - at.1 - h + f * h);
        let call = format!("cm /{} Do Q\n", figure.resource);
        self.push(&call);
    }
}

/// A number with two places and a space behind it. What is no number is written as 0.
pub fn push_number(out: &mut Vec<u8>, value: f64) {
    push_fixed(out, value, 100, 2);
}

/// A number with six places, for scales.
pub fn push_fine(out: &mut Vec<u8>, value: f64) {
    push_fixed(out, value, 1_000_000, 6);
}

fn push_fixed(out: &mut Vec<u8>, value: f64, scale: i64, places: usize) {
    let scaled = if value.is_finite() { (value * scale as f64).round() as i64 } else { 0 };
    if scaled < 0 {
        out.push(b'-');
    }
    let (whole, mut rest) = (scaled.unsigned_abs() / scale as u64, scaled.unsigned_abs() % scale as u64);
    let mut digits = [0u8; 20];
    let mut at = digits.len();
    let mut n = whole;
    loop {
        at -= 1;
        digits[at] = b'0' + (n % 10) as u8;
        n /= 10;
        if n == 0 {
            break;
        }
    }
    out.extend_from_slice(&digits[at..]);
    if rest != 0 {
        let mut tail = [b'0'; 8];
        for slot in tail[..places].iter_mut().rev() {
            *slot = b'0' + (rest % 10) as u8;
            rest /= 10;
        }
        let mut end = places;
        while tail[end - 1] == b'0' {
            end -= 1;
        }
        out.push(b'.');
        out.extend_from_slice(&tail[..end]);
    }
    out.push(b' ');
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_exact_to_a_hundredth() {
        let show = |v: f64| {
            let mut out = Vec::new();
            push_number(&mut out, v);
            String::from_utf8(out).unwrap()
        };
        for (value, text) in [
            (0.0, "0 "),
            (-0.004, "0 "),
            (12.5, "12.5 "),
            (-3.456, "-3.46 "),
            (1000.0, "1000 "),
            (f64::NAN, "0 "),
            (0.05, "0.05 "),
        ] {
            assert_eq!(show(value), text);
        }
    }
}
