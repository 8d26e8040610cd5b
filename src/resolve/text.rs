//! Text under a condition: regions that do not hold are taken out, lists on both sides of an edge are spliced
//! back together and so renumbered.

use super::effectivity::{Facts, holds};
use crate::syntax::markdown::{Block, BlockKind, Item};

/// The blocks that hold, without their conditions.
pub(super) fn decide(blocks: &[Block], facts: &Facts) -> Vec<Block> {
    let mut out: Vec<Block> = Vec::with_capacity(blocks.len());
    // Whether an edge of a region lies between the last block and the next.
    let mut edge = false;
    push(blocks, facts, &mut out, &mut edge);
    out
}

fn push(blocks: &[Block], facts: &Facts, out: &mut Vec<Block>, edge: &mut bool) {
    for block in blocks {
        if let BlockKind::Only { condition, blocks, .. } = &block.kind {
            *edge = true;
            if holds(condition, facts) {
                push(blocks, facts, out, edge);
            }
            *edge = true;
            continue;
        }
        let block = inside(block, facts);
        if *edge
            && let BlockKind::List { ordered: next, items } = &block.kind
            && let Some(BlockKind::List { ordered: last, items: before }) = out.last_mut().map(|b| &mut b.kind)
            && last.is_some() == next.is_some()
        {
            before.extend(items.iter().cloned());
        } else {
            out.push(block);
        }
        *edge = false;
    }
}

/// A block with the conditions inside it decided.
fn inside(block: &Block, facts: &Facts) -> Block {
    let kind = match &block.kind {
        BlockKind::List { ordered, items } => {
            let items = items
                .iter()
                .map(|item| Item { span: item.span, task: item.task, blocks: decide(&item.blocks, facts) })
                .collect();
            BlockKind::List { ordered: *ordered, items }
        }
        BlockKind::Quote(blocks) => BlockKind::Quote(decide(blocks, facts)),
        BlockKind::Safety { word, blocks } => BlockKind::Safety { word: word.clone(), blocks: decide(blocks, facts) },
        BlockKind::FootnoteDefinition { label, blocks } => {
            BlockKind::FootnoteDefinition { label: label.clone(), blocks: decide(blocks, facts) }
        }
        other => other.clone(),
    };
    Block { span: block.span, kind }
}
