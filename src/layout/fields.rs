//! Labels with their values: in two columns, one below the other, and below an action.
//!
//! Owns: their look. Must not know: what is labelled, pages.

use super::blocks::gap;
use super::composer::{Composer, Stand};
use super::frame::Role;
use super::lines::natural_width;
use super::marks;
use super::para::{Para, TextLook};
use crate::document::{CellAlign, Field, Inline};

/// Label and value side by side, a line each.
pub fn fields(c: &mut Composer, list: &[Field]) {
    let style = c.setting.style;
    if c.narrow {
        return fields_below(c, list);
    }
    let tag = c.new_tag(Role::List);
    let look = c.look();
    let label_look = TextLook { color: style.muted, ..look };
    let labels: Vec<Para> = list
        .iter()
        .map(|field| {
            let mut text = field.label.clone();
            text.push(Inline::text(" "));
            c.para(&text, label_look)
        })
        .collect();
    // As wide as the widest label asks, so that no value stands far from its own.
    let widest = labels.iter().map(natural_width).fold(0.0, f64::max);
    let room = (widest + look.size).min((c.width * 0.35).max(60.0));
    for (i, (field, label)) in list.iter().zip(&labels).enumerate() {
        let item = c.new_tag_in(Role::ListItem, tag);
        let label_tag = c.new_tag_in(Role::ListLabel, item);
        let body = c.new_tag_in(Role::ListBody, item);
        let side = c.block_of(label, label_look, label_tag, (c.x, room - 6.0), CellAlign::Start);
        let para = c.para(&field.value, look);
        let from = c.slabs.len();
        let before = if i == 0 { gap(c) } else { look.size * 0.2 };
        c.indented(room, 0.0, |c| c.set_para(&para, look, body, Stand::after(before)));
        c.beside(from, side);
        c.slabs[from].before = before;
    }
}

/// Each label with its value behind it, where there is no room for two columns.
fn fields_below(c: &mut Composer, list: &[Field]) {
    let (look, muted) = (c.look(), c.setting.style.muted);
    for (i, field) in list.iter().enumerate() {
        let tag = c.new_tag(Role::Paragraph);
        let mut label = field.label.clone();
        label.push(Inline::text(" "));
        let mut para = c.para(&label, TextLook { color: muted, ..look });
        let mut text = field.value.clone();
        text.push(Inline::text(" "));
        let value = c.para(&text, look);
        para.append(value);
        c.set_para(&para, look, tag, Stand::after(if i == 0 { 3.0 } else { look.size * 0.3 }));
    }
}

/// What an action needs, a line each, with a thin line beside them.
pub fn values(c: &mut Composer, list: &[Field]) {
    let look = c.look();
    let color = c.setting.style.hairline;
    let from = c.slabs.len();
    let x = c.x;
    c.indented(look.size * 0.8, 0.0, |c| {
        for field in list {
            let tag = c.new_tag(Role::Paragraph);
            let mut text = vec![Inline::Emphasis(field.label.clone()), Inline::text("\u{2002}")];
            text.extend(field.value.iter().cloned());
            text.push(Inline::text(" "));
            let para = c.para(&text, look);
            c.set_para(&para, look, tag, Stand::after(look.size * 0.15));
        }
    });
    for at in from..c.slabs.len() {
        let (height, before) = (c.slabs[at].height, if at == from { 0.0 } else { c.slabs[at].before });
        let line = marks::filled(marks::rectangle(0.0, -before, 1.6, height + before), color);
        let line = c.decoration(x, 0.0, line);
        c.slabs[at].items.push(line);
    }
}
