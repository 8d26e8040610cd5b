//! Text under a condition: regions that do not hold are taken out, lists on both sides of an edge are spliced
//! back together and so renumbered.

use super::effectivity::{Facts, holds};
use crate::syntax::markdown::{MdBlock, MdBlockKind};

/// The blocks that hold, without their conditions.
pub(super) fn decide(blocks: Vec<MdBlock>, facts: &Facts) -> Vec<MdBlock> {
    let mut out: Vec<MdBlock> = Vec::with_capacity(blocks.len());
    // Whether an edge of a region lies between the last block and the next.
    let mut edge = false;
    push(blocks, facts, &mut out, &mut edge);
    out
}

fn push(blocks: Vec<MdBlock>, facts: &Facts, out: &mut Vec<MdBlock>, edge: &mut bool) {
    for mut block in blocks {
        if let MdBlockKind::Only { condition, blocks, .. } = block.kind {
            *edge = true;
            if holds(&condition, facts) {
                push(blocks, facts, out, edge);
            }
            *edge = true;
            continue;
        }
        block.children_mut().for_each(|inner| *inner = decide(std::mem::take(inner), facts));
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
