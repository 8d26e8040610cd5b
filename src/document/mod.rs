//! Documents as trees of blocks. One tree feeds HTML and PDF, so they cannot disagree.
//!
//! Owns: the block types and the composing of documents from a resolved configuration.
//! Must not know: markup, pages, fonts, files written.

mod block;
mod inline;
mod leaf;
mod table;

pub use block::{Block, BlockKind, Callout, ContentsEntry, Field, Figure, Group, ListItem, Origin, StepHead};
pub use inline::{Anchor, Inline, Inlines, plain_text};
pub use leaf::{Document, Leaf, LeafRole, Meta, Purpose};
pub use table::{Align, Cell, Column, Row, Table, TableRole, Width};

pub use crate::trade::SafetyWord;
pub use crate::units::Paper;
