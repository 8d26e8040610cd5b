//! The compiler's own drawings as SVG in the page.
//!
//! Owns: the markup. Must not know: what is drawn.

use tera::Value;

use super::blocks::{PageWriter, map, markup};
use super::inline::escape;
use crate::document::Drawn;
use crate::drawing::{Align, Drawing, Ink, Path, PathSegment, Text, Tone, plain_words};
use crate::emit::EmitError;
use crate::units::UnitStyle;

impl PageWriter<'_> {
    pub fn drawing(&mut self, drawn: &Drawn) -> Result<Value, EmitError> {
        let caption = if drawn.caption.is_empty() { Value::none() } else { markup(&self.line(&drawn.caption)?) };
        Ok(map([("svg", markup(&svg(&drawn.drawing, self.units()))), ("caption", caption)]))
    }
}

/// A drawing as an `svg` element, a unit a millimetre.
fn svg(drawing: &Drawing, units: UnitStyle) -> String {
    let mut out = String::with_capacity(8 * 1024);
    out.push_str("<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-label=\"");
    escape(&drawing.alt, &mut out);
    let (w, h) = (number(drawing.width), number(drawing.height));
    out.push_str(&format!("\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\">"));
    for ink in drawing.ink() {
        match &ink {
            Ink::Stroke { path, width } => {
                out.push_str("<path d=\"");
                data(path, &mut out);
                let width = number(*width);
                out.push_str(&format!(
                    "\" fill=\"none\" stroke=\"#000\" stroke-width=\"{width}\" stroke-linecap=\"round\" stroke-linejoin=\"round\"/>"
                ));
            }
            Ink::Fill { path, tone } => {
                out.push_str("<path d=\"");
                data(path, &mut out);
                out.push_str(match tone {
                    Tone::Black => "\" fill=\"#000\"/>",
                    Tone::White => "\" fill=\"#fff\"/>",
                });
            }
            Ink::Text(text) => push_text(text, units, &mut out),
        }
    }
    out.push_str("</svg>");
    out
}

fn push_text(text: &Text, units: UnitStyle, out: &mut String) {
    let anchor = match text.align {
        Align::Start => "",
        Align::Middle => " text-anchor=\"middle\"",
        Align::End => " text-anchor=\"end\"",
    };
    let weight = if text.bold { " font-weight=\"700\"" } else { "" };
    out.push_str(&format!(
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\"{anchor}{weight}>",
        number(text.at.0),
        number(text.at.1),
        number(text.size)
    ));
    escape(&plain_words(&text.words, units), out);
    out.push_str("</text>");
}

fn data(path: &Path, out: &mut String) {
    let mut point = |letter: &str, points: &[(f64, f64)]| {
        out.push_str(letter);
        for (i, p) in points.iter().enumerate() {
            if i > 0 {
                out.push(' ');
            }
            out.push_str(&format!("{} {}", number(p.0), number(p.1)));
        }
    };
    for segment in &path.0 {
        match *segment {
            PathSegment::Move(p) => point("M", &[p]),
            PathSegment::Line(p) => point("L", &[p]),
            PathSegment::Curve(a, b, end) => point("C", &[a, b, end]),
            PathSegment::Close => point("Z", &[]),
        }
    }
}

/// Thousandths of a millimetre, without idle zeros.
fn number(value: f64) -> String {
    let rounded = (value * 1000.0).round() / 1000.0;
    // No negative zero.
    format!("{}", rounded + 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{LineType, Word};
    use crate::units::Length;

    #[test]
    fn a_drawing_is_sound_svg_with_its_words_escaped() {
        let mut drawing = Drawing::new(40.0, 20.0, "a <line> & \"more\"");
        drawing.path(Path::circle((10.0, 10.0), 5.0), LineType::Centre);
        drawing.words((20.0, 10.0), Align::Middle, vec![Word::text("<b>"), Word::Length(Length::inches(3, 2))]);
        let markup = svg(&drawing, UnitStyle::InchFraction);
        let read = roxmltree::Document::parse(&markup).expect("well-formed");
        let root = read.root_element();
        assert_eq!(root.attribute("aria-label"), Some("a <line> & \"more\""));
        assert_eq!(root.attribute("viewBox"), Some("0 0 40 20"));
        let text = read.descendants().find(|n| n.has_tag_name(("http://www.w3.org/2000/svg", "text"))).expect("a text");
        assert_eq!(text.text(), Some("<b>1 1/2 in"));
        assert!(!markup.contains("NaN") && !markup.contains("-0 "));
    }
}
