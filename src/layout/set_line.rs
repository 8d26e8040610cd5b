//! Setting a line: what stands where in it.
//!
//! Owns: the items of a line. Must not know: where lines break, blocks, pages.

use super::fonts::{Fonts, Shaper};
use super::frame::{Glyph, ItemKind, PageItem, TagId, TextRun};
use super::lines::{LineRange, is_space, measure};
use super::para::{Para, What};
use crate::document::CellAlign;

/// Where a line is set.
#[derive(Clone, Copy, Debug)]
pub struct At {
    pub x: f64,
    pub baseline: f64,
    pub width: f64,
    pub align: CellAlign,
}

/// A link's share of a line, before its tag is known.
#[derive(Clone, Debug)]
pub struct LinkSpot {
    pub link: u32,
    pub left: f64,
    pub right: f64,
}

/// A set line: items in reading order, each with the link it belongs to.
#[derive(Clone, Debug, Default)]
pub struct SetLine {
    pub items: Vec<(Option<u32>, PageItem)>,
    pub links: Vec<LinkSpot>,
}

/// Sets a line. The space at its end is kept, so that words stay apart when the text is read back.
pub fn set_line(
    para: &Para,
    line: &LineRange,
    at: At,
    tag: Option<TagId>,
    fonts: &Fonts,
    shaper: &mut Shaper,
) -> SetLine {
    let mut end = line.pieces.end;
    while end > line.pieces.start && is_space(para, end - 1) {
        end -= 1;
    }
    let width = measure(para, &(line.pieces.start..end));
    let mut x = at.x
        + match at.align {
            CellAlign::Start => 0.0,
            CellAlign::Center => (at.width - width).max(0.0) / 2.0,
            CellAlign::End => (at.width - width).max(0.0),
        };
    let mut out = SetLine::default();
    let mut run: Option<(u32, PageItem)> = None;
    for piece in &para.pieces[line.pieces.clone()] {
        let span = &para.spans[piece.span as usize];
        if let Some(link) = span.link {
            match out.links.last_mut() {
                Some(last) if last.link == link => last.right = x + piece.width,
                _ => out.links.push(LinkSpot { link, left: x, right: x + piece.width }),
            }
        }
        let baseline = at.baseline - span.look.rise;
        match &piece.what {
            What::Glyph(face, glyph) => {
                let joins = matches!(&run, Some((s, PageItem { kind: ItemKind::Text(r), .. })) if *s == piece.span && r.face == *face);
                if !joins {
                    flush(&mut run, para, &mut out);
                    let text = TextRun {
                        face: *face,
                        size: span.look.size,
                        color: span.look.color,
                        glyphs: Vec::new(),
                        actual: None,
                    };
                    run = Some((piece.span, PageItem { tag, at: (x, baseline), kind: ItemKind::Text(text) }));
                }
                if let Some((_, PageItem { kind: ItemKind::Text(text), .. })) = &mut run {
                    text.glyphs.push(*glyph);
                }
            }
            What::Substitute(face, glyph, c) => {
                flush(&mut run, para, &mut out);
                let text = TextRun {
                    face: *face,
                    size: span.look.size,
                    color: span.look.color,
                    glyphs: vec![*glyph],
                    actual: Some(c.to_string().into()),
                };
                out.items.push((span.link, PageItem { tag, at: (x, baseline), kind: ItemKind::Text(text) }));
            }
            What::Mark(mark) => {
                flush(&mut run, para, &mut out);
                for (offset, kind) in &para.marks[*mark as usize].items {
                    let tag = if matches!(kind, ItemKind::Text(_)) { tag } else { None };
                    let item = PageItem { tag, at: (x + offset.0, at.baseline + offset.1), kind: kind.clone() };
                    out.items.push((span.link, item));
                }
            }
        }
        x += piece.width;
    }
    flush(&mut run, para, &mut out);
    if line.hyphen
        && let Some(last) = line.pieces.clone().last()
    {
        let span = &para.spans[para.pieces[last].span as usize];
        let (face, sign) = fonts.line_hyphen(span.look.face);
        let glyphs: Vec<Glyph> = shaper
            .shape(face, sign, 0..sign.len())
            .iter()
            .map(|s| Glyph { id: s.id, advance: s.advance, dx: s.dx, dy: s.dy })
            .collect();
        let text = TextRun {
            face,
            size: span.look.size,
            color: span.look.color,
            glyphs,
            actual: (sign == "-").then(|| "\u{ad}".into()),
        };
        out.items
            .push((span.link, PageItem { tag, at: (x, at.baseline - span.look.rise), kind: ItemKind::Text(text) }));
    }
    out
}

fn flush(run: &mut Option<(u32, PageItem)>, para: &Para, out: &mut SetLine) {
    if let Some((span, mut item)) = run.take() {
        // Held until the whole document is laid out.
        if let ItemKind::Text(text) = &mut item.kind {
            text.glyphs.shrink_to_fit();
        }
        out.items.push((para.spans[span as usize].link, item));
    }
}
