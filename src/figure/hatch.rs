//! Hatches for colours that grey can't tell apart.
//!
//! Owns: which filled colours of a drawing need one, and what they are called. Must not know: pages, files.

use std::collections::BTreeSet;

use super::drawing::{Op, Paint, Vector};
use super::grey::luminance;

/// A way to fill with lines, told apart by direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hatch {
    Rising,
    Falling,
    Upright,
    Level,
    Crossed,
}

impl Hatch {
    const ALL: [Self; 5] = [Self::Rising, Self::Falling, Self::Upright, Self::Level, Self::Crossed];

    /// Directions of its lines in degrees from level, rising to the right.
    pub fn directions(self) -> &'static [f64] {
        match self {
            Self::Rising => &[45.0],
            Self::Falling => &[135.0],
            Self::Upright => &[90.0],
            Self::Level => &[0.0],
            Self::Crossed => &[45.0, 135.0],
        }
    }
}

/// A colour of a drawing with the hatch that stands for it in grey.
#[derive(Clone, Debug, PartialEq)]
pub struct KeyEntry {
    /// 0xRRGGBB.
    pub color: u32,
    pub hatch: Hatch,
    /// What the colour is called.
    pub name: &'static str,
}

/// Difference in CIE L* below which two greys are not told apart on a print (common practice).
const CLOSE: f64 = 12.0;

/// The key of a drawing: every filled colour whose grey another colour's comes too near, in the order of colours.
/// Of more colours than there are hatches the last share the crossed one; their names are then in its key twice.
pub fn colour_key(vector: &Vector) -> Vec<KeyEntry> {
    let mut colors = BTreeSet::new();
    collect(&vector.ops, &mut colors);
    let colors: Vec<u32> = colors.into_iter().collect();
    let clashing = colors.iter().copied().filter(|&a| {
        colors.iter().any(|&b| a != b && hue_name(a) != hue_name(b) && (lightness(a) - lightness(b)).abs() < CLOSE)
    });
    clashing
        .enumerate()
        .map(|(i, color)| KeyEntry { color, hatch: Hatch::ALL[i.min(Hatch::ALL.len() - 1)], name: hue_name(color) })
        .collect()
}

fn collect(ops: &[Op], colors: &mut BTreeSet<u32>) {
    for op in ops {
        match op {
            Op::Group { ops, .. } => collect(ops, colors),
            Op::Fill { paint: Paint::Solid(color), opacity, .. } if *opacity > 0.3 && is_colourful(*color) => {
                colors.insert(*color);
            }
            _ => {}
        }
    }
}

fn channels(color: u32) -> (f64, f64, f64) {
    let part = |shift: u32| f64::from((color >> shift) & 0xFF);
    (part(16), part(8), part(0))
}

fn is_colourful(color: u32) -> bool {
    let (r, g, b) = channels(color);
    r.max(g).max(b) - r.min(g).min(b) > 40.0
}

/// CIE 1976 L* from luminance (CIE 15), 0 to 100.
fn lightness(color: u32) -> f64 {
    let y = luminance(color);
    if y > 216.0 / 24389.0 { 116.0 * libm::cbrt(y) - 16.0 } else { y * 24389.0 / 27.0 }
}

/// The name of a colour by its hue; dark orange is brown.
fn hue_name(color: u32) -> &'static str {
    let (r, g, b) = channels(color);
    let (most, least) = (r.max(g).max(b), r.min(g).min(b));
    let span = (most - least).max(1.0);
    let hue = if most == r {
        (60.0 * (g - b) / span + 360.0) % 360.0
    } else if most == g {
        60.0 * (b - r) / span + 120.0
    } else {
        60.0 * (r - g) / span + 240.0
    };
    match hue as u32 {
        0..=14 | 345.. => "red",
        15..=44 if most < 160.0 => "brown",
        15..=44 => "orange",
        45..=69 => "yellow",
        70..=164 => "green",
        165..=199 => "turquoise",
        200..=259 => "blue",
        260..=294 => "purple",
        _ => "pink",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::FillRule;

    fn drawing(colors: &[u32]) -> Vector {
        let fill =
            |&c: &u32| Op::Fill { path: Vec::new(), rule: FillRule::NonZero, paint: Paint::Solid(c), opacity: 1.0 };
        Vector { width: 1.0, height: 1.0, ops: colors.iter().map(fill).collect(), missing: Vec::new() }
    }

    /// L* of the pairs as computed apart from this program: #FF0000 53.2 and #D05D29 53.4; #C8102E and #2E7D32 differ by 3.7.
    #[test]
    fn colours_of_one_grey_get_hatches() {
        let key = colour_key(&drawing(&[0xC8_10_2E, 0x2E_7D_32]));
        assert_eq!(key.iter().map(|k| k.name).collect::<Vec<_>>(), ["green", "red"]);
        assert_ne!(key[0].hatch, key[1].hatch);
        assert_eq!(colour_key(&drawing(&[0xFF_00_00, 0xD0_5D_29])).len(), 2);
        assert!(colour_key(&drawing(&[0xF9_A8_00, 0x00_53_87])).is_empty(), "light and dark are told apart");
        assert!(colour_key(&drawing(&[0x77_77_77, 0x76_76_76])).is_empty(), "greys are no colours");
    }
}
