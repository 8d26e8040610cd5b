//! A vector picture as a form: drawing operations written out, with the states and shadings they call.
//!
//! Owns: operators of vector pictures. Must not know: files, pages.

use lopdf::{Dictionary, Object, dictionary};

use super::content::{push_fine, push_number};
use super::deflate;
use super::ink::{PdfInk, three};
use super::pictures::{Image, image};
use crate::figure::{
    FillRule, Gradient, GradientKind, GreyMark, Hatch, KeyEntry, Op, Paint, PathPart, StrokeLook, Undrawable, Vector,
    grey_of, middle,
};
use crate::layout::Color;

pub struct PdfForm {
    pub width: f64,
    pub height: f64,
    pub content: Vec<u8>,
    /// Whether it is put over what lies below as one.
    pub is_group: bool,
    pub images: Vec<(String, Image)>,
    pub forms: Vec<(String, PdfForm)>,
    pub states: Dictionary,
    pub shadings: Dictionary,
}

struct FormWriter {
    ink: PdfInk,
    out: Vec<u8>,
    form: PdfForm,
    /// What stands for colours that grey can't tell apart; nothing in colour.
    key: Vec<KeyEntry>,
    /// Distance of hatch lines in the picture's units, and how much the current matrix enlarges.
    gap: f64,
    scale: f64,
}

/// Writes a vector picture, in grey with the marks of `key`. Its form's space is the picture's own units with y up.
pub fn form(vector: &Vector, ink: PdfInk, key: &[KeyEntry]) -> Result<PdfForm, Undrawable> {
    let mut writer = FormWriter::new(vector.width, vector.height, ink);
    if ink == PdfInk::Grey {
        writer.key = key.to_vec();
        writer.gap = vector.width.max(vector.height) / 90.0;
    }
    // The picture's y runs down.
    writer.push("1 0 0 -1 0 ");
    writer.number(vector.height);
    writer.push("cm\n");
    writer.ops(&vector.ops)?;
    Ok(writer.finish(false))
}

impl FormWriter {
    fn new(width: f64, height: f64, ink: PdfInk) -> Self {
        let form = PdfForm {
            width: width.max(0.01),
            height: height.max(0.01),
            content: Vec::new(),
            is_group: false,
            images: Vec::new(),
            forms: Vec::new(),
            states: Dictionary::new(),
            shadings: Dictionary::new(),
        };
        Self { ink, out: Vec::new(), form, key: Vec::new(), gap: 1.0, scale: 1.0 }
    }

    fn finish(self, is_group: bool) -> PdfForm {
        PdfForm { content: deflate(&self.out), is_group, ..self.form }
    }

    fn push(&mut self, text: &str) {
        self.out.extend_from_slice(text.as_bytes());
    }

    fn number(&mut self, value: f64) {
        push_number(&mut self.out, value);
    }

    fn matrix(&mut self, m: &[f64; 6]) {
        for value in m {
            push_fine(&mut self.out, *value);
        }
        self.push("cm\n");
    }

    fn ops(&mut self, ops: &[Op]) -> Result<(), Undrawable> {
        ops.iter().try_for_each(|op| self.op(op))
    }

    fn op(&mut self, op: &Op) -> Result<(), Undrawable> {
        match op {
            Op::Group { matrix, clips, opacity, ops, .. } => {
                self.push("q\n");
                self.matrix(matrix);
                let outer = self.scale;
                self.scale *= (matrix[0] * matrix[3] - matrix[1] * matrix[2]).abs().sqrt();
                for (path, rule) in clips {
                    self.path(path);
                    self.push(if *rule == FillRule::EvenOdd { "W* n\n" } else { "W n\n" });
                }
                if *opacity < 1.0 {
                    self.whole(*opacity, ops)?;
                } else {
                    self.ops(ops)?;
                }
                self.scale = outer;
                self.push("Q\n");
            }
            Op::Fill { path, rule, paint, opacity } => self.fill(path, *rule, paint, *opacity),
            Op::Stroke { path, color, opacity, look } => self.stroke(path, *color, *opacity, look),
            Op::Raster { raster, place } => {
                let name = format!("I{}", self.form.images.len());
                self.form.images.push((name.clone(), image(raster, self.ink, None)?));
                let [x, y, width, height] = *place;
                self.push("q\n");
                // Down-running y again: the image stands on its head otherwise.
                self.matrix(&[width, 0.0, 0.0, -height, x, y + height]);
                let upright = super::pictures::upright(raster.turn);
                self.matrix(&upright);
                self.push(&format!("/{name} Do\nQ\n"));
            }
        }
        Ok(())
    }

