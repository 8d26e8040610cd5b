//! What stands for a colour where grey can't tell it from another: hatches for areas, dashes for lines.
//!
//! Owns: which colours of a drawing need one, and the fixed key: a colour has the same mark in every drawing.
//! Must not know: pages, files.

use std::collections::{BTreeMap, BTreeSet};

use super::colours::{Hue, hue, lightness};
use super::drawing::{Gradient, Op, Paint, Vector};
use super::limits::MOST_COLOURS;

/// How an area is filled with lines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hatch {
    /// Directions of its lines in degrees from level, rising to the right.
    pub directions: &'static [f64],
    pub broken: bool,
}

/// What stands for a colour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum GreyMark {
    Hatch(Hatch),
    /// Lengths of strokes and gaps in widths of the line; none for an unbroken one.
    Dashes(&'static [f64]),
}

/// A colour of a drawing with what stands for it in grey.
#[derive(Clone, Debug, PartialEq)]
pub struct KeyEntry {
    /// 0xRRGGBB; of a gradient the colour in its middle.
    pub color: u32,
    pub mark: GreyMark,
    /// What the colour is called.
    pub name: &'static str,
}

/// Difference in CIE L* below which two greys are not told apart (CIE 17-23-076, lightness; the value is common
/// practice).
pub const CLOSE: f64 = 15.0;

/// The fixed key of areas.
fn hatch(hue: Hue) -> Hatch {
    let (directions, broken): (&[f64], bool) = match hue {
        Hue::Red => (&[90.0], false),
        Hue::Blue => (&[0.0], false),
        Hue::Green => (&[135.0], false),
        Hue::Purple => (&[45.0], false),
        Hue::Brown => (&[45.0, 135.0], false),
        Hue::Turquoise => (&[0.0, 90.0], false),
        Hue::Orange => (&[90.0], true),
        Hue::Yellow => (&[0.0], true),
        Hue::Pink => (&[45.0], true),
    };
    Hatch { directions, broken }
}

/// The fixed key of lines.
fn dashes(hue: Hue) -> &'static [f64] {
    match hue {
        Hue::Red => &[],
        Hue::Blue => &[6.0, 2.5],
        Hue::Green => &[2.5, 2.5],
        Hue::Purple => &[7.0, 2.0, 1.5, 2.0],
        Hue::Brown => &[7.0, 2.0, 1.5, 2.0, 1.5, 2.0],
        Hue::Turquoise => &[12.0, 3.0],
        Hue::Orange => &[1.2, 1.8],
        Hue::Yellow => &[4.0, 1.5],
        Hue::Pink => &[12.0, 2.0, 3.0, 2.0],
    }
}

/// Two colours of a drawing that mean different things and are one in grey.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alike {
    pub colors: (u32, u32),
    pub hues: (Hue, Hue),
    /// How far apart they are in CIE L*.
    pub apart: f64,
}

impl Alike {
    /// A colour of the two, and what to draw in its place so that they are told apart: the darker one darker still, or
    /// where that is not enough the lighter one lighter.
    pub fn suggestion(&self) -> (u32, u32) {
        let (a, b) = self.colors;
        let (dark, light) = if lightness(a) <= lightness(b) { (a, b) } else { (b, a) };
        let darker = toward(dark, 0x00_00_00, |c| lightness(light) - lightness(c) >= CLOSE);
        match darker {
            Some(darker) if hue(darker).is_some() => (dark, darker),
            _ => (light, toward(light, 0xFF_FF_FF, |c| lightness(c) - lightness(dark) >= CLOSE).unwrap_or(0xFF_FF_FF)),
        }
    }
}

/// The first colour on the way from one to another that will do; None where none does.
pub(super) fn toward(from: u32, to: u32, will_do: impl Fn(u32) -> bool) -> Option<u32> {
    (0..=100u32)
        .map(|percent| {
            let part =
                |shift: u32| (((from >> shift) & 0xFF) * (100 - percent) + ((to >> shift) & 0xFF) * percent) / 100;
            part(16) << 16 | part(8) << 8 | part(0)
        })
        .find(|&color| will_do(color))
}

