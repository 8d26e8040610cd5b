//! Blocks to slabs: headings, lists, fields, groups, quotations, contents. The larger kinds have modules of their own.
//!
//! Owns: the look of each kind of block. Must not know: pages.

use std::sync::Arc;

use super::composer::{Composer, Stand};
use super::fonts::FaceStyle;
use super::frame::{Role, Target};
use super::marks;
use super::para::TextLook;
use super::slab::Slab;
use super::{bars, drawings, fields, figures, opening, safety, steps, table};
use crate::document::{
    Block, BlockKind, CellAlign, ContentsEntry, Group, Inline, Leaf, LeafRole, ListItem, RegionRole,
};

/// Lays out a leaf's title and its blocks.
pub fn leaf(c: &mut Composer, leaf: &Leaf) {
    c.anchor(&leaf.anchor);
    c.below = u8::from(leaf.role == LeafRole::Step);
    if !matches!(leaf.blocks.first().map(|b| &b.kind), Some(BlockKind::StepHead(_))) {
        leaf_title(c, leaf);
    }
    blocks(c, &leaf.blocks);
    if leaf.role == LeafRole::Card {
        // A card stays on one page where a page can hold it.
        let count = c.slabs.len();
        for slab in c.slabs.iter_mut().take(count.saturating_sub(1)) {
            slab.keep = true;
        }
    }
}

fn leaf_title(c: &mut Composer, leaf: &Leaf) {
    let style = c.setting.style;
    let (size, before) = match leaf.role {
        // A picture takes the room that is else left free.
        LeafRole::Title if leaf.blocks.iter().any(|b| matches!(b.kind, BlockKind::Figure(_))) => (30.0, 12.0),
        LeafRole::Title => (36.0, 132.0),
        LeafRole::Section => (24.0, 0.0),
        LeafRole::Card => (12.0, 16.0),
        _ => (20.0, 0.0),
    };
    let from = c.slabs.len();
    let look = TextLook::new(FaceStyle::Bold, size, style.text);
    let tag = c.new_tag(Role::Heading(1 + c.below));
    let mut title = leaf.title.clone();
    if leaf.role == LeafRole::Title {
        c.size = style.body * 1.3;
    }
    if let Some(number) = &leaf.number {
        title.insert(0, Inline::text(format!("{number} ")));
    }
    if leaf.role == LeafRole::Card {
        let (x, width) = (c.x, c.width);
        c.push(Slab {
            height: 6.0,
            before: before + 4.0,
            keep: true,
            items: vec![c.decoration(x, 0.0, marks::line(width, 0.0, style.accent, 1.6))],
            ..Slab::default()
        });
    } else if leaf.role == LeafRole::Title {
        // The page's top is left free: a slab of its own keeps the gap.
        let bar = marks::filled(marks::rectangle(0.0, 0.0, 9.0, 236.0), style.accent);
        c.push(Slab {
            height: before,
            keep: true,
            items: vec![c.decoration(style.margin_left - 24.0, (before - 72.0).max(8.0), bar)],
            ..Slab::default()
        });
    }
    let para = c.para(&title, look);
    // Only where it follows another leaf on a page.
    let above = if matches!(leaf.role, LeafRole::Title | LeafRole::Card) { 0.0 } else { style.body * 3.0 };
    c.set_para(&para, look, tag, Stand::kept(above));
    if !matches!(leaf.role, LeafRole::Title | LeafRole::Card) {
        let (x, width) = (style.margin_left, c.x + c.width - style.margin_left);
        c.push(Slab {
            height: 8.0,
            before: 4.0,
            keep: true,
            items: vec![c.decoration(x, 2.0, marks::line(width, 0.0, style.accent, 1.2))],
            ..Slab::default()
        });
    }
    debug_assert!(c.slabs.len() > from);
}

pub fn blocks(c: &mut Composer, blocks: &[Block]) {
    let mut done = 0;
    for (i, b) in blocks.iter().enumerate() {
        if i < done {
            continue;
        }
        if let (BlockKind::Region(pull), Some(BlockKind::Region(work))) = (&b.kind, blocks.get(i + 1).map(|n| &n.kind))
            && (pull.role, work.role) == (RegionRole::Pull, RegionRole::Work)
        {
            opening::opening(c, pull, work);
            done = i + 2;
            continue;
        }
        block(c, b);
        // What leads to a list stands above its first item.
        let leads = matches!(b.kind, BlockKind::Paragraph(_))
            && matches!(blocks.get(i + 1).map(|n| &n.kind), Some(BlockKind::List { .. }));
        if let Some(last) = c.slabs.last_mut().filter(|_| leads) {
            last.keep = true;
        }
    }
}

