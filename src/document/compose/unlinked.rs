//! Links that lead out of a document: a few steps taken out of a manual refer to others that are not with them.

use std::collections::BTreeSet;

use crate::document::block::{Block, BlockKind};
use crate::document::children::all_blocks;
use crate::document::inline::{Anchor, Inline, Inlines};
use crate::document::leaf::Leaf;

/// Takes the links out that lead to no place of these leaves; what they say stays.
pub(super) fn unlink(leaves: &mut [Leaf]) {
    let mut there = BTreeSet::new();
    for leaf in leaves.iter() {
        there.insert(leaf.anchor.clone());
        there.extend(all_blocks(&leaf.blocks).flat_map(Block::anchors).cloned());
    }
    for leaf in leaves {
        if leaf.parent.as_ref().is_some_and(|p| !there.contains(p)) {
            leaf.parent = None;
        }
        inlines(&mut leaf.title, &there);
        blocks(&mut leaf.blocks, &there);
    }
}

fn blocks(all: &mut [Block], there: &BTreeSet<Anchor>) {
    for block in all {
        match &mut block.kind {
            BlockKind::Contents(entries) => entries.retain(|e| there.contains(&e.to)),
            BlockKind::Figure(figure) => {
                figure.callouts.iter_mut().for_each(|c| c.to = c.to.take().filter(|to| there.contains(to)));
            }
            _ => {}
        }
        block.lines_mut().into_iter().for_each(|line| inlines(line, there));
        block.children_mut().for_each(|inner| blocks(inner, there));
    }
}

fn inlines(line: &mut Inlines, there: &BTreeSet<Anchor>) {
    let mut out = Inlines::with_capacity(line.len());
    for mut inline in line.drain(..) {
        if let Some(content) = inline.children_mut() {
            inlines(content, there);
        }
        match inline {
            Inline::Link { to, content } if !there.contains(&to) => out.extend(content),
            Inline::PageOf(to) if !there.contains(&to) => {}
            other => out.push(other),
        }
    }
    *line = out;
}
