//! The state of laying out one leaf, and what every kind of block needs: paragraphs, tags, columns.
//!
//! Owns: the current column and the slabs so far. Must not know: kinds of blocks, pages.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::fonts::{FaceStyle, Shaper};
use super::frame::{ItemKind, Link, PageItem, Problem, Role, Tag, TagId};
use super::lines::{Hyphens, break_lines, line_height};
use super::para::{GlyphTexts, Para, Setting, TextLook, shape, shape_text};
use super::set_line::{At, SetLine, set_line};
use super::slab::Slab;
use crate::document::{Anchor, CellAlign, Inline, Origin};
use crate::figure::{FigureFile, KeyEntry};
use crate::units::FigureName;

/// The most lines that are kept together because they belong to a picture.
const LONGEST_WHOLE: usize = 12;

/// How a paragraph stands.
#[derive(Clone, Copy, Debug)]
pub struct Stand {
    /// Gap above in points.
    pub before: f64,
    pub keep: bool,
    pub align: CellAlign,
}

impl Stand {
    pub fn after(before: f64) -> Self {
        Self { before, keep: false, align: CellAlign::Start }
    }

    pub fn kept(before: f64) -> Self {
        Self { keep: true, ..Self::after(before) }
    }
}

/// The pictures of a document.
#[derive(Clone, Copy)]
pub struct DocumentPictures<'a> {
    pub files: &'a BTreeMap<FigureName, FigureFile>,
    pub insights: &'a BTreeMap<FigureName, Insight>,
}

/// What must be known of a drawing before it is placed.
#[derive(Clone, Debug, Default)]
pub struct Insight {
    /// It can't be drawn.
    pub broken: bool,
    /// Letters in it that no font has.
    pub missing: Vec<char>,
    /// The colours that get a hatch in a grey document.
    pub key: Vec<KeyEntry>,
}

pub struct Composer<'a> {
    pub setting: &'a Setting<'a>,
    pub figures: &'a BTreeMap<FigureName, FigureFile>,
    /// What was learnt of the drawings among them.
    pub insights: &'a BTreeMap<FigureName, Insight>,
    pub hyphens: Hyphens,
    /// Height of a page's text area, in points.
    pub page_height: f64,
    pub shaper: Shaper<'a>,
    pub texts: GlyphTexts,
    pub tags: Vec<Tag>,
    pub slabs: Vec<Slab>,
    pub problems: Vec<Problem>,
    pub page_refs: BTreeSet<Anchor>,
    /// Left edge of the current column from the page's left edge, and its width.
    pub x: f64,
    pub width: f64,
    pub tag: TagId,
    pub origin: Origin,
    /// A change bar stands beside what is being laid out, so what is inside needs none of its own.
    pub barred: bool,
    /// Right edge of the text on the page.
    pub edge: f64,
    /// Size of running text here.
    pub size: f64,
    /// In a narrow column, where tables of parts and hardware are set as lists.
    pub narrow: bool,
    /// How many headings the leaf's own stands below: a step stands below its section.
    pub below: u8,
    pending: Vec<Anchor>,
}

impl<'a> Composer<'a> {
    pub fn new(setting: &'a Setting<'a>, pictures: DocumentPictures<'a>, hyphens: Hyphens, page: (f64, f64)) -> Self {
        let style = setting.style;
        let x = style.margin_left;
        Self {
            setting,
            figures: pictures.files,
            insights: pictures.insights,
            hyphens,
            page_height: page.1 - style.margin_top - style.margin_bottom,
            shaper: Shaper::new(setting.fonts),
            texts: GlyphTexts::default(),
            tags: vec![Tag { role: Role::Section, parent: None, alt: None, columns: 1 }],
            slabs: Vec::new(),
            problems: Vec::new(),
            page_refs: BTreeSet::new(),
            x,
            width: page.0 - style.margin_right - x,
            tag: TagId(0),
            origin: Origin::default(),
            barred: false,
            edge: page.0 - style.margin_right,
            size: style.body,
            narrow: false,
            below: 0,
            pending: Vec::new(),
        }
    }

