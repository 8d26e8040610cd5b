//! Callouts: the marks in the figures of a page and the table rows they are tied to.

use std::collections::BTreeMap;

use crate::document::{Anchor, Block, BlockKind, Figure};

/// Calls `visit` with every figure in `blocks`, in reading order.
pub fn each_figure<'a>(blocks: &'a [Block], visit: &mut impl FnMut(&'a Figure)) {
    let mut open: Vec<&'a Block> = blocks.iter().rev().collect();
    while let Some(block) = open.pop() {
        match &block.kind {
            BlockKind::Figure(figure) => visit(figure),
            BlockKind::List { items, .. } => open.extend(items.iter().rev().flat_map(|i| i.blocks.iter().rev())),
            BlockKind::Safety { blocks, .. } | BlockKind::Quote(blocks) | BlockKind::Footnote { blocks, .. } => {
                open.extend(blocks.iter().rev());
            }
            BlockKind::Group(group) => open.extend(group.blocks.iter().rev()),
            _ => {}
        }
    }
}

/// The marks of a page by the row they are tied to.
#[derive(Debug, Default)]
pub struct Marks<'a> {
    /// Number and id of the marks tied to a row, each number once.
    of_row: BTreeMap<&'a Anchor, Vec<(u32, String)>>,
}

impl<'a> Marks<'a> {
    pub fn of(blocks: &'a [Block]) -> Self {
        let mut of_row: BTreeMap<&Anchor, Vec<(u32, String)>> = BTreeMap::new();
        let mut number = 0;
        each_figure(blocks, &mut |figure| {
            number += 1;
            for (position, callout) in figure.callouts.iter().enumerate() {
                if let Some(row) = &callout.to {
                    let marks = of_row.entry(row).or_default();
                    if marks.iter().all(|(known, _)| *known != callout.number) {
                        marks.push((callout.number, mark_id(number, position)));
                    }
                }
            }
        });
        Self { of_row }
    }

    /// Number and id of the marks that are tied to a row, the first of each number.
    pub fn all_of_row(&self, row: &Anchor) -> &[(u32, String)] {
        self.of_row.get(row).map_or(&[], Vec::as_slice)
    }

    /// The id of the first mark with this number that is tied to a row.
    pub fn of_row(&self, row: &Anchor, number: u32) -> Option<&str> {
        let marks = self.of_row.get(row)?;
        marks.iter().find(|(of, _)| *of == number).map(|(_, id)| id.as_str())
    }
}

/// The id of a mark's line below the picture.
pub fn line_id(figure: usize, position: usize) -> String {
    format!("_line-{figure}-{}", position + 1)
}

/// The id of the mark at `position`, counted from 0, in the page's figure number `figure`, counted from 1. Several
/// marks of a figure may have one number. Anchors never start with `_`.
pub fn mark_id(figure: usize, position: usize) -> String {
    format!("_mark-{figure}-{}", position + 1)
}