    /// Operations put over the rest as one, so that what overlaps inside does not show through.
    fn whole(&mut self, opacity: f64, ops: &[Op]) -> Result<(), Undrawable> {
        // The inner form has the same space; its box is wide enough for any content of a picture.
        let mut inner = FormWriter::new(1.0, 1.0, self.ink);
        (inner.key, inner.gap, inner.scale) = (self.key.clone(), self.gap, self.scale);
        inner.ops(ops)?;
        let mut form = inner.finish(true);
        (form.width, form.height) = (WIDE, WIDE);
        let name = format!("X{}", self.form.forms.len());
        self.form.forms.push((name.clone(), form));
        self.state(opacity);
        self.push(&format!("/{name} Do\n"));
        Ok(())
    }

    fn state(&mut self, opacity: f64) {
        let thousandths = (opacity.clamp(0.0, 1.0) * 1000.0).round() as i64;
        let name = format!("S{thousandths}");
        let value = Object::Real(thousandths as f32 / 1000.0);
        self.form.states.set(name.as_str(), dictionary! { "ca" => value.clone(), "CA" => value });
        self.push(&format!("/{name} gs\n"));
    }

    fn fill(&mut self, path: &[PathPart], rule: FillRule, paint: &Paint, opacity: f64) {
        let even_odd = rule == FillRule::EvenOdd;
        if opacity < 1.0 {
            self.push("q\n");
            self.state(opacity);
        }
        match paint {
            Paint::Solid(color) => {
                let operator = self.ink.fill(Color(*color));
                self.push(&operator);
                self.path(path);
                self.push(if even_odd { "f*\n" } else { "f\n" });
            }
            Paint::Gradient(gradient) => {
                let name = format!("H{}", self.form.shadings.len());
                self.form.shadings.set(name.as_str(), shading(gradient, self.ink));
                self.push("q\n");
                self.path(path);
                self.push(if even_odd { "W* n\n" } else { "W n\n" });
                self.matrix(&gradient.matrix);
                self.push(&format!("/{name} sh\nQ\n"));
            }
        }
        let color = middle(paint);
        if let Some(hatch) = self.key.iter().filter(|k| k.color == color).find_map(|k| match k.mark {
            GreyMark::Hatch(hatch) => Some(hatch),
            GreyMark::Dashes(_) => None,
        }) {
            self.hatch(path, rule, hatch, color);
        }
        if opacity < 1.0 {
            self.push("Q\n");
        }
    }

    /// Lines over a filled path, in whichever of black and white stands out.
    fn hatch(&mut self, path: &[PathPart], rule: FillRule, hatch: Hatch, ground: u32) {
        let Some((left, top, right, bottom)) = bounds(path) else { return };
        let gap = self.gap / self.scale.max(1e-6);
        let (cx, cy) = ((left + right) / 2.0, (top + bottom) / 2.0);
        let reach = (right - left + bottom - top) / 2.0 + gap;
        // A shape much larger than the picture needs no more lines than the picture would.
        let count = (reach / gap).min(400.0) as i32;
        self.push("q\n");
        self.path(path);
        self.push(if rule == FillRule::EvenOdd { "W* n\n" } else { "W n\n" });
        let color = if grey_of(ground) < 0.5 { Color::WHITE } else { Color::BLACK };
        let operator = self.ink.stroke(color);
        self.push(&operator);
        push_fine(&mut self.out, gap * 0.2);
        self.push("w\n");
        if hatch.broken {
            self.push("[");
            self.number(gap * 0.9);
            self.number(gap * 0.6);
            self.push("] 0 d\n");
        }
        for &degrees in hatch.directions {
            let angle: f64 = degrees.to_radians();
            let (dx, dy) = (libm::cos(angle), -libm::sin(angle));
            for i in -count..=count {
                let step = gap * f64::from(i);
                let (px, py) = (cx - dy * step, cy + dx * step);
                self.path(&[
                    PathPart::Move(px - dx * reach, py - dy * reach),
                    PathPart::Line(px + dx * reach, py + dy * reach),
                ]);
            }
            self.push("S\n");
        }
        self.push("Q\n");
    }

    fn stroke(&mut self, path: &[PathPart], color: u32, opacity: f64, look: &StrokeLook) {
        self.push("q\n");
        if opacity < 1.0 {
            self.state(opacity);
        }
        let operator = self.ink.stroke(Color(color));
        self.push(&operator);
        push_fine(&mut self.out, look.width);
        self.push(&format!("w {} J {} j ", look.cap, look.join));
        self.number(look.miter_limit.max(1.0));
        self.push("M\n");
        let own = look.dashes.iter().any(|d| *d > 0.0);
        let marked = self.key.iter().filter(|k| k.color == color && !own).find_map(|k| match k.mark {
            GreyMark::Dashes(dashes) => Some(dashes),
            GreyMark::Hatch(_) => None,
        });
        let dashes: Vec<f64> = match marked {
            Some(dashes) => dashes.iter().map(|d| d * look.width).collect(),
            None if own => look.dashes.clone(),
            None => Vec::new(),
        };
        if !dashes.is_empty() {
            self.push("[");
            for dash in &dashes {
                self.number(dash.max(0.0));
            }
            self.push("] ");
            self.number(look.dash_offset);
            self.push("d\n");
        }
        self.path(path);
        self.push("S\nQ\n");
    }

