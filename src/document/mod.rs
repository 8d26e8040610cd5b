//! Documents as trees of blocks. One tree feeds HTML and PDF, so they cannot disagree.
//!
//! Owns: the block types and the composing of documents from a resolved configuration.
//! Must not know: markup, pages, fonts, files written.

mod bars;
mod bench;
mod block;
mod children;
mod compose;
mod edition;
mod hand_tag;
mod imprint;
mod inline;
mod leaf;
mod pick_row;
mod set_text;
mod sheet;
mod table;
mod whole;

pub use crate::drawing::PrintScale;
pub use bars::Bars;
pub use bench::{Bench, BenchThing, CureTimes, Limits, StepBeginning, ThingKind};
pub use block::{
    Arrow, Block, BlockKind, Callout, ContentsEntry, Drawn, Field, Figure, Group, ListItem, Origin, Region, RegionRole,
    StepHead,
};
pub use children::{LineRole, all_blocks};
pub use compose::{
    bench, box_sheet, cable_sheet, change_document, compose, compose_edition, conversion_document, hole_sheet,
    joint_sheet, meta, notice_document, pick_lists, pick_lists_edition, pick_rows, receiving_list, templates,
    wire_sheet,
};
pub use edition::{Edition, LiesIn, Revision};
pub use hand_tag::HandTag;
pub use imprint::{Imprint, LeafChange, MadeImprints, Pictures, TouchedDocument};
pub use inline::{Anchor, Inline, Inlines, plain_text};
pub use leaf::{Document, Leaf, LeafRole, Meta, Purpose};
pub use pick_row::{PickKind, PickRow};
pub use set_text::{SetRun, set_text};
pub use sheet::CsvSheet;
pub use table::{CellAlign, Column, ColumnKind, Table, TableCell, TableRole, TableRow, Width};
pub use whole::stays_whole;

pub use crate::trade::SafetyWord;
pub use crate::units::Paper;