/// Gap above a block in running text, in points.
pub fn gap(c: &Composer) -> f64 {
    c.size * 0.62
}

pub fn block(c: &mut Composer, block: &Block) {
    let outer = std::mem::replace(&mut c.origin, block.origin.clone());
    let bar = bars::begin(c, &block.origin);
    if let Some(anchor) = &block.anchor {
        c.anchor(anchor);
    }
    match &block.kind {
        BlockKind::Heading { level, number, text } => heading(c, *level, number.as_ref(), text),
        BlockKind::Paragraph(text) => {
            let (look, gap) = (c.look(), gap(c));
            in_measure(c, |c| c.paragraph(text, look, Role::Paragraph, Stand::after(gap)));
        }
        BlockKind::List { ordered, items } => in_measure(c, |c| list(c, *ordered, items)),
        BlockKind::Table(t) if opening::is_listed(c, t) => opening::listed(c, t),
        BlockKind::Table(t) => table::table(c, t),
        BlockKind::Safety { word, blocks } => safety::safety(c, *word, blocks),
        BlockKind::Figure(figure) => figures::figure(c, figure, block.anchor.as_ref()),
        BlockKind::Drawing(drawn) => drawings::drawing(c, drawn),
        BlockKind::Fields(list) => fields::fields(c, list),
        BlockKind::Values(list) => fields::values(c, list),
        BlockKind::Region(region) => blocks(c, &region.blocks),
        BlockKind::StepHead(head) => steps::head(c, head),
        BlockKind::Group(g) => group(c, g),
        BlockKind::SignOff { role } => steps::sign_off(c, role),
        BlockKind::Quote(inner) => quote(c, inner),
        BlockKind::Preformatted(text) => preformatted(c, text),
        BlockKind::Contents(entries) => contents(c, entries),
        BlockKind::Footnote { number, blocks } => footnote(c, *number, blocks),
        BlockKind::Rule => {
            let (x, width, color) = (c.x, c.width, c.setting.style.hairline);
            let items = vec![c.decoration(x, 4.0, marks::line(width, 0.0, color, 0.6))];
            c.push(Slab { height: 8.0, before: 6.0, items, ..Slab::default() });
        }
    }
    let tag = c.tag;
    bars::end(c, bar, tag);
    c.origin = outer;
}

/// Running text, in lines that are not too long to read.
fn in_measure(c: &mut Composer, work: impl FnOnce(&mut Composer)) {
    let over = (c.width - c.setting.style.measure(c.size)).max(0.0);
    c.indented(0.0, over, work);
}

fn heading(c: &mut Composer, level: u8, number: Option<&Arc<str>>, text: &[Inline]) {
    let style = c.setting.style;
    let (size, before) = match level {
        0..=2 => (c.size * 1.42, 18.0),
        3 => (c.size * 1.18, 13.0),
        _ => (c.size * 1.02, 10.0),
    };
    let look = TextLook::new(FaceStyle::Bold, size, if level <= 2 { style.accent } else { style.text });
    let mut inlines = text.to_vec();
    if let Some(number) = number {
        inlines.insert(0, Inline::text(format!("{number} ")));
    }
    c.paragraph(&inlines, look, Role::Heading((level.clamp(2, 6) + c.below).min(6)), Stand::kept(before));
}

/// The share of a page's height up to which an item of a list is not parted.
const WHOLE_ITEM: f64 = 0.4;

fn list(c: &mut Composer, ordered: Option<u64>, items: &[ListItem]) {
    let style = c.setting.style;
    let tag = c.new_tag(if ordered.is_some() { Role::OrderedList } else { Role::List });
    let look = c.look();
    let marker_look = TextLook { face: FaceStyle::Bold, color: style.accent, ..look };
    let widest = ordered.map_or(look.size * 1.1, |first| {
        let last = first.saturating_add(items.len() as u64);
        look.size * (0.62 * last.to_string().len() as f64 + 0.95)
    });
    for (i, item) in items.iter().enumerate() {
        let item_tag = c.new_tag_in(Role::ListItem, tag);
        let label = c.new_tag_in(Role::ListLabel, item_tag);
        let body = c.new_tag_in(Role::ListBody, item_tag);
        let marker = match ordered {
            Some(first) => format!("{}. ", first.saturating_add(i as u64)),
            None => "\u{2022} ".to_owned(),
        };
        let mut content = Vec::new();
        if item.tick {
            content.push(Inline::TickBox);
            c.alt(label, "to tick");
        }
        if ordered.is_some() || !item.tick {
            content.push(Inline::text(&marker));
        }
        let para = c.para(&content, marker_look);
        let room = para.width().max(widest) + 2.0;
        let before = if i == 0 { gap(c) } else { look.size * 0.38 };
        let column = (c.x, room + 40.0);
        let mut side = c.block_of(&para, marker_look, label, column, CellAlign::Start);
        side.height = side.height.min(style.line(look.size) + 6.0);
        let from = c.slabs.len();
        c.within(body, |c| c.indented(room, 0.0, |c| blocks(c, &item.blocks)));
        c.beside(from, side);
        c.slabs[from].before = before;
        c.slabs[from].item = i > 0;
        // What is done in one go is read in one go, with its values.
        let high: f64 = c.slabs[from..].iter().map(|slab| slab.before + slab.height).sum();
        if high < c.page_height * WHOLE_ITEM {
            keep_together(c, from);
        }
        // The last action does not stand alone on a page.
        let before_last = ordered.is_some() && items.len() > 2 && i + 2 == items.len();
        if let Some(last) = c.slabs.last_mut().filter(|last| before_last && !last.keep) {
            (last.keep, last.soft) = (true, true);
        }
    }
}