/// What is coloured in a drawing.
#[derive(Clone, Debug, Default)]
pub struct Coloured {
    areas: BTreeSet<u32>,
    /// Lines by their own dashes, in hundredths of their width: dashes tell them apart without colour.
    lines: BTreeMap<Vec<i64>, BTreeSet<u32>>,
}

impl Coloured {
    pub fn of(vector: &Vector) -> Self {
        let mut found = Self::default();
        found.collect(&vector.ops);
        found
    }

    fn collect(&mut self, ops: &[Op]) {
        for op in ops {
            match op {
                Op::Group { lettering: Some(_), .. } | Op::Raster { .. } => {}
                Op::Group { ops, .. } => self.collect(ops),
                Op::Fill { paint, opacity, .. } => {
                    let color = middle(paint);
                    if *opacity > 0.3 && hue(color).is_some() {
                        self.areas.insert(color);
                    }
                }
                Op::Stroke { color, opacity, look, .. } => {
                    if *opacity > 0.3 && hue(*color).is_some() {
                        let own = look.dashes.iter().map(|d| (d / look.width.max(1e-6) * 100.0).round() as i64);
                        self.lines.entry(own.collect()).or_default().insert(*color);
                    }
                }
            }
        }
    }

    /// Every hue there is.
    pub fn hues(&self) -> BTreeSet<Hue> {
        self.areas.iter().chain(self.lines.values().flatten()).filter_map(|&c| hue(c)).collect()
    }

    /// The key of a drawing: every area and every unbroken line whose grey another's comes too near, in the order of
    /// colours.
    pub fn key(&self) -> Vec<KeyEntry> {
        let entry = |color: u32, mark: &dyn Fn(Hue) -> GreyMark| {
            hue(color).map(|hue| KeyEntry { color, mark: mark(hue), name: hue.word() })
        };
        let areas = clashing(&self.areas).into_iter().filter_map(|c| entry(c, &|h| GreyMark::Hatch(hatch(h))));
        let unbroken = self.lines.get(&Vec::new());
        let lines = unbroken.map(clashing).unwrap_or_default();
        let lines = lines.into_iter().filter_map(|c| entry(c, &|h| GreyMark::Dashes(dashes(h))));
        areas.chain(lines).collect()
    }

    /// The colours that are one in grey: all of them, or with the key only those that it can't help.
    pub fn alike(&self, with_key: bool) -> Vec<Alike> {
        let mut sets: Vec<&BTreeSet<u32>> = Vec::new();
        if !with_key {
            sets.push(&self.areas);
        }
        sets.extend(self.lines.iter().filter(|(own, _)| !(with_key && own.is_empty())).map(|(_, set)| set));
        sets.into_iter().flat_map(pairs).collect()
    }
}

/// The colour of a paint; of a gradient the mean of its ends.
pub fn middle(paint: &Paint) -> u32 {
    match paint {
        Paint::Solid(color) => *color,
        Paint::Gradient(Gradient { stops, .. }) => {
            let count = stops.len().max(1) as u32;
            let mean = |shift: u32| stops.iter().map(|(_, c)| (c >> shift) & 0xFF).sum::<u32>() / count;
            mean(16) << 16 | mean(8) << 8 | mean(0)
        }
    }
}

fn clashing(colors: &BTreeSet<u32>) -> BTreeSet<u32> {
    pairs(colors).into_iter().flat_map(|pair| [pair.colors.0, pair.colors.1]).collect()
}