    pub fn look(&self) -> TextLook {
        TextLook::new(FaceStyle::Regular, self.size, self.setting.style.text)
    }

    pub fn anchor(&mut self, anchor: &Anchor) {
        self.pending.push(anchor.clone());
    }

    pub fn push(&mut self, mut slab: Slab) {
        if !self.pending.is_empty() {
            slab.anchors.append(&mut self.pending);
        }
        self.slabs.push(slab);
    }

    pub fn new_tag(&mut self, role: Role) -> TagId {
        self.new_tag_in(role, self.tag)
    }

    pub fn new_tag_in(&mut self, role: Role, parent: TagId) -> TagId {
        self.tags.push(Tag { role, parent: Some(parent), alt: None, columns: 1 });
        TagId(self.tags.len() as u32 - 1)
    }

    /// Does `work` with `tag` as the current element.
    pub fn within<R>(&mut self, tag: TagId, work: impl FnOnce(&mut Self) -> R) -> R {
        let outer = std::mem::replace(&mut self.tag, tag);
        let result = work(self);
        self.tag = outer;
        result
    }

    /// Does `work` in a narrower column.
    pub fn indented<R>(&mut self, left: f64, right: f64, work: impl FnOnce(&mut Self) -> R) -> R {
        let outer = (self.x, self.width);
        self.x += left;
        self.width = (self.width - left - right).max(24.0);
        let result = work(self);
        (self.x, self.width) = outer;
        result
    }

    /// The slabs that `work` makes, apart from the leaf's.
    pub fn aside(&mut self, work: impl FnOnce(&mut Self)) -> Vec<Slab> {
        let outer = std::mem::take(&mut self.slabs);
        work(self);
        std::mem::replace(&mut self.slabs, outer)
    }

    pub fn para(&mut self, inlines: &[Inline], look: TextLook) -> Para {
        let para = shape(inlines, look, self.setting, &mut self.shaper, &mut self.texts);
        self.note(&para);
        para
    }

    pub fn para_of(&mut self, text: &str, look: TextLook) -> Para {
        let para = shape_text(text, look, self.setting, &mut self.shaper, &mut self.texts);
        self.note(&para);
        para
    }

    fn note(&mut self, para: &Para) {
        for &character in &para.missing {
            self.problems.push(Problem::MissingGlyph { character, origin: self.origin.clone() });
        }
        self.page_refs.extend(para.page_refs.iter().cloned());
    }

    /// Inline content as a paragraph of its own, a slab a line, without widows and orphans.
    pub fn paragraph(&mut self, inlines: &[Inline], look: TextLook, role: Role, stand: Stand) {
        let para = self.para(inlines, look);
        let tag = self.new_tag(role);
        self.set_para(&para, look, tag, stand);
    }

    pub fn set_para(&mut self, para: &Para, look: TextLook, tag: TagId, stand: Stand) {
        let lines = self.lines(para, look, tag, (self.x, self.width), stand.align);
        let count = lines.len();
        for (i, mut slab) in lines.into_iter().enumerate() {
            slab.before = if i == 0 { stand.before } else { 0.0 };
            let last = i + 1 == count;
            // At least two lines stay together at either end of a paragraph.
            slab.keep = if last { stand.keep } else { i == 0 || i + 2 == count || (stand.keep && count < 5) };
            self.push(slab);
        }
    }

    /// The same for a few lines that are never parted.
    pub fn set_whole(&mut self, para: &Para, look: TextLook, tag: TagId, stand: Stand) {
        let from = self.slabs.len();
        self.set_para(para, look, tag, stand);
        let to = self.slabs.len();
        if to - from <= LONGEST_WHOLE {
            self.slabs[from..to.max(from + 1) - 1].iter_mut().for_each(|slab| slab.keep = true);
        }
    }

