//! A step's head and its places to sign.
//!
//! Owns: their look. Must not know: pages.

use super::composer::{Composer, Stand};
use super::fonts::FaceStyle;
use super::frame::Role;
use super::marks;
use super::para::TextLook;
use super::slab::Slab;
use crate::document::{CellAlign, Inline, StepHead};

/// Number and title; below them section, hand, effectivity and facts.
pub fn head(c: &mut Composer, head: &StepHead) {
    let style = c.setting.style;
    let size = style.body * 1.9;
    let tag = c.new_tag(Role::Heading(1 + c.below));
    let look = TextLook::new(FaceStyle::Bold, size, style.text);
    let (left, right) = (style.margin_left, c.x + c.width);
    let rule = marks::line(right - left, 0.0, style.accent, 2.0);
    let items = vec![c.decoration(left, 1.0, rule)];
    c.push(Slab { height: 6.0, before: 22.0, keep: true, items, ..Slab::default() });

    let title: Vec<Inline> =
        [Inline::text(format!("{} ", head.number))].into_iter().chain(head.title.iter().cloned()).collect();
    let para = c.para(&title, look);
    c.set_para(&para, look, tag, Stand::kept(2.0));

    // One line says where one is and for what it holds; the hand is large, for it is the costliest to miss.
    let muted = TextLook::new(FaceStyle::Regular, style.body, style.muted);
    let mut line = head.section.clone();
    line.push(Inline::text(" "));
    c.paragraph(&line, muted, Role::Paragraph, Stand::kept(1.0));
    if let Some(hand) = head.hand {
        let large = TextLook::new(FaceStyle::Bold, style.body * 1.35, style.text);
        c.paragraph(&[Inline::Hand(hand), Inline::text(" ")], large, Role::Paragraph, Stand::kept(4.0));
    }
    if let Some(effectivity) = &head.effectivity {
        let look = TextLook::new(FaceStyle::Bold, style.body, style.text);
        c.paragraph(effectivity, look, Role::Paragraph, Stand::kept(3.0));
    }
    if !head.facts.is_empty() {
        let mut facts: Vec<Inline> = Vec::new();
        let list = c.new_tag(Role::Paragraph);
        for (i, fact) in head.facts.iter().enumerate() {
            if i > 0 {
                facts.push(Inline::text("\u{2003}"));
            }
            facts.extend(fact.label.iter().cloned());
            facts.push(Inline::text("\u{a0}"));
            facts.push(Inline::Strong(fact.value.clone()));
        }
        facts.push(Inline::text(" "));
        let para = c.para(&facts, muted);
        c.set_para(&para, muted, list, Stand::kept(3.0));
    }
}

/// A role, a long rule for the name and a shorter one for the date.
pub fn sign_off(c: &mut Composer, role: &[Inline]) {
    let style = c.setting.style;
    let tag = c.new_tag(Role::Paragraph);
    let look = TextLook::new(FaceStyle::Bold, c.size, style.text);
    let small = TextLook::new(FaceStyle::Regular, style.small, style.muted);
    let mut text = role.to_vec();
    text.push(Inline::text(" "));
    let para = c.para(&text, look);
    let role_room = (c.width * 0.28).max(60.0);
    let (x, width) = (c.x, c.width);
    let mut slab = c.block_of(&para, look, tag, (x, role_room - 8.0), CellAlign::Start);
    let write = style.tick * 2.2;
    let drop = (write - slab.baseline.unwrap_or(0.0)).max(0.0);
    slab.shift(0.0, drop);
    slab.height += drop;
    let line = slab.baseline.unwrap_or(write) + 2.0;
    let name_width = (width - role_room) * 0.62;
    let date_x = x + role_room + name_width + 14.0;
    slab.items.push(c.decoration(x + role_room, line, marks::line(name_width, 0.0, style.text, 0.6)));
    slab.items.push(c.decoration(date_x, line, marks::line(x + width - date_x, 0.0, style.text, 0.6)));
    for (word, at) in [("Name ", x + role_room), ("Date ", date_x)] {
        let para = c.para_of(word, small);
        let mut label = c.block_of(&para, small, tag, (at, 80.0), CellAlign::Start);
        label.shift(0.0, line + 1.0);
        slab.height = slab.height.max(line + 1.0 + label.height);
        slab.items.append(&mut label.items);
    }
    slab.before = 6.0;
    c.push(slab);
}
