//! Figures: the picture, callouts over it, caption, view, and what the callouts point at.
//!
//! Owns: their size and look in a column. Must not know: how a picture is drawn, pages.

use super::PlacedSpot;
use super::composer::{Composer, Stand};
use super::fonts::FaceStyle;
use super::frame::{ItemKind, Link, PageItem, Problem, Role, TagId, Target};
use super::marks;
use super::para::{Para, TextLook, What};
use super::slab::Slab;
use super::style::{MARGIN_BOTTOM, MARGIN_TOP, text_width};
use crate::document::{Anchor, Callout, CellAlign, Figure, Inline};
use crate::figure::{Crop, FigureFile, KeyEntry};
use crate::units::Paper;

/// What a figure without a width of the author's may be shrunk to where it would else leave a page part empty.
const SMALLER: [f64; 2] = [0.86, 0.74];

/// The share of a column's width that a picture takes which has its words beside it, the gap between them in points, and
/// what it may be shrunk to for that.
const NARROW: f64 = 0.6;
const GUTTER: f64 = 16.0;
const LEAST_BESIDE: f64 = 0.66;

/// The share of a page's height that a figure takes at most.
const MOST_HIGH: f64 = 0.48;

/// The width in points that a figure takes where its author gives none.
const WIDEST: f64 = 426.0;

/// The least width in points that a figure is printed in, of a wished width in points, on a manual's pages.
pub fn least_width(file: &FigureFile, crop: Crop, wished: Option<f64>, paper: Paper) -> f64 {
    let shown = crop.size_of(file);
    let high = (paper.size().1 - MARGIN_TOP - MARGIN_BOTTOM) * MOST_HIGH * shown.0 / shown.1;
    let wide = text_width(paper) * 72.0;
    match wished {
        Some(wished) => wished.min(high),
        None => {
            let full = wide.min(WIDEST).min(high);
            let beside = (wide * NARROW / full).min(1.0);
            full * if beside < LEAST_BESIDE {
                SMALLER[SMALLER.len() - 1]
            } else {
                beside.min(SMALLER[SMALLER.len() - 1])
            }
        }
    }
}

pub fn figure(c: &mut Composer, figure: &Figure, anchor: Option<&Anchor>) {
    let tag = c.new_tag(Role::Figure);
    c.alt(tag, figure.alt.clone());
    let insights = c.insights;
    let insight = insights.get(&figure.name);
    let Some(file) = c.figures.get(&figure.name).filter(|_| !insight.is_some_and(|i| i.broken)) else {
        missing(c, figure, tag);
        return;
    };
    for &character in insight.into_iter().flat_map(|i| &i.missing) {
        c.problems.push(Problem::MissingGlyph { character, origin: c.origin.clone() });
    }
    let shown = figure.crop.unwrap_or(Crop::WHOLE).size_of(file);
    let ratio = shown.0 / shown.1;
    let wished = figure.width.map_or(c.width.min(WIDEST), |w| w.to_f64() * 72.0);
    let most_high = c.page_height * MOST_HIGH;
    let mut width = if wished.is_finite() { wished.clamp(12.0, c.width) } else { c.width };
    let mut height = width / ratio;
    if height > most_high {
        height = most_high;
        width = (height * ratio).max(2.0);
    }
    height = height.max(2.0);

    let marks = callout_marks(c, &figure.callouts, tag);
    let key = insight.map_or(&[][..], |i| &i.key);
    let scaled = |c: &Composer, scale: f64| {
        let slab = picture(c, figure, anchor, tag, &marks, (c.x, width * scale, height * scale));
        Slab { before: c.size, float: true, leads: true, ..slab }
    };
    let sizes = if figure.width.is_none() { &SMALLER[..] } else { &[] };

    let elements = c.tags.len();
    let mut legend_from = 0;
    let under = c.aside(|c| legend_from = words(c, figure, key));
    let total: f64 = height + under.iter().map(|s| s.height + s.before).sum::<f64>();
    if total >= c.page_height * 0.95 {
        // What the picture shows stays with it so far as a page holds it.
        let smaller = sizes.iter().map(|scale| Slab { keep: true, ..scaled(c, *scale) }).collect();
        let slab = Slab { keep: true, smaller, ..scaled(c, 1.0) };
        c.push(slab);
        for (i, slab) in under.into_iter().enumerate() {
            let keep = slab.keep || i < legend_from;
            c.push(Slab { keep, ..slab });
        }
        return;
    }
    let whole = |c: &Composer, scale: f64| {
        let mut slab = scaled(c, scale);
        for words in &under {
            slab.stack(words.clone(), words.before);
        }
        slab
    };
    let mut ways = vec![whole(c, 1.0)];
    ways.extend(sizes.iter().map(|scale| whole(c, *scale)));
    if let Some((scale, slab)) = beside(c, figure, key, width, elements, &scaled) {
        ways.truncate(if scale == 1.0 { 0 } else { SMALLER.len() });
        ways.push(slab);
    }
    let anchors = under.iter().flat_map(|slab| slab.anchors.iter().cloned()).collect();
    let mut ways = ways.into_iter().map(|slab| Slab { anchors: Vec::new(), ..slab });
    if let Some(first) = ways.next() {
        let smaller = ways.collect();
        c.push(Slab { smaller, anchors, ..first });
    }
}

