//! Links that lead out of a document: a few steps taken out of a manual refer to others that are not with them.

use std::collections::BTreeSet;

use crate::document::block::{Block, BlockKind, Callout};
use crate::document::inline::{Anchor, Inline, Inlines};
use crate::document::leaf::Leaf;

/// Takes the links out that lead to no place of these leaves; what they say stays.
pub(super) fn unlink(leaves: &mut [Leaf]) {
    let mut there = BTreeSet::new();
    for leaf in leaves.iter() {
        there.insert(leaf.anchor.clone());
        anchors(&leaf.blocks, &mut there);
    }
    for leaf in leaves {
        if leaf.parent.as_ref().is_some_and(|p| !there.contains(p)) {
            leaf.parent = None;
        }
        inlines(&mut leaf.title, &there);
        blocks(&mut leaf.blocks, &there);
    }
}

fn anchors(blocks: &[Block], there: &mut BTreeSet<Anchor>) {
    for block in blocks {
        there.extend(block.anchor.clone());
        match &block.kind {
            BlockKind::Table(table) => there.extend(table.rows.iter().filter_map(|r| r.anchor.clone())),
            BlockKind::List { items, .. } => items.iter().for_each(|i| anchors(&i.blocks, there)),
            BlockKind::Group(group) => anchors(&group.blocks, there),
            BlockKind::Safety { blocks, .. } | BlockKind::Quote(blocks) | BlockKind::Footnote { blocks, .. } => {
                anchors(blocks, there);
            }
            _ => {}
        }
    }
}

fn blocks(all: &mut [Block], there: &BTreeSet<Anchor>) {
    for block in all {
        match &mut block.kind {
            BlockKind::Heading { text, .. } | BlockKind::Paragraph(text) | BlockKind::SignOff { role: text } => {
                inlines(text, there)
            }
            BlockKind::List { items, .. } => items.iter_mut().for_each(|i| blocks(&mut i.blocks, there)),
            BlockKind::Table(table) => {
                inlines(&mut table.caption, there);
                let cells = table.rows.iter_mut().flat_map(|r| &mut r.cells);
                cells.for_each(|c| inlines(&mut c.content, there));
            }
            BlockKind::Safety { blocks: inner, .. }
            | BlockKind::Quote(inner)
            | BlockKind::Footnote { blocks: inner, .. } => {
                blocks(inner, there);
            }
            BlockKind::Figure(figure) => {
                inlines(&mut figure.caption, there);
                figure.callouts.iter_mut().for_each(|c: &mut Callout| {
                    inlines(&mut c.text, there);
                    c.to = c.to.take().filter(|to| there.contains(to));
                });
            }
            BlockKind::Drawing(drawn) => inlines(&mut drawn.caption, there),
            BlockKind::Fields(fields) => fields.iter_mut().for_each(|f| inlines(&mut f.value, there)),
            BlockKind::StepHead(head) => head.facts.iter_mut().for_each(|f| inlines(&mut f.value, there)),
            BlockKind::Group(group) => {
                inlines(&mut group.title, there);
                blocks(&mut group.blocks, there);
            }
            BlockKind::Contents(entries) => entries.retain(|e| there.contains(&e.to)),
            BlockKind::Preformatted(_) | BlockKind::Rule => {}
        }
    }
}

fn inlines(line: &mut Inlines, there: &BTreeSet<Anchor>) {
    let mut out = Inlines::with_capacity(line.len());
    for inline in line.drain(..) {
        match inline {
            Inline::Link { to, mut content } => {
                inlines(&mut content, there);
                if there.contains(&to) {
                    out.push(Inline::Link { to, content });
                } else {
                    out.extend(content);
                }
            }
            Inline::PageOf(to) if !there.contains(&to) => {}
            Inline::Strong(mut content) => {
                inlines(&mut content, there);
                out.push(Inline::Strong(content));
            }
            Inline::Emphasis(mut content) => {
                inlines(&mut content, there);
                out.push(Inline::Emphasis(content));
            }
            other => out.push(other),
        }
    }
    *line = out;
}
