//! The opening of a step: what to pull in a narrow column at the left, figure and actions at the right.
//!
//! Owns: setting two runs of slabs beside one another. Must not know: what stands in them, pages.

use super::composer::{Composer, Stand};
use super::fonts::FaceStyle;
use super::frame::Role;
use super::para::TextLook;
use super::slab::Slab;
use super::{bars, blocks};
use crate::document::{Block, ColumnKind, Inline, Inlines, Region, Table, TableRole, plain_text};
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
    // The head of the step and its messages stand above on the same page.
    let above: f64 = c.slabs.iter().map(|slab| slab.before + slab.height).sum();
    if high > c.page_height * MOST_HIGH || above + high > c.page_height {
        c.tags.truncate(tags);
        c.problems.truncate(problems);
        blocks::blocks(c, &pull.blocks);
        blocks::blocks(c, &work.blocks);
        return;
    }
    let right = c.aside(|c| c.indented(column + GUTTER, 0.0, |c| blocks::blocks(c, &work.blocks)));
    let gap = c.size * 1.1;
    for slab in beside(left, right, gap, c.page_height - above - gap) {
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

/// Both runs as one: all of the left one stands in the first slab of the right, so that it is also read first. So far as it
/// reaches, gaps are part of the slabs and slabs stay together, so that nothing moves against it. `room` is what a page has
/// for that: where what stays together at the end of the left column would not fit, it begins below the column.
fn beside(left: Vec<Slab>, mut right: Vec<Slab>, gap: f64, room: f64) -> Vec<Slab> {
    let mut column = Slab::default();
    for (i, slab) in left.into_iter().enumerate() {
        let down = if i == 0 { 0.0 } else { slab.before };
        column.stack(slab, down);
    }
    let high = column.height;
    let count = reach(&right, high, room);
    let mut end = 0.0_f64;
    for (i, slab) in right[..count].iter_mut().enumerate() {
        let inner = if i == 0 { 0.0 } else { slab.before };
        slab.shift(0.0, inner);
        slab.smaller.clear();
        slab.float = false;
        slab.height += inner;
        slab.before = if i == 0 { gap } else { 0.0 };
        end += slab.height;
        if end < high && i + 1 < count {
            (slab.keep, slab.soft) = (true, false);
        }
    }
    if let Some(last) = right[..count].last_mut() {
        last.height += (high - end).max(0.0);
        last.keep &= end >= high;
    }
    match right.first_mut() {
        Some(first) => {
            column.items.append(&mut first.items);
            first.items = column.items;
            column.links.append(&mut first.links);
            first.links = column.links;
            first.anchors.append(&mut column.anchors);
            first.figures.append(&mut column.figures);
        }
        None => right.push(Slab { before: gap, ..column }),
    }
    right
}

/// How many slabs stand beside a column of this height: up to the first that ends below it, or up to what that one is kept
/// together with, where a page has no room for all of that.
fn reach(right: &[Slab], high: f64, room: f64) -> usize {
    let ends: Vec<f64> = right
        .iter()
        .enumerate()
        .scan(0.0, |end, (i, slab)| {
            *end += slab.height + if i == 0 { 0.0 } else { slab.before };
            Some(*end)
        })
        .collect();
    let Some(over) = ends.iter().position(|end| *end >= high) else { return right.len() };
    let last = (over..right.len()).find(|&at| !right[at].keep).unwrap_or(right.len() - 1);
    let first = (0..over).rev().find(|&at| !right[at].keep).map_or(0, |at| at + 1);
    if ends[last] > room && first > 0 { first } else { over + 1 }
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
            match column.kind {
                // What is to be ticked stands first.
                ColumnKind::Plain if column.title.is_empty() => {
                    first.splice(0..0, content.into_iter().chain([Inline::text(" ")])).for_each(drop);
                }
                ColumnKind::Plain => rest.push(content),
                ColumnKind::Name => first.push(Inline::Strong(content)),
                ColumnKind::Quantity => quantity = content.into_iter().chain([Inline::text(" \u{d7} ")]).collect(),
                ColumnKind::Hand => hand = [Inline::text("  ")].into_iter().chain(content).collect(),
                ColumnKind::Place => {
                    let label = plain_text(&column.title, UnitStyle::InchFraction).to_lowercase();
                    rest.push([Inline::text(format!("{label}\u{a0}"))].into_iter().chain(content).collect());
                }
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