    /// The lines of a paragraph in a column (left edge, width), each as a slab.
    pub fn lines(
        &mut self,
        para: &Para,
        look: TextLook,
        tag: TagId,
        column: (f64, f64),
        align: CellAlign,
    ) -> Vec<Slab> {
        let (x, width) = column;
        let mut link_tags: BTreeMap<u32, TagId> = BTreeMap::new();
        let broken = break_lines(para, width, self.hyphens);
        let mut out = Vec::with_capacity(broken.len());
        for line in &broken {
            let (height, baseline) = line_height(para, line, look, self.setting.style.leading);
            let at = At { x, baseline, width, align };
            let set = set_line(para, line, at, Some(tag), self.setting.fonts, &mut self.shaper);
            let mut slab = Slab { height, baseline: Some(baseline), ..Slab::default() };
            self.take_line(set, para, tag, &mut link_tags, &mut slab);
            out.push(slab);
        }
        out
    }

    fn take_line(
        &mut self,
        set: SetLine,
        para: &Para,
        tag: TagId,
        link_tags: &mut BTreeMap<u32, TagId>,
        slab: &mut Slab,
    ) {
        let top = slab.baseline.unwrap_or(0.0);
        slab.items.reserve_exact(set.items.len());
        for (link, mut item) in set.items {
            if let (Some(link), Some(_)) = (link, item.tag) {
                let tag = *link_tags.entry(link).or_insert_with(|| self.new_tag_in(Role::Link, tag));
                item.tag = Some(tag);
            }
            slab.items.push(item);
        }
        for spot in set.links {
            let Some(&tag) = link_tags.get(&spot.link) else { continue };
            let (to, says) = &para.links[spot.link as usize];
            let size = para.spans.first().map_or(self.size, |s| s.look.size);
            slab.links.push(Link {
                to: to.clone(),
                rect: (spot.left, top - size * 0.9, spot.right, top + size * 0.3),
                tag,
                says: if says.is_empty() { "link".into() } else { says.clone() },
            });
        }
    }

    /// One slab from a paragraph in a column.
    pub fn block_of(&mut self, para: &Para, look: TextLook, tag: TagId, column: (f64, f64), align: CellAlign) -> Slab {
        let mut out = Slab::default();
        for line in self.lines(para, look, tag, column, align) {
            out.stack(line, 0.0);
        }
        out
    }

    /// Puts `slab` in front of the first of the slabs from `from` on, sharing its first baseline.
    /// Makes an empty slab where there is none.
    pub fn beside(&mut self, from: usize, mut slab: Slab) {
        if self.slabs.len() == from {
            self.push(Slab { height: slab.height, baseline: slab.baseline, ..Slab::default() });
        }
        let total: f64 = self.slabs[from..].iter().map(|s| s.height + s.before).sum::<f64>() - self.slabs[from].before;
        let short = slab.height - total;
        if short > 0.0
            && let Some(last) = self.slabs.last_mut()
        {
            last.height += short;
        }
        let first = &mut self.slabs[from];
        let dy = match (first.baseline, slab.baseline) {
            (Some(there), Some(here)) if first.height < 60.0 => (there - here).max(0.0),
            _ => 0.0,
        };
        slab.shift(0.0, dy);
        let mut items = std::mem::take(&mut slab.items);
        items.append(&mut first.items);
        first.items = items;
        first.links.append(&mut slab.links);
        if slab.height > first.height + 1.0 && self.slabs.len() > from + 1 {
            self.slabs[from].keep = true;
        }
    }

    /// A shape without meaning of its own.
    pub fn decoration(&self, x: f64, y: f64, kind: ItemKind) -> PageItem {
        PageItem { tag: None, at: (x, y), kind }
    }

    pub fn alt(&mut self, tag: TagId, alt: impl Into<Arc<str>>) {
        self.tags[tag.0 as usize].alt = Some(alt.into());
    }
}
