//! Colours as they are seen: how light, how far apart, what they are called.
//!
//! Owns: those measures, with their sources. Must not know: pictures, what is printed.

use super::grey::luminance;

/// CIE 1976 L* of a colour 0xRRGGBB from its luminance (CIE 15; ISO/CIE 11664-4), 0 to 100. Grey keeps it.
pub fn lightness(color: u32) -> f64 {
    let y = luminance(color);
    if y > 216.0 / 24389.0 { 116.0 * libm::cbrt(y) - 16.0 } else { y * 24389.0 / 27.0 }
}

/// WCAG 2.2 contrast ratio of two colours, 1 to 21. Grey keeps it.
pub fn contrast(a: u32, b: u32) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

fn channels(color: u32) -> (f64, f64, f64) {
    let part = |shift: u32| f64::from((color >> shift) & 0xFF);
    (part(16), part(8), part(0))
}

/// What a colour is called; None for black, white, grey, and what is nearly so.
pub fn hue(color: u32) -> Option<Hue> {
    let (r, g, b) = channels(color);
    let (most, least) = (r.max(g).max(b), r.min(g).min(b));
    let span = most - least;
    if span <= 40.0 {
        return None;
    }
    let degrees = if most == r {
        (60.0 * (g - b) / span + 360.0) % 360.0
    } else if most == g {
        60.0 * (b - r) / span + 120.0
    } else {
        60.0 * (r - g) / span + 240.0
    };
    Some(match degrees as u32 {
        0..=14 | 345.. => Hue::Red,
        15..=44 if most < 160.0 => Hue::Brown,
        15..=44 => Hue::Orange,
        45..=69 => Hue::Yellow,
        70..=164 => Hue::Green,
        165..=199 => Hue::Turquoise,
        200..=259 => Hue::Blue,
        260..=294 => Hue::Purple,
        _ => Hue::Pink,
    })
}

/// A colour as people name it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hue {
    Red,
    Orange,
    Brown,
    Yellow,
    Green,
    Turquoise,
    Blue,
    Purple,
    Pink,
}

impl Hue {
    pub const ALL: [Self; 9] = [
        Self::Red,
        Self::Orange,
        Self::Brown,
        Self::Yellow,
        Self::Green,
        Self::Turquoise,
        Self::Blue,
        Self::Purple,
        Self::Pink,
    ];

    pub fn word(self) -> &'static str {
        match self {
            Self::Red => "red",
            Self::Orange => "orange",
            Self::Brown => "brown",
            Self::Yellow => "yellow",
            Self::Green => "green",
            Self::Turquoise => "turquoise",
            Self::Blue => "blue",
            Self::Purple => "purple",
            Self::Pink => "pink",
        }
    }

    /// What else people call it in English.
    pub fn words(self) -> &'static [&'static str] {
        match self {
            Self::Red => &["red"],
            Self::Orange => &["orange"],
            Self::Brown => &["brown"],
            Self::Yellow => &["yellow"],
            Self::Green => &["green"],
            Self::Turquoise => &["turquoise", "cyan", "teal"],
            Self::Blue => &["blue"],
            Self::Purple => &["purple", "violet"],
            Self::Pink => &["pink", "magenta"],
        }
    }
}