/// The picture with its words beside it, and its scale: for one that is narrow, or is no smaller for it than it may be.
/// The words are the elements that they were below it, from this number on.
fn beside(
    c: &mut Composer,
    figure: &Figure,
    key: &[KeyEntry],
    width: f64,
    elements: usize,
    scaled: &impl Fn(&Composer, f64) -> Slab,
) -> Option<(f64, Slab)> {
    let scale = (c.width * NARROW / width).min(1.0);
    if scale < LEAST_BESIDE || (scale < 1.0 && figure.width.is_some()) {
        return None;
    }
    let (problems, made) = (c.problems.len(), c.tags.split_off(elements));
    let column = width * scale + GUTTER;
    let words = c.aside(|c| {
        c.indented(column, 0.0, |c| {
            words(c, figure, key);
        });
    });
    c.problems.truncate(problems);
    debug_assert_eq!(made.len(), c.tags.len() - elements, "the same elements in another column");
    let mut words = words.into_iter();
    let mut all = words.next()?;
    for slab in words {
        let gap = slab.before;
        all.stack(slab, gap);
    }
    let mut slab = scaled(c, scale);
    let high = slab.height;
    if all.height > high {
        return None;
    }
    slab.stack(all, -high);
    Some((scale, Slab { height: high, ..slab }))
}

/// Caption, view, key and what the callouts point at. How many slabs stand before that last list.
fn words(c: &mut Composer, figure: &Figure, key: &[KeyEntry]) -> usize {
    let style = c.setting.style;
    let from = c.slabs.len();
    let caption = c.new_tag(Role::Caption);
    let look = TextLook::new(FaceStyle::Regular, c.size.max(style.small), style.text);
    let mut text = vec![Inline::strong(&*figure.label), Inline::text(" ")];
    text.extend(figure.caption.iter().cloned());
    if !figure.view.is_empty() {
        text.push(Inline::text(" "));
    }
    let para = c.para(&text, look);
    c.set_whole(&para, look, caption, Stand::after(4.0));
    if !figure.view.is_empty() {
        let muted = TextLook { color: style.muted, ..look };
        let para = c.para(&figure.view, muted);
        c.set_whole(&para, muted, caption, Stand::after(0.0));
    }
    hatch_key(c, key);
    let before = c.slabs.len() - from;
    legend(c, &figure.callouts);
    before
}

/// The key of what stands for colours in a grey print.
fn hatch_key(c: &mut Composer, entries: &[KeyEntry]) {
    if entries.is_empty() {
        return;
    }
    let tag = c.new_tag(Role::Paragraph);
    let look = c.look();
    let mut para = c.para_of("In grey: ", look);
    for entry in entries {
        let mark = marks::swatch(entry, look);
        para.put_mark(mark);
        let word = c.para_of(&format!("{} ", entry.name), look);
        para.append(word);
    }
    c.set_para(&para, look, tag, Stand::after(2.0));
}

/// The frame that stands where a figure is not to be had, with what it would show in words.
fn missing(c: &mut Composer, figure: &Figure, tag: TagId) {
    let style = c.setting.style;
    c.problems.push(Problem::MissingFigure { name: figure.name.clone(), origin: c.origin.clone() });
    let look = TextLook::new(FaceStyle::Bold, c.size, style.text);
    let (x, width) = (c.x, c.width);
    let para =
        c.para_of(&format!("{}: the picture {} is missing. It shows: {}", figure.label, figure.name, figure.alt), look);
    let mut slab = c.block_of(&para, look, tag, (x + 10.0, width - 20.0), CellAlign::Start);
    slab.shift(0.0, 10.0);
    slab.height += 20.0;
    let frame = marks::outlined(marks::rectangle(0.0, 0.0, width, slab.height), None, style.text, 1.2);
    slab.items.push(c.decoration(x, 0.0, frame));
    slab.before = c.size;
    c.push(slab);
    let caption = c.new_tag(Role::Caption);
    let para = c.para(&figure.caption, look);
    c.set_para(&para, look, caption, Stand::after(4.0));
    legend(c, &figure.callouts);
}

/// Digits of a callout's mark: readable at arm's length.
fn callout_size(c: &Composer, count: usize) -> f64 {
    if count > 40 { c.setting.style.small } else { c.setting.style.body.max(10.0) }
}

/// The number of a callout as it is set, and its element: a link of its own where it leads somewhere.
struct CalloutMark {
    para: Para,
    tag: TagId,
}

