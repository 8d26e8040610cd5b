//! Safety messages: a panel with the word, the symbol and a frame that tell them apart without colour.
//!
//! Owns: the panel. Must not know: pages.

use super::blocks;
use super::composer::Composer;
use super::fonts::FaceStyle;
use super::frame::{Color, ItemKind, PageItem, PageShape, Problem, Role, Stroke};
use super::marks;
use super::para::TextLook;
use super::slab::Slab;
use super::style::safety_colors;
use crate::document::{Block, CellAlign, SafetyWord};

/// Frame width in points, and length of its dashes: heavier for graver, dashed where no one is hurt.
fn frame(word: SafetyWord) -> (f64, Option<(f64, f64)>) {
    match word {
        SafetyWord::Danger => (3.0, None),
        SafetyWord::Warning => (2.2, None),
        SafetyWord::Caution => (1.4, None),
        SafetyWord::Notice => (1.2, Some((5.0, 2.5))),
        SafetyWord::Note => (0.6, None),
    }
}

pub fn safety(c: &mut Composer, word: SafetyWord, inner: &[Block]) {
    let (ground, ink) = safety_colors(word, c.setting.style.grey);
    let (thick, dash) = frame(word);
    let tag = c.new_tag(Role::Division);
    let size = c.size * if word == SafetyWord::Note { 1.0 } else { 1.3 };
    let face = if word == SafetyWord::Notice { FaceStyle::BoldItalic } else { FaceStyle::Bold };
    let look = TextLook::new(face, size, ink);
    let band = size * 1.75;
    let (x, width) = (c.x, c.width);

    let word_tag = c.new_tag_in(Role::Paragraph, tag);
    let symbol = size * 1.18;
    let lead = 10.0 + if word.alerts() { symbol * 1.12 + 7.0 } else { 0.0 };
    let para = c.para_of(&format!("{} ", word.word()), look);
    let mut text = c.block_of(&para, look, word_tag, (x + lead, width - lead), CellAlign::Start);
    let drop = band / 2.0 + size * 0.36 - text.baseline.unwrap_or(0.0);
    text.shift(0.0, drop);
    let mut head = Slab { height: band, baseline: text.baseline, ..Slab::default() };
    head.items.push(c.decoration(x, 0.0, marks::filled(marks::rectangle(0.0, 0.0, width, band), ground)));
    if word.alerts() {
        for part in marks::alert(symbol, ink, ground) {
            head.items.push(c.decoration(x + 10.0, (band - symbol) / 2.0 - 0.4, part));
        }
    }
    head.items.append(&mut text.items);

    let body = c.aside(|c| c.within(tag, |c| c.indented(10.0, 10.0, |c| blocks::blocks(c, inner))));
    let total: f64 = band + body.iter().map(|s| s.height + s.before).sum::<f64>() + 14.0;
    let before = c.size;
    if total <= c.page_height * 0.9 {
        let mut slab = head;
        for (i, part) in body.into_iter().enumerate() {
            let gap = if i == 0 { 5.0 } else { part.before };
            slab.stack(part, gap);
        }
        slab.height += 9.0;
        slab.items.push(PageItem {
            tag: None,
            at: (x, 0.0),
            kind: border(width, slab.height, thick, dash, ground, word),
        });
        slab.before = before;
        slab.keep = true;
        slab.message = true;
        c.push(slab);
        return;
    }
    // No page holds it: the parts follow one another, each with the frame's left edge.
    c.problems.push(Problem::SafetySplit { origin: c.origin.clone() });
    head.before = before;
    head.keep = true;
    c.push(head);
    for mut part in body {
        let edge = marks::filled(marks::rectangle(0.0, 0.0, thick + 2.0, part.height), ground);
        part.items.insert(0, PageItem { tag: None, at: (x, 0.0), kind: edge });
        c.push(part);
    }
}

fn border(width: f64, height: f64, thick: f64, dash: Option<(f64, f64)>, ground: Color, word: SafetyWord) -> ItemKind {
    let inset = thick / 2.0;
    let color = if word == SafetyWord::Note { Color(0x55_5B_60) } else { frame_ink(ground) };
    ItemKind::Shape(PageShape {
        path: marks::rectangle(inset, inset, width - thick, height - thick),
        fill: None,
        stroke: Some(Stroke { color, width: thick, dash }),
    })
}

/// The frame in the panel's colour; a light one gets black, for it must stand out on white paper.
fn frame_ink(ground: Color) -> Color {
    if super::style::contrast_with_white(ground) < 3.0 { Color(0x2B_2B_2C) } else { ground }
}
