//! Colours as written: sRGB in colour, one grey of the same luminance in grey.
//!
//! Owns: colour operators. Must not know: what is coloured.

use crate::figure::grey_of;
use crate::layout::Color;

/// The ink a document is printed with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PdfInk {
    Colour,
    Grey,
}

impl PdfInk {
    /// The operator that sets the fill colour.
    pub fn fill(self, color: Color) -> String {
        match self {
            Self::Colour => format!("{} rg\n", rgb(color)),
            Self::Grey => format!("{} g\n", three(grey_of(color.0))),
        }
    }

    /// The operator that sets the stroke colour.
    pub fn stroke(self, color: Color) -> String {
        match self {
            Self::Colour => format!("{} RG\n", rgb(color)),
            Self::Grey => format!("{} G\n", three(grey_of(color.0))),
        }
    }
}

fn rgb(color: Color) -> String {
    let part = |shift: u32| three(f64::from((color.0 >> shift) & 0xFF) / 255.0);
    format!("{} {} {}", part(16), part(8), part(0))
}

/// Three places, trailing zeros dropped.
pub fn three(value: f64) -> String {
    let thousandths = (value.clamp(0.0, 1.0) * 1000.0).round() as i64;
    match thousandths {
        0 => "0".to_owned(),
        1000 => "1".to_owned(),
        n => format!("0.{n:03}").trim_end_matches('0').to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn grey_ink_writes_no_colour_operator() {
        assert_eq!(PdfInk::Grey.fill(Color(0xFF_00_00)), "0.498 g\n");
        assert_eq!(PdfInk::Colour.fill(Color(0xFF_00_00)), "1 0 0 rg\n");
        assert_eq!(PdfInk::Grey.stroke(Color::BLACK), "0 G\n");
    }
}
