//! Change bars: a line in the margin beside what changed since the last release, with the letter of the change.
//!
//! Owns: where the bar stands. Must not know: what changed.

use std::sync::Arc;

use super::composer::Composer;
use super::fonts::FaceStyle;
use super::frame::{Role, TagId};
use super::marks;
use super::para::TextLook;
use super::slab::Slab;
use crate::document::{CellAlign, Origin};

/// From the text to the bar, and the bar's width, in points. Wide enough to be told from a rule on a grey copy.
const GAP: f64 = 5.0;
const WIDTH: f64 = 2.2;
/// The gap over a slab is bridged so far, in points; at the top of a page there is none.
const LONGEST_GAP: f64 = 8.0;

/// A bar that is to be drawn beside what is laid out next.
pub struct Bar {
    /// The letter; none where there is no bar.
    letter: Option<Arc<str>>,
    from: usize,
    outer: bool,
}

/// Begins what comes from `origin`.
pub fn begin(c: &mut Composer, origin: &Origin) -> Bar {
    let letter = if c.barred { None } else { c.setting.bars.at(origin).cloned() };
    let bar = Bar { from: c.slabs.len(), outer: c.barred, letter };
    c.barred |= bar.letter.is_some();
    bar
}

/// Ends it: the bar along all that came since, the letter at its top, read as part of `tag`.
pub fn end(c: &mut Composer, bar: Bar, tag: TagId) {
    c.barred = bar.outer;
    let Some(letter) = bar.letter.filter(|_| c.slabs.len() > bar.from) else { return };
    let (x, style) = (c.edge + GAP, c.setting.style);
    let along = |slab: &mut Slab, above: f64| {
        let path = marks::rectangle(0.0, 0.0, WIDTH, slab.height + above);
        slab.items.push(super::frame::PageItem { tag: None, at: (x, -above), kind: marks::filled(path, style.text) });
    };
    for i in bar.from..c.slabs.len() {
        let slab = &mut c.slabs[i];
        let above = if i == bar.from { 0.0 } else { slab.before.min(LONGEST_GAP) };
        along(slab, above);
        slab.smaller.iter_mut().for_each(|s| along(s, above));
    }
    // Small, so that `new` stays a quarter of an inch from the edge, which printers leave white.
    let look = TextLook::new(FaceStyle::Bold, style.small * 0.84, style.text);
    let para = c.para_of(&format!("{letter} "), look);
    let span = c.new_tag_in(Role::Span, tag);
    let mark = c.block_of(&para, look, span, (x + WIDTH + 2.0, 34.0), CellAlign::Start);
    let first = &mut c.slabs[bar.from];
    for slab in std::iter::once(&mut first.items).chain(first.smaller.iter_mut().map(|s| &mut s.items)) {
        slab.extend(mark.items.iter().cloned());
    }
}
