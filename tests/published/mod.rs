//! Values against published tables: luminance and contrast, paper sizes.

use std::collections::BTreeMap;

use kitwright::figure::{grey_of, luminance};
use kitwright::units::Paper;

/// WCAG 2.2 (W3C Recommendation, 2023): relative luminance, contrast against white and against black; CIE 1976
/// lightness L* (CIE 17-23-076). Worked out from the published formulas with another program.
const COLOURS: [(u32, f64, f64, f64, f64); 13] = [
    (0x0076_7676, 0.181164, 4.542, 4.623, 49.637),
    (0x0077_7777, 0.184475, 4.478, 4.689, 50.034),
    (0x0059_5959, 0.099899, 7.005, 2.998, 37.824),
    (0x0094_9494, 0.296138, 3.033, 6.923, 61.320),
    (0x0095_9595, 0.300544, 2.995, 7.011, 61.701),
    (0x00FF_0000, 0.212600, 3.998, 5.252, 53.233),
    (0x0000_00FF, 0.072200, 8.592, 2.444, 32.303),
    (0x00FF_FF00, 0.927800, 1.074, 19.556, 97.138),
    (0x00F9_A800, 0.481450, 1.976, 10.629, 74.916),
    (0x00D0_5D29, 0.213987, 3.977, 5.280, 53.383),
    (0x009B_2423, 0.083517, 7.864, 2.670, 34.705),
    (0x0000_5387, 0.079358, 8.117, 2.587, 33.849),
    (0x0023_7F52, 0.161453, 4.966, 4.229, 47.164),
];

/// WCAG 2.2, definition of contrast ratio.
fn contrast(a: u32, b: u32) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// CIE 1976 L* of a luminance above 0.008856.
fn lightness(y: f64) -> f64 {
    116.0 * y.cbrt() - 16.0
}

#[test]
fn luminance_contrast_and_lightness_are_the_published_ones() {
    for (colour, y, white, black, l) in COLOURS {
        assert!((luminance(colour) - y).abs() < 1e-6, "{colour:06X}: {}", luminance(colour));
        assert!((contrast(colour, 0x00FF_FFFF) - white).abs() < 1e-3, "{colour:06X}");
        assert!((contrast(colour, 0) - black).abs() < 1e-3, "{colour:06X}");
        assert!((lightness(luminance(colour)) - l).abs() < 0.01, "{colour:06X}");
    }
}

/// The grey that a colour prints in is as light as the colour (to the nearest of 256 steps: 0.3 of L*).
#[test]
fn greys_are_as_light_as_their_colours() {
    for (colour, .., l) in COLOURS {
        let step = (grey_of(colour) * 255.0).round() as u32;
        let grey = step << 16 | step << 8 | step;
        assert!((lightness(luminance(grey)) - l).abs() < 0.3, "{colour:06X} prints as {grey:06X}");
    }
}

/// The custom properties of the style sheet, light and dark.
fn properties() -> (BTreeMap<String, u32>, BTreeMap<String, u32>) {
    let style = std::fs::read_to_string(crate::outside::project().join("templates/style.css")).expect("a style sheet");
    let (mut light, mut dark) = (BTreeMap::new(), BTreeMap::new());
    for line in style.lines() {
        let Some((name, value)) = line.trim().strip_prefix("--").and_then(|l| l.split_once(": #")) else { continue };
        let Ok(colour) = u32::from_str_radix(value.trim_end_matches(';'), 16) else { continue };
        // What comes first is for light, what comes again for dark.
        let map = if light.contains_key(name) { &mut dark } else { &mut light };
        map.entry(name.to_owned()).or_insert(colour);
    }
    (light, dark)
}

/// WCAG 2.2, 1.4.6 (7 for text), 1.4.3 (4.5 for text), 1.4.11 (3 for what shows the state of a control).
#[test]
fn the_style_sheet_has_enough_contrast() {
    let (light, dark) = properties();
    assert_eq!(light.keys().collect::<Vec<_>>(), dark.keys().collect::<Vec<_>>());
    for (theme, colours) in [("light", light), ("dark", dark)] {
        for (ink, ground, least) in [
            ("ink", "paper", 7.0),
            ("ink", "surface", 7.0),
            ("soft", "paper", 4.5),
            ("soft", "surface", 4.5),
            ("focus", "paper", 3.0),
            ("focus", "surface", 3.0),
            ("line", "paper", 3.0),
        ] {
            let ratio = contrast(colours[ink], colours[ground]);
            assert!(ratio >= least, "{theme}: {ink} on {ground} has {ratio:.2}, and needs {least}");
        }
    }
}

/// A4 is 210 by 297 mm (ISO 216:2007, table 1). Letter is 8.5 by 11 in (ANSI/ASME Y14.1, size A). A point is 1/72 in
/// (ISO 32000-1, 8.3.2.3).
#[test]
fn paper_has_the_published_sizes() {
    for (paper, width, height) in [(Paper::A4, 210.0 / 25.4, 297.0 / 25.4), (Paper::Letter, 8.5, 11.0)] {
        let (w, h) = paper.size();
        assert!((w / 72.0 - width).abs() < 1e-9 && (h / 72.0 - height).abs() < 1e-9, "{paper:?}");
    }
}
