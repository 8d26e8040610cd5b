//! Callouts: the marks in the figures of a page and the table rows they are tied to.

use std::collections::BTreeMap;

use crate::document::{Anchor, Block, BlockKind, Figure, all_blocks};

/// The figures in `blocks`, in reading order.
pub fn figures_of(blocks: &[Block]) -> impl Iterator<Item = &Figure> {
    all_blocks(blocks).filter_map(|block| match &block.kind {
        BlockKind::Figure(figure) => Some(figure),
        _ => None,
    })
}

/// A mark as its row leads to it.
#[derive(Debug)]
pub struct RowMark<'a> {
    pub number: u32,
    pub id: String,
    /// The label of the figure it is in.
    pub figure: &'a str,
}

/// The marks of a page by the row they are tied to.
#[derive(Debug, Default)]
pub struct Marks<'a> {
    of_row: BTreeMap<&'a Anchor, Vec<RowMark<'a>>>,
    /// Figures of the page that have marks.
    pub figures: usize,
}

impl<'a> Marks<'a> {
    pub fn of(blocks: &'a [Block]) -> Self {
        let mut marks = Self::default();
        for (number, figure) in (1..).zip(figures_of(blocks)) {
            marks.figures += usize::from(!figure.callouts.is_empty());
            for (position, callout) in figure.callouts.iter().enumerate() {
                let Some(row) = &callout.to else { continue };
                let tied = marks.of_row.entry(row).or_default();
                // One way back for marks of one number in one figure.
                if tied.iter().all(|known| known.number != callout.number || known.figure != &*figure.label) {
                    tied.push(RowMark { number: callout.number, id: mark_id(number, position), figure: &figure.label });
                }
            }
        }
        marks
    }

    /// The marks that are tied to a row, the first of each number in each figure.
    pub fn all_of_row(&self, row: &Anchor) -> &[RowMark<'a>] {
        self.of_row.get(row).map_or(&[], Vec::as_slice)
    }

    /// The id of the first mark with this number that is tied to a row.
    pub fn of_row(&self, row: &Anchor, number: u32) -> Option<&str> {
        self.all_of_row(row).iter().find(|mark| mark.number == number).map(|mark| mark.id.as_str())
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