fn group(c: &mut Composer, group: &Group) {
    let style = c.setting.style;
    let tag = c.new_tag(Role::Section);
    let heading = c.new_tag_in(Role::Heading(2 + c.below), tag);
    let look = TextLook::new(FaceStyle::Bold, style.body, style.accent);
    let mut title = group.title.clone();
    title.push(Inline::text(" "));
    let para = c.para(&title, look);
    let before = style.body * 1.1;
    let from = c.slabs.len();
    let outer_tag = c.tag;
    c.tag = tag;
    blocks(c, &group.blocks);
    c.tag = outer_tag;
    if c.slabs.len() == from {
        c.set_para(&para, look, heading, Stand::after(before));
        return;
    }
    if matches!(group.role, "sign-off" | "measure" | "inspect") {
        keep_together(c, from);
        c.slabs[from..].iter_mut().for_each(|slab| slab.hold = true);
    }
    if group.role == "tools" {
        keep_together(c, from);
    }
    // A picture that carries the group's title stays in its place.
    c.slabs[from].float = false;
    let column = (c.x, c.width);
    let mut above = c.block_of(&para, look, heading, column, CellAlign::Start);
    above.before = before;
    above.keep = true;
    above.anchors = std::mem::take(&mut c.slabs[from].anchors);
    c.slabs[from].before = c.slabs[from].before.min(4.0);
    titled_heads(c, from, &group.title, look, column);
    c.slabs.insert(from, above);
}

/// The title of a group above the heads of its tables, where they are set again.
fn titled_heads(c: &mut Composer, from: usize, title: &[Inline], look: TextLook, column: (f64, f64)) {
    if !c.slabs[from..].iter().any(|slab| slab.head.is_some()) {
        return;
    }
    let text: Vec<Inline> = title.iter().cloned().chain([Inline::text(", continued ")]).collect();
    let para = c.para(&text, look);
    let tag = c.tag;
    let line = c.block_of(&para, look, tag, column, CellAlign::Start).untagged();
    let mut last: Option<(Arc<Slab>, Arc<Slab>)> = None;
    for slab in &mut c.slabs[from..] {
        let Some(head) = &slab.head else { continue };
        let made = last.take().filter(|(plain, _)| Arc::ptr_eq(plain, head)).unwrap_or_else(|| {
            let mut titled = line.clone();
            titled.stack(Slab::clone(head), 4.0);
            (head.clone(), Arc::new(titled))
        });
        slab.head = Some(made.1.clone());
        last = Some(made);
    }
}

/// Short runs of slabs are not parted: places to sign, what is measured together.
fn keep_together(c: &mut Composer, from: usize) {
    if c.slabs.len() == from {
        return;
    }
    let height: f64 = c.slabs[from..].iter().map(|s| s.height + s.before).sum();
    if height < c.page_height * 0.3 {
        let last = c.slabs.len() - 1;
        for slab in &mut c.slabs[from..last] {
            slab.keep = true;
        }
    }
}

fn quote(c: &mut Composer, inner: &[Block]) {
    let style = c.setting.style;
    let tag = c.new_tag(Role::Quote);
    let from = c.slabs.len();
    c.within(tag, |c| c.indented(14.0, 0.0, |c| blocks(c, inner)));
    for i in from..c.slabs.len() {
        let (x, height) = (c.x + 3.0, c.slabs[i].height);
        let rule = c.decoration(x, 0.0, marks::line(0.0, height, style.hairline, 1.4));
        c.slabs[i].items.insert(0, rule);
    }
}

