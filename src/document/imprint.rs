//! What is printed on the leaves of a document, kept as digests: whether a page says something else than before is told from
//! what is printed on it, and not from what was written.
//!
//! Owns: the imprint of a document and comparing two of them. Must not know: why something changed, releases, letters.

mod bytes;
mod made;

use std::collections::BTreeMap;

use super::block::{Block, BlockKind, ListItem, Origin};
use super::compose::{compose_plain, leaf_step};
use super::inline::Anchor;
use super::leaf::{Document, Leaf, LeafRole, Purpose};
use super::plain_text;
use crate::change::digest;
use crate::model::Manual;
use crate::resolve::Resolved;
use crate::units::{FigureName, StepId, UnitStyle};

use bytes::PrintWriter;
pub use made::{MadeImprints, TouchedDocument};

/// Tells what is in a picture, by its name: the digest of its bytes.
pub type Pictures<'a> = &'a (dyn Fn(&FigureName) -> String + Sync);

/// What is printed on a document, leaf by leaf.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Imprint {
    leaves: Vec<LeafImprint>,
    /// The places of the leaves.
    at: BTreeMap<Anchor, usize>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
struct LeafImprint {
    anchor: Anchor,
    /// The step that it is about, on a page of one.
    step: Option<StepId>,
    title: String,
    pieces: Vec<Piece>,
}

/// Something that stands on a leaf by itself: a paragraph, a row, a drawing, the title over others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Piece {
    pub digest: [u8; 32],
    /// Where a bar is found by; none where nothing can carry one.
    pub origin: Option<Origin>,
    pub kind: PieceKind,
    /// How deep it stands in others.
    pub depth: u8,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum PieceKind {
    /// Of the author's text, and titles.
    Words,
    /// Made of values.
    Values,
    /// What stands over others, headings of a table and titles of a group: a bar beside it is a bar beside all of them.
    Over,
}

/// Leaves of two imprints that differ.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LeafChange {
    /// Steps whose page says something else, in the order of the target.
    pub changed: Vec<StepId>,
    pub added: Vec<StepId>,
    pub removed: Vec<StepId>,
    /// The titles of other pages that differ or are new.
    pub pages: Vec<String>,
}

impl LeafChange {
    /// Nothing is printed otherwise.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Whether the page of a step is new or says something else.
    pub fn touches(&self, step: &StepId) -> bool {
        self.changed.contains(step) || self.added.contains(step)
    }
}

impl Imprint {
    /// Of the manual, or of the shop copy, of a configuration: as they are for every kit of it, without what they say of
    /// their own state. The document is made and dropped again.
    pub fn of(manual: &Manual, resolved: &Resolved, purpose: Purpose, pictures: Pictures) -> Self {
        Self::of_document(&compose_plain(manual, resolved, purpose), resolved, pictures)
    }

    fn of_document(document: &Document, resolved: &Resolved, pictures: Pictures) -> Self {
        let steps = resolved.steps.iter().flat_map(|s| leaf_step(&s.step.id.value));
        let steps: BTreeMap<Anchor, &StepId> = steps.collect();
        let mut imprint = Self::default();
        for leaf in &document.leaves {
            let step = steps.get(&leaf.anchor).map(|id| (*id).clone());
            imprint.at.insert(leaf.anchor.clone(), imprint.leaves.len());
            imprint.leaves.push(LeafImprint::of(leaf, step, document.meta.units, pictures));
        }
        imprint
    }

    fn leaf(&self, anchor: &Anchor) -> Option<&LeafImprint> {
        self.at.get(anchor).and_then(|at| self.leaves.get(*at))
    }

    /// What is printed otherwise on `after`.
    pub fn compare(&self, after: &Self) -> LeafChange {
        let mut change = LeafChange::default();
        for leaf in &after.leaves {
            match (self.leaf(&leaf.anchor), &leaf.step) {
                (Some(before), _) if before.pieces == leaf.pieces => {}
                (Some(_), Some(step)) => change.changed.push(step.clone()),
                (None, Some(step)) => change.added.push(step.clone()),
                (_, None) => change.pages.push(leaf.title.clone()),
            }
        }
        let gone = self.leaves.iter().filter(|leaf| after.leaf(&leaf.anchor).is_none());
        change.removed.extend(gone.filter_map(|leaf| leaf.step.clone()));
        change
    }

