//! Text under a condition: regions that do not hold are taken out, lists on both sides of an edge are spliced
//! back together and so renumbered.

use super::effectivity::{Facts, holds};
use crate::syntax::markdown::{MdBlock, MdBlockKind, MdItem};

/// The blocks that hold, without their conditions.
pub(super) fn decide(blocks: &[MdBlock], facts: &Facts) -> Vec<MdBlock> {
    let mut out: Vec<MdBlock> = Vec::with_capacity(blocks.len());
    // Whether an edge of a region lies between the last block and the next.
    let mut edge = false;
    push(blocks, facts, &mut out, &mut edge);
    out
}

fn push(blocks: &[MdBlock], facts: &Facts, out: &mut Vec<MdBlock>, edge: &mut bool) {
    for block in blocks {
        if let MdBlockKind::Only { condition, blocks, .. } = &block.kind {
            *edge = true;
            if holds(condition, facts) {
                push(blocks, facts, out, edge);
            }
            *edge = true;
            continue;
        }
        let block = inside(block, facts);
        if *edge
            && let MdBlockKind::List { ordered: next, items } = &block.kind
            && let Some(MdBlockKind::List { ordered: last, items: before }) = out.last_mut().map(|b| &mut b.kind)
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
fn inside(block: &MdBlock, facts: &Facts) -> MdBlock {
    let kind = match &block.kind {
        MdBlockKind::List { ordered, items } => {
            let items = items
                .iter()
                .map(|item| MdItem { span: item.span, task: item.task, blocks: decide(&item.blocks, facts) })
                .collect();
            MdBlockKind::List { ordered: *ordered, items }
        }
        MdBlockKind::Quote(blocks) => MdBlockKind::Quote(decide(blocks, facts)),
        MdBlockKind::Safety { word, blocks } => {
            MdBlockKind::Safety { word: word.clone(), blocks: decide(blocks, facts) }
        }
        MdBlockKind::FootnoteDefinition { label, blocks } => {
            MdBlockKind::FootnoteDefinition { label: label.clone(), blocks: decide(blocks, facts) }
        }
        other => other.clone(),
    };
    MdBlock { span: block.span, kind }
}
