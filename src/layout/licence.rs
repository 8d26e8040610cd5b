//! The last page: the licence of the built-in fonts, which wants to go with them.
//!
//! Owns: that page's words. Must not know: layout.

use crate::document::{Anchor, Block, BlockKind, Inline, Leaf, LeafRole, Origin};

/// Size of its text in points: a whole licence on a page.
pub const SIZE: f64 = 6.2;

/// The licence as it comes with DejaVu fonts 2.37, but for the part on a mathematical font that is not among ours.
const TEXT: &str = include_str!("font-licence.txt");

pub fn leaf() -> Leaf {
    let intro = "This document is set in DejaVu fonts. Their licence reads:".to_owned();
    let paragraphs = TEXT
        .split("\n\n")
        .map(|p| p.lines().map(str::trim).filter(|l| !l.chars().all(|c| c == '-')).collect::<Vec<_>>().join(" "))
        .filter(|p| !p.is_empty() && !p.starts_with("$Id"));
    let blocks = std::iter::once(intro)
        .chain(paragraphs)
        .map(|p| Block { kind: BlockKind::Paragraph(vec![Inline::text(p)]), origin: Origin::default(), anchor: None })
        .collect();
    Leaf {
        anchor: Anchor::new("page", "fonts"),
        role: LeafRole::Text,
        number: None,
        title: vec![Inline::text("Fonts")],
        parent: None,
        blocks,
    }
}