    fn path(&mut self, path: &[PathPart]) {
        for part in path {
            match *part {
                PathPart::Move(x, y) => {
                    self.number(x);
                    self.number(y);
                    self.push("m ");
                }
                PathPart::Line(x, y) => {
                    self.number(x);
                    self.number(y);
                    self.push("l ");
                }
                PathPart::Curve(x1, y1, x2, y2, x, y) => {
                    for value in [x1, y1, x2, y2, x, y] {
                        self.number(value);
                    }
                    self.push("c ");
                }
                PathPart::Close => self.push("h "),
            }
        }
    }
}

/// Left, top, right, bottom of a path's points.
fn bounds(path: &[PathPart]) -> Option<(f64, f64, f64, f64)> {
    let points = path.iter().flat_map(|part| match *part {
        PathPart::Move(x, y) | PathPart::Line(x, y) => vec![(x, y)],
        PathPart::Curve(a, b, c, d, x, y) => vec![(a, b), (c, d), (x, y)],
        PathPart::Close => Vec::new(),
    });
    points.fold(None, |bounds, (x, y)| {
        let (l, t, r, b) = bounds.unwrap_or((x, y, x, y));
        Some((l.min(x), t.min(y), r.max(x), b.max(y)))
    })
}

/// Wider than any picture's own space.
const WIDE: f64 = 100_000.0;

/// A shading dictionary (ISO 32000-1, 8.7.4.5) with a function that goes through the stops.
fn shading(gradient: &Gradient, ink: PdfInk) -> Dictionary {
    let (kind, coords) = match gradient.kind {
        GradientKind::Linear(c) => (2, c.to_vec()),
        GradientKind::Radial(c) => (3, c.to_vec()),
    };
    let space = if ink == PdfInk::Grey { "DeviceGray" } else { "DeviceRGB" };
    dictionary! {
        "ShadingType" => kind,
        "ColorSpace" => space,
        "Coords" => Object::Array(coords.into_iter().map(|v| Object::Real(v as f32)).collect()),
        "Extend" => Object::Array(vec![true.into(), true.into()]),
        "Function" => function(&gradient.stops, ink),
    }
}

fn function(stops: &[(f64, u32)], ink: PdfInk) -> Dictionary {
    let color = |c: u32| -> Object {
        let parts: Vec<f64> = match ink {
            PdfInk::Grey => vec![grey_of(c)],
            PdfInk::Colour => [16, 8, 0].iter().map(|s| f64::from((c >> s) & 0xFF) / 255.0).collect(),
        };
        Object::Array(parts.into_iter().map(|v| Object::Real(three(v).parse().unwrap_or(0.0))).collect())
    };
    let unit = || Object::Array(vec![0.into(), 1.into()]);
    let between = |a: u32, b: u32| dictionary! { "FunctionType" => 2, "Domain" => unit(), "C0" => color(a), "C1" => color(b), "N" => 1 };
    // Before the first stop and behind the last their colours go on.
    let mut points: Vec<(f64, u32)> = stops.to_vec();
    if let Some(&(offset, c)) = points.first()
        && offset > 0.0
    {
        points.insert(0, (0.0, c));
    }
    if let Some(&(offset, c)) = points.last()
        && offset < 1.0
    {
        points.push((1.0, c));
    }
    // Bounds must rise: a stop upon another jumps by a step too small to be seen.
    let mut bounds: Vec<f64> = Vec::new();
    for &(offset, _) in &points[1..points.len() - 1] {
        let least = bounds.last().copied().unwrap_or(0.0) + 1e-5;
        bounds.push(offset.clamp(least.min(0.999_99), 0.999_99));
    }
    if points.len() == 2 {
        return between(points[0].1, points[1].1);
    }
    let functions: Vec<Object> = points.windows(2).map(|w| between(w[0].1, w[1].1).into()).collect();
    let encode: Vec<Object> = functions.iter().flat_map(|_| [Object::from(0), Object::from(1)]).collect();
    dictionary! {
        "FunctionType" => 3,
        "Domain" => unit(),
        "Functions" => Object::Array(functions),
        "Bounds" => Object::Array(bounds.into_iter().map(|b| Object::Real(b as f32)).collect()),
        "Encode" => Object::Array(encode),
    }
}
