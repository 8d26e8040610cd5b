//! Running heads and feet: the section, the steps on the page, the document's number, its release, the page.
//!
//! Owns: what stands around the text. Must not know: blocks.

use std::collections::BTreeMap;

use super::fonts::{FaceStyle, Shaper};
use super::frame::{ItemKind, PageItem};
use super::lines::{Hyphens, break_lines};
use super::marks;
use super::para::{GlyphTexts, Setting, TextLook, shape_text};
use super::set_line::{At, set_line};
use crate::document::{Anchor, CellAlign, Document, Leaf, LeafRole, plain_text};

/// What a page's furniture is made from.
pub struct PageFacts<'a> {
    pub document: &'a Document,
    pub by_anchor: &'a BTreeMap<&'a Anchor, &'a Leaf>,
    /// Leaves that stand on the page, in order.
    pub leaves: Vec<&'a Leaf>,
    pub label: &'a str,
    /// Its outer edge is the left one.
    pub left_hand: bool,
    pub size: (f64, f64),
}

/// The furniture of a page; none of it has a tag.
pub fn furniture(facts: &PageFacts, setting: &Setting, shaper: &mut Shaper, texts: &mut GlyphTexts) -> Vec<PageItem> {
    let style = setting.style;
    let (width, height) = facts.size;
    let (left, right) = (style.margin_left, width - style.margin_right);
    let mut items = Vec::new();
    if facts.leaves.first().is_some_and(|l| l.role == LeafRole::Title) {
        return items;
    }
    let muted = TextLook::new(FaceStyle::Regular, style.small, style.muted);
    let strong = TextLook::new(FaceStyle::Bold, style.small + 1.5, style.text);
    let mut set = |text: &str, look: TextLook, baseline: f64, align: CellAlign, share: f64| {
        let para = shape_text(text, look, setting, shaper, texts);
        let room = (right - left) * share;
        let x = if align == CellAlign::End { right - room } else { left };
        // What is longer than its room is cut at the last word that fits: furniture is one line.
        if let Some(line) = break_lines(&para, room, Hyphens::None).first() {
            let at = At { x, baseline, width: room, align };
            let set = set_line(&para, line, at, None, setting.fonts, shaper);
            items.extend(set.items.into_iter().map(|(_, item)| item));
        }
    };
    let head = style.margin_top - 20.0;
    // What a page is found by stands at its outer edge.
    let (inner, outer) =
        if facts.left_hand { (CellAlign::End, CellAlign::Start) } else { (CellAlign::Start, CellAlign::End) };
    set(&section(facts), muted, head, inner, 0.5);
    set(&steps(facts), muted, head, outer, 0.48);
    let foot = height - style.margin_bottom + 32.0;
    let meta = &facts.document.meta;
    let parts = [&facts.document.name, &meta.number, &meta.configuration, &meta.release];
    let parts: Vec<&str> = parts.iter().map(|p| p.trim()).filter(|p| !p.is_empty()).collect();
    set(&parts.join(" \u{00b7} "), muted, foot, inner, 0.84);
    set(facts.label, strong, foot, outer, 0.14);
    for y in [head + 7.0, foot - 13.0] {
        let kind: ItemKind = marks::line(right - left, 0.0, style.hairline, 0.5);
        items.push(PageItem { tag: None, at: (left, y), kind });
    }
    items
}

/// Room to write below a step: the word and lines down to the foot of the page, where there is room for a few.
pub fn notes(
    from: f64,
    size: (f64, f64),
    setting: &Setting,
    shaper: &mut Shaper,
    texts: &mut GlyphTexts,
) -> Vec<PageItem> {
    let style = setting.style;
    let (left, right) = (style.margin_left, size.0 - style.margin_right);
    let bottom = size.1 - style.margin_bottom;
    let top = from + style.body * 2.4;
    let count = ((bottom - top) / NOTE_LINE) as usize;
    let mut items = Vec::new();
    if count < LEAST_NOTES {
        return items;
    }
    let look = TextLook::new(FaceStyle::Regular, style.small, style.muted);
    let para = shape_text("Notes ", look, setting, shaper, texts);
    for line in break_lines(&para, right - left, Hyphens::None) {
        let at = At { x: left, baseline: 0.0, width: right - left, align: CellAlign::Start };
        let set = set_line(&para, &line, at, None, setting.fonts, shaper);
        items.extend(set.items.into_iter().map(|(_, i)| PageItem { at: (i.at.0, i.at.1 + top + style.small), ..i }));
    }
    for n in 1..=count.min(MOST_NOTES) {
        let kind = marks::line(right - left, 0.0, style.hairline, 0.5);
        items.push(PageItem { tag: None, at: (left, top + NOTE_LINE * n as f64), kind });
    }
    items
}

/// From line to line where one writes by hand with gloves off, in points.
const NOTE_LINE: f64 = 24.0;
const LEAST_NOTES: usize = 2;
const MOST_NOTES: usize = 10;

/// The section of the first leaf on the page, or the leaf's own title.
fn section(facts: &PageFacts) -> String {
    let units = facts.document.meta.units;
    let Some(first) = facts.leaves.first() else { return String::new() };
    // The sheet of totals that a card belongs to is another page.
    if first.role == LeafRole::Card {
        return facts.document.name.to_string();
    }
    let parent = first.parent.as_ref().and_then(|p| facts.by_anchor.get(p));
    let leaf = parent.copied().unwrap_or(first);
    let title = plain_text(&leaf.title, units).replace('\n', " ");
    match &leaf.number {
        Some(number) if !title.starts_with(&**number) => format!("{number} {title}"),
        _ => title,
    }
}

/// `Step 3.2`, or `Steps 3.2 to 3.4`.
fn steps(facts: &PageFacts) -> String {
    let steps: Vec<_> = facts
        .leaves
        .iter()
        .filter(|l| matches!(l.role, LeafRole::Step | LeafRole::Card))
        .filter_map(|l| l.number.as_ref())
        .collect();
    match (steps.first(), steps.last()) {
        (Some(first), Some(last)) if first == last => format!("Step {first}"),
        (Some(first), Some(last)) => format!("Steps {first} to {last}"),
        _ => facts.document.meta.title.to_string(),
    }
}
