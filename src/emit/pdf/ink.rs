//! Colours as written: sRGB in colour, one grey of the same luminance in grey.
//!
//! Owns: colour operators. Must not know: what is coloured.

use crate::layout::{Color, luminance};

/// The ink a document is printed with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    Colour,
    Grey,
}

/// The grey of a colour, 0 black to 1 white: the sRGB value of the same relative luminance (WCAG 2.2, IEC 61966-2-1).
pub fn grey(color: Color) -> f64 {
    let y = luminance(color);
    if y <= 0.003_130_8 { y * 12.92 } else { 1.055 * libm::pow(y, 1.0 / 2.4) - 0.055 }
}

impl Ink {
    /// The operator that sets the fill colour.
    pub fn fill(self, color: Color) -> String {
        match self {
            Self::Colour => format!("{} rg\n", rgb(color)),
            Self::Grey => format!("{} g\n", three(grey(color))),
        }
    }

    /// The operator that sets the stroke colour.
    pub fn stroke(self, color: Color) -> String {
        match self {
            Self::Colour => format!("{} RG\n", rgb(color)),
            Self::Grey => format!("{} G\n", three(grey(color))),
        }
    }
}

fn rgb(color: Color) -> String {
    let part = |shift: u32| three(f64::from((color.0 >> shift) & 0xFF) / 255.0);
    format!("{} {} {}", part(16), part(8), part(0))
}

/// Three places, trailing zeros dropped.
fn three(value: f64) -> String {
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

    /// L* from a grey, by CIE 15 from its luminance.
    fn lightness(grey: f64) -> f64 {
        let y = if grey <= 0.04045 { grey / 12.92 } else { libm::pow((grey + 0.055) / 1.055, 2.4) };
        if y > 216.0 / 24389.0 { 116.0 * libm::cbrt(y) - 16.0 } else { y * 24389.0 / 27.0 }
    }

    /// Published lightness of the ISO 3864 safety colours (CIE L* after CIE 17-23-076 of sRGB values).
    #[test]
    fn grey_keeps_the_lightness_of_a_colour() {
        for (color, expected) in [
            (0x76_76_76, 49.637),
            (0xFF_00_00, 53.233),
            (0x00_00_FF, 32.303),
            (0xFF_FF_00, 97.138),
            (0xF9_A8_00, 74.916),
            (0xD0_5D_29, 53.383),
            (0x9B_24_23, 34.705),
            (0x00_53_87, 33.849),
            (0x23_7F_52, 47.164),
        ] {
            let got = lightness(grey(Color(color)));
            assert!((got - expected).abs() < 0.05, "{color:06x}: {got} against {expected}");
        }
    }

    #[test]
    fn grey_ink_writes_no_colour_operator() {
        assert_eq!(Ink::Grey.fill(Color(0xFF_00_00)), "0.498 g\n");
        assert_eq!(Ink::Colour.fill(Color(0xFF_00_00)), "1 0 0 rg\n");
        assert_eq!(Ink::Grey.stroke(Color::BLACK), "0 G\n");
    }
}
