//! The opening of a step: what to pull in a narrow column at the left, figure and actions at the right.
//!
//! Owns: setting two runs of slabs beside one another. Must not know: what stands in them, pages.

use super::composer::{Composer, Stand};
use super::fonts::FaceStyle;
use super::frame::Role;
use super::para::TextLook;
use super::slab::Slab;
use super::{bars, blocks};
use crate::document::{Block, Inline, Inlines, Region, Table, TableRole, plain_text};
use crate::units::UnitStyle;

/// The share of the text's width that the left column takes, and the gap beside it in points.
const LEFT: f64 = 0.28;
const GUTTER: f64 = 18.0;
/// A left column higher than this share of a page is set above the work in place of beside it.
const MOST_HIGH: f64 = 0.84;

/// Sets what to pull beside the work.
pub fn opening(c: &mut Composer, pull: &Region, work: &Region) {
    let column = (c.width * LEFT).round();
    let (tags, problems) = (c.tags.len(), c.problems.len());
    let left = in_column(c, column, &pull.blocks);
    let high: f64 = left.iter().map(|slab| slab.before + slab.height).sum();
    if high > c.page_height * MOST_HIGH {
        c.tags.truncate(tags);
        c.problems.truncate(problems);
        blocks::blocks(c, &pull.blocks);
        blocks::blocks(c, &work.blocks);
        return;
    }
    let right = c.aside(|c| c.indented(column + GUTTER, 0.0, |c| blocks::blocks(c, &work.blocks)));
    let gap = c.size * 1.1;
    for slab in beside(left, right, gap) {
        c.push(slab);
    }
}

/// Blocks in a narrow column at the left.
fn in_column(c: &mut Composer, column: f64, list: &[Block]) -> Vec<Slab> {
    let over = c.width - column;
    c.narrow = true;
    let left = c.aside(|c| c.indented(0.0, over, |c| blocks::blocks(c, list)));
    c.narrow = false;
    left
}

/// Both runs as one. So far as the left one reaches, gaps are part of the slabs and slabs stay together, so that nothing of
/// it moves against the rest of it.
fn beside(left: Vec<Slab>, right: Vec<Slab>, gap: f64) -> Vec<Slab> {
    let mut left = left.into_iter().peekable();
    let (mut left_end, mut right_end) = (0.0_f64, 0.0_f64);
    let mut out: Vec<Slab> = Vec::with_capacity(right.len().max(1));
    let first_left = |end: f64, slab: &Slab| if end == 0.0 { 0.0 } else { end + slab.before };
    for mut slab in right {
        let begins = out.is_empty();
        let active = left.peek().is_some() || left_end > right_end;
        if active {
            let inner = if begins { 0.0 } else { slab.before };
            slab.shift(0.0, inner);
            slab.smaller.clear();
            slab.float = false;
            slab.height += inner;
            slab.before = 0.0;
        }
        let (top, bottom) = (right_end + slab.before, right_end + slab.before + slab.height);
        while let Some(next) = left.next_if(|next| first_left(left_end, next) < bottom) {
            let start = first_left(left_end, &next);
            left_end = start + next.height;
            take(&mut slab, next, start - top);
        }
        slab.keep |= left.peek().is_some() || left_end > bottom;
        if begins {
            slab.before = gap;
        }
        right_end = bottom;
        out.push(slab);
    }
    let mut last = out.pop().unwrap_or_default();
    let top = right_end - last.height;
    for next in left {
        let start = first_left(left_end, &next);
        left_end = start + next.height;
        take(&mut last, next, start - top);
    }
    last.height = last.height.max(left_end - top);
    last.keep = false;
    out.push(last);
    out
}

/// Puts a slab of the left column into one of the right, so far below its top.
fn take(slab: &mut Slab, mut left: Slab, down: f64) {
    left.shift(0.0, down);
    slab.items.append(&mut left.items);
    slab.links.append(&mut left.links);
    slab.anchors.append(&mut left.anchors);
    slab.figures.append(&mut left.figures);
}

/// Whether a table is set as a list where there is little room.
pub fn is_listed(c: &Composer, table: &Table) -> bool {
    c.narrow && matches!(table.role, TableRole::Parts | TableRole::Hardware)
}

/// The rows of a table of parts or hardware as a list: quantity and number, below them what it is and where it lies.
pub fn listed(c: &mut Composer, table: &Table) {
    let style = c.setting.style;
    let list = c.new_tag(Role::List);
    let size = (c.size * 0.9).max(9.0);
    let (look, small) =
        (TextLook::new(FaceStyle::Regular, c.size, style.text), TextLook::new(FaceStyle::Regular, size, style.text));
    for (i, row) in table.rows.iter().enumerate() {
        let item = c.new_tag_in(Role::ListItem, list);
        let body = c.new_tag_in(Role::ListBody, item);
        let (mut first, mut quantity, mut hand, mut rest) =
            (Inlines::new(), Inlines::new(), Inlines::new(), Vec::new());
        for (column, cell) in table.columns.iter().zip(&row.cells).filter(|(_, cell)| !cell.content.is_empty()) {
            let content = cell.content.clone();
            match plain_text(&column.title, UnitStyle::InchFraction).as_str() {
                "" => first.splice(0..0, content.into_iter().chain([Inline::text(" ")])).for_each(drop),
                "Quantity" => quantity = content.into_iter().chain([Inline::text(" \u{d7} ")]).collect(),
                "Hand" => hand = [Inline::text("  ")].into_iter().chain(content).collect(),
                _ if column.names_row => first.push(Inline::Strong(content)),
                label @ ("Bag" | "Crate" | "Bin") => {
                    let label = Inline::text(format!("{}\u{a0}", label.to_lowercase()));
                    rest.push([label].into_iter().chain(content).collect());
                }
                _ => rest.push(content),
            }
        }
        let boxed = usize::from(matches!(first.first(), Some(Inline::TickBox))) * 2;
        first.splice(boxed..boxed, quantity);
        first.extend(hand);
        first.push(Inline::text(" "));
        if let Some(anchor) = &row.anchor {
            c.anchor(anchor);
        }
        let bar = bars::begin(c, &row.origin);
        let from = c.slabs.len();
        let para = c.para(&first, look);
        c.set_para(&para, look, body, Stand::kept(if i == 0 { c.size * 0.35 } else { c.size * 0.45 }));
        if !rest.is_empty() {
            let mut words = Inlines::new();
            for (n, piece) in rest.into_iter().enumerate() {
                if n > 0 {
                    words.push(Inline::text("; "));
                }
                words.extend::<Inlines>(piece);
            }
            words.push(Inline::text(" "));
            let para = c.para(&words, small);
            c.set_para(&para, small, body, Stand::after(0.0));
        }
        let to = c.slabs.len();
        c.slabs[from..to.max(from + 1) - 1].iter_mut().for_each(|slab| slab.keep = true);
        bars::end(c, bar, body);
    }
}