/// Every two that are called differently and are closer than [`CLOSE`].
fn pairs(colors: &BTreeSet<u32>) -> Vec<Alike> {
    let named = colors.iter().filter_map(|&c| Some((c, hue(c)?, lightness(c))));
    let named: Vec<(u32, Hue, f64)> = named.take(MOST_COLOURS).collect();
    let mut out = Vec::new();
    for (i, &(a, hue_a, light_a)) in named.iter().enumerate() {
        for &(b, hue_b, light_b) in &named[i + 1..] {
            let apart = (light_a - light_b).abs();
            if hue_a != hue_b && apart < CLOSE {
                out.push(Alike { colors: (a, b), hues: (hue_a, hue_b), apart });
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::{FillRule, GradientKind, StrokeLook};

    fn area(paint: Paint) -> Op {
        Op::Fill { path: Vec::new(), rule: FillRule::NonZero, paint, opacity: 1.0 }
    }

    fn line(color: u32, dashes: &[f64]) -> Op {
        let look =
            StrokeLook { width: 2.0, dashes: dashes.to_vec(), dash_offset: 0.0, cap: 0, join: 0, miter_limit: 4.0 };
        Op::Stroke { path: Vec::new(), color, opacity: 1.0, look }
    }

    fn coloured(ops: Vec<Op>) -> Coloured {
        Coloured::of(&Vector { width: 1.0, height: 1.0, ops, missing: Vec::new() })
    }

    fn areas(colors: &[u32]) -> Coloured {
        coloured(colors.iter().map(|&c| area(Paint::Solid(c))).collect())
    }

    fn names(found: &Coloured) -> Vec<&'static str> {
        found.key().iter().map(|k| k.name).collect()
    }

    /// L* of the pairs as computed by coloraide 4: #FF0000 53.2 and #D05D29 53.4; #C8102E and #2E7D32 differ by 3.7.
    #[test]
    fn colours_of_one_grey_get_hatches() {
        let key = areas(&[0xC8_10_2E, 0x2E7D32]).key();
        assert_eq!(key.iter().map(|k| k.name).collect::<Vec<_>>(), ["green", "red"]);
        assert_ne!(key[0].mark, key[1].mark);
        assert_eq!(names(&areas(&[0xFF_00_00, 0xD0_5D_29])).len(), 2);
        assert!(names(&areas(&[0xF9_A8_00, 0x00_53_87])).is_empty(), "light and dark are told apart");
        assert!(names(&areas(&[0x77_77_77, 0x76_76_76])).is_empty(), "greys are no colours");
    }

    #[test]
    fn every_colour_has_a_mark_of_its_own() {
        for (i, a) in Hue::ALL.iter().enumerate() {
            for b in &Hue::ALL[i + 1..] {
                assert!(hatch(*a) != hatch(*b) && dashes(*a) != dashes(*b), "{} and {}", a.word(), b.word());
            }
        }
    }

    #[test]
    fn lines_of_one_grey_get_dashes_unless_they_have_their_own() {
        let two = |a: &[f64], b: &[f64]| coloured(vec![line(0xC8_10_2E, a), line(0x2E7D32, b)]);
        assert_eq!(names(&two(&[], &[])), ["green", "red"]);
        assert!(two(&[], &[]).alike(true).is_empty());
        assert_eq!(two(&[], &[]).alike(false).len(), 1);
        assert!(names(&two(&[4.0, 2.0], &[])).is_empty() && two(&[4.0, 2.0], &[]).alike(false).is_empty());
        assert!(names(&two(&[4.0, 2.0], &[4.0, 2.0])).is_empty(), "what is broken is not broken otherwise");
        assert_eq!(two(&[4.0, 2.0], &[4.0, 2.0]).alike(true).len(), 1);
        assert!(
            names(&coloured(vec![line(0xC8_10_2E, &[]), area(Paint::Solid(0x2E7D32))])).is_empty(),
            "a line is no area"
        );
    }

    #[test]
    fn a_gradient_counts_by_its_middle() {
        let gradient = |a, b| {
            let kind = GradientKind::Linear([0.0, 0.0, 1.0, 0.0]);
            area(Paint::Gradient(Gradient {
                kind,
                matrix: [1.0, 0.0, 0.0, 1.0, 0.0, 0.0],
                stops: vec![(0.0, a), (1.0, b)],
            }))
        };
        assert_eq!(
            names(&coloured(vec![gradient(0xD0_20_30, 0xC0_00_2C), area(Paint::Solid(0x2E7D32))])),
            ["green", "red"]
        );
    }
}