fn callout_marks(c: &mut Composer, callouts: &[Callout], figure: TagId) -> Vec<CalloutMark> {
    let look = TextLook::new(FaceStyle::Bold, callout_size(c, callouts.len()), c.setting.style.text);
    let mark = |callout: &Callout| CalloutMark {
        para: c.para_of(&format!("{} ", callout.number), look),
        tag: if callout.to.is_some() { c.new_tag_in(Role::Link, figure) } else { figure },
    };
    callouts.iter().map(mark).collect()
}

/// The picture in a box of left edge, width and height, with its callouts over it.
fn picture(
    c: &Composer,
    figure: &Figure,
    anchor: Option<&Anchor>,
    tag: TagId,
    numbers: &[CalloutMark],
    place: (f64, f64, f64),
) -> Slab {
    let style = c.setting.style;
    let (x, width, height) = place;
    let mut slab = Slab { height, ..Slab::default() };
    slab.items.push(PageItem {
        tag: Some(tag),
        at: (x, 0.0),
        kind: ItemKind::Figure { name: figure.name.clone(), crop: figure.crop, width, height },
    });
    slab.figures.push(PlacedSpot {
        name: figure.name.clone(),
        anchor: anchor.cloned(),
        origin: c.origin.clone(),
        width,
        height,
    });
    for arrow in &figure.arrows {
        let at = |(across, down): (f64, f64)| (x + across / 100.0 * width, down / 100.0 * height);
        for kind in marks::arrow(at(arrow.from), at(arrow.to), style.text) {
            slab.items.push(c.decoration(0.0, 0.0, kind));
        }
    }
    let size = callout_size(c, figure.callouts.len());
    for (callout, CalloutMark { para, tag }) in figure.callouts.iter().zip(numbers) {
        let tag = *tag;
        let digits = (para.width() - space_width(para)).max(1.0);
        let r = (size * 0.82).max(digits / 2.0 + size * 0.26);
        // Kept inside the picture, so that no mark is lost.
        let inside = |percent: f64, length: f64| {
            let at = if percent.is_finite() { percent / 100.0 * length } else { 0.0 };
            at.clamp(r.min(length / 2.0), (length - r).max(length / 2.0))
        };
        let (cx, cy) = (x + inside(callout.at.0, width), inside(callout.at.1, height));
        let ring = marks::outlined(marks::circle(0.0, 0.0, r), Some(super::frame::Color::WHITE), style.text, 1.3);
        slab.items.push(PageItem { tag: None, at: (cx, cy), kind: ring });
        let mut left = cx - digits / 2.0;
        for piece in &para.pieces {
            if let What::Glyph(face, glyph) = &piece.what {
                let run =
                    super::frame::TextRun { face: *face, size, color: style.text, glyphs: vec![*glyph], actual: None };
                slab.items.push(PageItem { tag: Some(tag), at: (left, cy + size * 0.365), kind: ItemKind::Text(run) });
            }
            left += piece.width;
        }
        if let Some(to) = &callout.to {
            slab.links.push(Link {
                to: Target::Inside(to.clone()),
                rect: (cx - r, cy - r, cx + r, cy + r),
                tag,
                says: format!("callout {}", callout.number).into(),
            });
        }
    }
    slab
}

fn space_width(para: &Para) -> f64 {
    para.pieces.last().filter(|_| para.text.ends_with(' ')).map_or(0.0, |p| p.width)
}

/// What the callouts point at, in two columns where there are more than three.
fn legend(c: &mut Composer, callouts: &[Callout]) {
    if callouts.is_empty() {
        return;
    }
    let list = c.new_tag(Role::List);
    let look = c.look();
    let columns = if callouts.len() > 3 && c.width > 300.0 { 2 } else { 1 };
    let column_width = c.width / columns as f64;
    let room = c.size * 2.2;
    let x = c.x;
    for (i, pair) in callouts.chunks(columns).enumerate() {
        let mut row = Slab { before: if i == 0 { 5.0 } else { 2.0 }, ..Slab::default() };
        for (n, callout) in pair.iter().enumerate() {
            let item = c.new_tag_in(Role::ListItem, list);
            let label = c.new_tag_in(Role::ListLabel, item);
            let body = c.new_tag_in(Role::ListBody, item);
            let left = x + n as f64 * column_width;
            let para = c.para(&[Inline::Callout(callout.number), Inline::text(" ")], look);
            let mut mark = c.block_of(&para, look, label, (left, room + 30.0), CellAlign::Start);
            let mut says = callout.text.clone();
            says.push(Inline::text(" "));
            let text = match &callout.to {
                Some(to) => vec![Inline::Link { to: to.clone(), content: says }],
                None => says,
            };
            let para = c.para(&text, look);
            let mut text = c.block_of(&para, look, body, (left + room, column_width - room - 8.0), CellAlign::Start);
            let lower = mark.baseline.unwrap_or(0.0) - text.baseline.unwrap_or(0.0);
            text.shift(0.0, lower);
            row.height = row.height.max(mark.height).max(text.height + lower);
            row.baseline = row.baseline.or(mark.baseline);
            row.items.append(&mut mark.items);
            row.items.append(&mut text.items);
            row.links.append(&mut text.links);
        }
        c.push(row);
    }
}
