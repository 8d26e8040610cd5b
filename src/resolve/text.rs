//! Text under a condition: regions that do not hold are taken out, lists on both sides of an edge are spliced
//! back together and so renumbered.

use super::effectivity::{Facts, holds};
use crate::model::Roles;
use crate::syntax::markdown::{MdBlock, MdBlockKind, MdInline, MdInlineKind};
use crate::units::{Hand, VariantName};

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

/// Puts the number of the part into each reference that says a role. In a step that was `made` for the other hand the part
/// is the opposite of the one that the text says.
pub(super) fn put_roles_in(
    blocks: &mut [MdBlock],
    roles: &Roles,
    variant: &VariantName,
    hand: Option<Hand>,
    made: bool,
) {
    if roles.is_empty() {
        return;
    }
    let number = |role: &str| {
        let said = if made { hand.map(Hand::opposite) } else { hand };
        let part = roles.part_in(role, variant, said)?;
        let mirrored = part.opposite.as_ref().filter(|_| made && part.hand.is_some() && part.hand != hand);
        Some(mirrored.unwrap_or(&part.number).to_string())
    };
    for block in blocks {
        for run in block.runs_mut() {
            run.iter_mut().for_each(|inline| in_inline(inline, &number));
        }
        for inner in block.children_mut() {
            put_roles_in(inner, roles, variant, hand, made);
        }
    }
}

fn in_inline(inline: &mut MdInline, number: &dyn Fn(&str) -> Option<String>) {
    if let MdInlineKind::Link { to, .. } = &mut inline.kind
        && let Some(part) = to.value.strip_prefix("part:").and_then(number)
    {
        to.value = format!("part:{part}");
    }
    inline.children_mut().iter_mut().for_each(|inner| in_inline(inner, number));
}
