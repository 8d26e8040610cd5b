//! Slabs: pieces of a leaf that are never broken over pages, stacked one below the other.
//!
//! Owns: the type. Must not know: blocks, pages.

use std::sync::Arc;

use super::frame::{Link, PageItem, Tag};
use super::para::GlyphTexts;
use super::{PlacedSpot, Problem};
use crate::document::Anchor;

/// x of items is from the page's left edge, y from the slab's top.
#[derive(Clone, Debug, Default)]
pub struct Slab {
    pub height: f64,
    /// Gap above in points; dropped at the top of a page.
    pub before: f64,
    /// The next slab must begin on the same page.
    pub keep: bool,
    /// It is only kept so where a page can hold all that is kept together with it.
    pub soft: bool,
    /// A safety message: between two of them a page may break where keeping both would leave a page half empty.
    pub message: bool,
    /// A picture, with its caption in the slabs kept to it: what follows may fill the page before it.
    pub float: bool,
    /// A figure: the text that comes next works from it.
    pub leads: bool,
    /// What is signed or written down: no picture that came before comes after it.
    pub hold: bool,
    /// Another item of a list begins.
    pub item: bool,
    /// Baseline of its first line from the top.
    pub baseline: Option<f64>,
    pub items: Vec<PageItem>,
    pub links: Vec<Link>,
    pub anchors: Vec<Anchor>,
    pub figures: Vec<PlacedSpot>,
    /// Drawn again at the top of a page that begins with this slab.
    pub head: Option<Arc<Slab>>,
    /// The same content in less and less height, taken where this one would leave a page part empty.
    pub smaller: Vec<Slab>,
}

impl Slab {
    /// Moves everything down by `dy` and right by `dx` points.
    pub fn shift(&mut self, dx: f64, dy: f64) {
        for item in &mut self.items {
            item.at = (item.at.0 + dx, item.at.1 + dy);
        }
        for link in &mut self.links {
            let (l, t, r, b) = link.rect;
            link.rect = (l + dx, t + dy, r + dx, b + dy);
        }
        self.baseline = self.baseline.map(|b| b + dy);
    }

    /// Sets `below` under this slab, `gap` points apart.
    pub fn stack(&mut self, mut below: Self, gap: f64) {
        below.shift(0.0, self.height + gap);
        self.height += gap + below.height;
        self.baseline = self.baseline.or(below.baseline);
        self.items.append(&mut below.items);
        self.links.append(&mut below.links);
        self.anchors.append(&mut below.anchors);
        self.figures.append(&mut below.figures);
    }

    /// Gives back the room that lists were given to grow in: a slab is held until the whole document is laid out.
    pub fn tighten(&mut self) {
        self.items.shrink_to_fit();
        self.links.shrink_to_fit();
        self.anchors.shrink_to_fit();
        self.smaller.iter_mut().for_each(Self::tighten);
    }

    /// The same picture without structure, for furniture.
    pub fn untagged(&self) -> Self {
        let items = self.items.iter().map(|i| PageItem { tag: None, ..i.clone() }).collect();
        Self { height: self.height, items, ..Self::default() }
    }
}

/// A leaf as slabs, with the structure they belong to. Tags count from the leaf's own first.
#[derive(Clone, Debug, Default)]
pub struct Flow {
    pub slabs: Vec<Slab>,
    pub tags: Vec<Tag>,
    /// What its glyphs say, where it shows the numbers of pages and may be made again; of all others it is gathered.
    pub texts: GlyphTexts,
    pub problems: Vec<Problem>,
    /// Whether a page reference stands in it.
    pub page_refs: Vec<Anchor>,
}
