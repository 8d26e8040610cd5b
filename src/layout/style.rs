//! The measures and colours of a document: the grid, sizes of text, gaps.

use super::frame::Color;
use crate::document::{Document, Purpose, SafetyWord};
use crate::figure::luminance;
use crate::units::{Paper, StepStart};

/// Measures in points.
#[derive(Clone, Debug, PartialEq)]
pub struct Style {
    pub step_start: StepStart,
    /// Whether two pages face each other: printed on both sides.
    pub duplex: bool,
    /// Outer margins of the page.
    pub margin_left: f64,
    pub margin_right: f64,
    pub margin_top: f64,
    pub margin_bottom: f64,
    pub body: f64,
    pub small: f64,
    /// Line height over size of text.
    pub leading: f64,
    /// Whether it is printed in grey.
    pub grey: bool,
    /// Whether the rest of a page under a step is ruled to write on.
    pub notes: bool,
    /// Edge of a box to tick.
    pub tick: f64,
    pub accent: Color,
    pub text: Color,
    /// For words that matter less; at least 4.5 to 1 against white (WCAG 2.2).
    pub muted: Color,
    pub hairline: Color,
}

/// Left and right of the text, in points.
const MARGIN: f64 = 46.0;
/// Above and below the text, in points.
pub(super) const MARGIN_TOP: f64 = 56.0;
pub(super) const MARGIN_BOTTOM: f64 = 52.0;

/// By how much the text of facing pages lies further from the fold, in points: 4 mm more there, 4 mm less outside.
const FOLD: f64 = 11.4;

/// Width of a manual's text in inches: the widest that a figure is printed.
pub fn text_width(paper: Paper) -> f64 {
    (paper.size().0 - 2.0 * MARGIN) / 72.0
}

impl Style {
    /// The style a document asks for by its purpose and settings.
    pub fn of(document: &Document) -> Self {
        let shop = document.purpose == Purpose::ShopCopy;
        Self {
            step_start: document.meta.step_start,
            duplex: document.meta.duplex,
            margin_left: MARGIN,
            margin_right: MARGIN,
            margin_top: MARGIN_TOP,
            margin_bottom: MARGIN_BOTTOM,
            // Body text has at least 10 points (ISO/IEC Guide 37).
            body: if shop { 11.0 } else { 10.0 },
            small: if shop { 9.5 } else { 8.0 },
            leading: 1.36,
            grey: shop,
            notes: shop,
            tick: if shop { 14.0 } else { 10.0 },
            // A grey print keeps no accent: what it marked stays as dark as the text.
            accent: if shop { Color(0x1B_1D_1F) } else { legible(Color(document.meta.accent & 0xFF_FF_FF)) },
            text: Color(0x1B_1D_1F),
            muted: Color(0x55_5B_60),
            hairline: Color(0xB4_BA_BE),
        }
    }

    /// How far a page, counted from 0, is moved to the right: the first is a right-hand one, bound at its left.
    pub fn moved(&self, page: usize) -> f64 {
        match (self.duplex, self.is_left(page)) {
            (false, _) => 0.0,
            (true, false) => FOLD,
            (true, true) => -FOLD,
        }
    }

    /// Whether a page, counted from 0, is a left-hand one of two that face each other.
    pub fn is_left(&self, page: usize) -> bool {
        self.duplex && page % 2 == 1
    }

    /// The longest line of running text in a size: about 75 signs (from memory: 60 to 75 are read with ease).
    pub fn measure(&self, size: f64) -> f64 {
        size * 42.0
    }

    pub fn line(&self, size: f64) -> f64 {
        size * self.leading
    }
}

/// Panel and word colours of a safety message: ISO 3864-4 safety colours (orange: ISO 3864-2). In grey the blue of a
/// notice would be as dark as the red of a danger: the panel of what hurts no one is light there.
pub fn safety_colors(word: SafetyWord, grey: bool) -> (Color, Color) {
    // Full black: on the orange of a warning nothing lighter has 4.5 to 1, in colour and in grey.
    let (black, white) = (Color::BLACK, Color::WHITE);
    match word {
        SafetyWord::Danger => (Color(0x9B_24_23), white),
        SafetyWord::Warning => (Color(0xD0_5D_29), black),
        SafetyWord::Caution => (Color(0xF9_A8_00), black),
        SafetyWord::Notice if grey => (Color(0xE6_E6_E6), black),
        SafetyWord::Notice => (Color(0x00_53_87), white),
        SafetyWord::Note => (Color(0xF1_F3_F4), black),
    }
}

/// WCAG 2.2 contrast ratio of a colour against white, 1 to 21.
pub fn contrast_with_white(color: Color) -> f64 {
    1.05 / (luminance(color.0) + 0.05)
}

/// The colour darkened until text in it reads on white (4.5 to 1, WCAG 2.2 AA).
pub fn legible(color: Color) -> Color {
    let mut color = color;
    while contrast_with_white(color) < 4.5 {
        let darker = |shift: u32| (((color.0 >> shift) & 0xFF) * 9 / 10) << shift;
        color = Color(darker(16) | darker(8) | darker(0));
    }
    color
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::contrast;

    /// WCAG 2.2, 1.4.3. Grey keeps luminance, so this holds in the shop copy as well.
    #[test]
    fn every_word_of_ours_stands_out() {
        for word in [SafetyWord::Danger, SafetyWord::Warning, SafetyWord::Caution, SafetyWord::Notice, SafetyWord::Note]
        {
            for grey in [false, true] {
                let (ground, ink) = safety_colors(word, grey);
                assert!(contrast(ground.0, ink.0) >= 4.5, "{word:?}: {}", contrast(ground.0, ink.0));
            }
        }
        for color in [Color(0x1B_1D_1F), Color(0x55_5B_60), legible(Color(0xFF_D2_00))] {
            assert!(contrast_with_white(color) >= 4.5, "{color:?}");
        }
    }
}