fn preformatted(c: &mut Composer, text: &str) {
    let style = c.setting.style;
    let tag = c.new_tag(Role::Code);
    let look = TextLook::new(FaceStyle::Mono, c.size * 0.88, style.text);
    let gap = gap(c);
    let from = c.slabs.len();
    for (i, line) in text.trim_end_matches('\n').split('\n').enumerate() {
        let para = c.para_of(&format!("{}\n", line.replace('\t', "    ").trim_end()).replace('\n', " "), look);
        c.indented(8.0, 8.0, |c| c.set_para(&para, look, tag, Stand::after(if i == 0 { gap } else { 0.0 })));
    }
    keep_together(c, from);
}

fn contents(c: &mut Composer, entries: &[ContentsEntry]) {
    let style = c.setting.style;
    let tag = c.new_tag(Role::Contents);
    let mut after_steps = true;
    for entry in entries {
        let top = entry.level <= 1;
        let face = if top { FaceStyle::Bold } else { FaceStyle::Regular };
        let look = TextLook { face, ..c.look() };
        let item = c.new_tag_in(Role::ContentsItem, tag);
        let number = entry.number.as_ref().map_or(String::new(), |n| format!("{n} "));
        let (number_room, page_room) = (c.size * 3.6, c.size * 3.4);
        let indent = if top { 0.0 } else { c.size * 0.8 };
        let (x, width) = (c.x + indent, c.width - indent);
        // A section is set off from the one above, single lines are not.
        let before = c.size * if top && (after_steps || entry.number.is_some()) { 0.8 } else { 0.12 };
        after_steps = !top;
        let number_look = TextLook { color: style.accent, ..look };
        let para = c.para_of(&number, number_look);
        let number = c.block_of(&para, number_look, item, (x, number_room), CellAlign::Start);
        let mut title = entry.title.clone();
        title.push(Inline::text(" "));
        let title = [Inline::Link { to: entry.to.clone(), content: title }];
        let text_look = TextLook { color: style.text, ..look };
        let mut para = c.para(&title, text_look);
        // The titles keep the colour of text: a whole page of accent would tire the eye.
        for span in &mut para.spans {
            span.look.color = style.text;
        }
        let at = x + number_room;
        let mut slab = c.block_of(&para, text_look, item, (at, width - number_room - page_room), CellAlign::Start);
        let page = c.para(&[Inline::PageOf(entry.to.clone())], look);
        let mut page = c.block_of(&page, look, item, (x + width - page_room, page_room), CellAlign::End);
        page.shift(0.0, (slab.height - page.height).max(0.0));
        if let Some(end) = last_text_end(&slab) {
            let baseline = page.baseline.unwrap_or(0.0);
            let stop = x + width - page_room * 0.62;
            if stop > end + 12.0 {
                let dots = marks::dots(stop - end - 6.0, style.hairline);
                slab.items.push(c.decoration(end + 6.0, baseline - 0.5, dots));
            }
        }
        let mut items = number.items;
        items.append(&mut slab.items);
        items.append(&mut page.items);
        slab.items = items;
        slab.links.append(&mut page.links);
        slab.links.retain(|l| matches!(l.to, Target::Inside(_)));
        slab.height = slab.height.max(number.height);
        slab.before = before;
        slab.keep = top;
        c.push(slab);
    }
}

/// Where the lowest line of text in a slab ends.
fn last_text_end(slab: &Slab) -> Option<f64> {
    use super::frame::ItemKind;
    let texts = slab.items.iter().filter_map(|i| match &i.kind {
        ItemKind::Text(run) => Some((i.at.1, i.at.0 + run.width())),
        _ => None,
    });
    let lowest = texts.clone().map(|(y, _)| y).fold(f64::MIN, f64::max);
    texts.filter(|(y, _)| (*y - lowest).abs() < 1.0).map(|(_, x)| x).reduce(f64::max)
}

fn footnote(c: &mut Composer, number: u32, inner: &[Block]) {
    let style = c.setting.style;
    let tag = c.new_tag(Role::Note);
    let look = TextLook::new(FaceStyle::Regular, style.small, style.text);
    let para = c.para_of(&format!("{number} "), look);
    let label = c.new_tag_in(Role::ListLabel, tag);
    let side = c.block_of(&para, look, label, (c.x, 24.0), CellAlign::Start);
    let from = c.slabs.len();
    let outer = std::mem::replace(&mut c.size, style.small);
    c.within(tag, |c| c.indented(14.0, 0.0, |c| blocks(c, inner)));
    c.size = outer;
    c.beside(from, side);
}