    /// The pieces of each leaf that differs, before and after; a leaf that is new has nothing before.
    pub(super) fn differing<'a>(
        &'a self,
        after: &'a Self,
    ) -> impl Iterator<Item = (Option<&'a StepId>, Option<&'a [Piece]>, &'a [Piece])> {
        let pairs = after.leaves.iter().map(|leaf| (leaf, self.leaf(&leaf.anchor)));
        pairs
            .filter(|(leaf, before)| before.is_none_or(|b| b.pieces != leaf.pieces))
            .map(|(leaf, before)| (leaf.step.as_ref(), before.map(|b| &b.pieces[..]), &leaf.pieces[..]))
    }
}

impl LeafImprint {
    fn of(leaf: &Leaf, step: Option<StepId>, units: UnitStyle, pictures: Pictures) -> Self {
        let mut taker =
            PieceTaker { writer: PrintWriter { out: Vec::new(), units, pictures }, pieces: Vec::new(), item: None };
        let first = leaf.blocks.iter().find_map(|b| own_origin(&b.origin));
        taker.writer.line(&leaf.title);
        taker.take(first, PieceKind::Words, 0);
        taker.blocks(&leaf.blocks, None, 1);
        let title = match &leaf.role {
            LeafRole::Title => "Title page".to_owned(),
            _ => plain_text(&leaf.title, units),
        };
        Self { anchor: leaf.anchor.clone(), step, title, pieces: taker.pieces }
    }
}

fn own_origin(origin: &Origin) -> Option<&Origin> {
    (origin.step.is_some() || !origin.field.is_empty()).then_some(origin)
}

struct PieceTaker<'a> {
    writer: PrintWriter<'a>,
    pieces: Vec<Piece>,
    /// The item of a list that begins with the next block: whether it has a box.
    item: Option<bool>,
}

impl PieceTaker<'_> {
    /// Makes a piece of what was written since the last one.
    fn take(&mut self, origin: Option<&Origin>, kind: PieceKind, depth: u8) {
        if let Some(tick) = self.item.take() {
            self.writer.tag(if tick { b'1' } else { b'0' });
        }
        self.writer.out.push(depth);
        let digest = digest(&self.writer.out);
        self.writer.out.clear();
        self.pieces.push(Piece { digest, origin: origin.cloned(), kind, depth });
    }

    fn blocks(&mut self, blocks: &[Block], outer: Option<&Origin>, depth: u8) {
        blocks.iter().for_each(|block| self.block(block, outer, depth));
    }

    fn block(&mut self, block: &Block, outer: Option<&Origin>, depth: u8) {
        if let BlockKind::Region(region) = &block.kind {
            return self.blocks(&region.blocks, outer, depth);
        }
        let origin = own_origin(&block.origin).or(outer);
        let deeper = depth.saturating_add(1);
        self.writer.block(block);
        let kind = match &block.kind {
            BlockKind::Group(_) | BlockKind::Table(_) => PieceKind::Over,
            BlockKind::StepHead(_) | BlockKind::Figure(_) | BlockKind::Drawing(_) => PieceKind::Values,
            _ if origin.is_some_and(|o| o.field == "text") => PieceKind::Words,
            _ => PieceKind::Values,
        };
        self.take(origin, kind, depth);
        match &block.kind {
            BlockKind::StepHead(head) => {
                self.writer.line(&head.title);
                self.take(origin, PieceKind::Words, depth);
            }
            BlockKind::Table(table) => {
                for row in &table.rows {
                    self.writer.row(table, row);
                    self.take(own_origin(&row.origin).or(origin), PieceKind::Values, deeper);
                }
            }
            BlockKind::List { items, .. } => {
                for ListItem { tick, blocks } in items {
                    self.item = Some(*tick);
                    self.blocks(blocks, origin, deeper);
                    if self.item.is_some() {
                        self.take(origin, PieceKind::Values, deeper);
                    }
                }
            }
            _ => block.children().for_each(|inner| self.blocks(inner, origin, deeper)),
        }
    }
}
