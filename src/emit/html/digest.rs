//! A digest of what a step says, by which a builder's record knows a step that has changed since it was done.
//!
//! Numbers of steps, sections and figures don't count: they change when another step is put in before. The bytes
//! of figures do.

use sha2::{Digest as _, Sha256};

use super::site::Site;
use crate::document::{Block, BlockKind, Figure, Inline, Leaf, LineRole, all_blocks, plain_text};
use crate::source::hex;
use crate::units::UnitStyle;

/// Signs between two pieces, so that moving a word from one to the next counts.
const PIECE: &str = "\u{1f}";

/// Twelve hexadecimal signs.
pub fn digest(site: &Site<'_>, leaf: &Leaf) -> String {
    let mut digest = DigestWriter { site, hash: Sha256::new() };
    digest.line(&leaf.title);
    all_blocks(&leaf.blocks).for_each(|block| digest.block(block));
    hex(&digest.hash.finalize()[..6])
}

struct DigestWriter<'a> {
    site: &'a Site<'a>,
    hash: Sha256,
}

impl DigestWriter<'_> {
    fn put(&mut self, text: &str) {
        self.hash.update(text);
        self.hash.update(PIECE);
    }

    fn line(&mut self, inlines: &[Inline]) {
        for inline in inlines {
            match inline {
                Inline::Link { to, .. } if to.as_str().starts_with("step-") || to.as_str().starts_with("figure-") => {
                    self.hash.update(to.as_str());
                }
                Inline::Link { content, .. } | Inline::Outside { content, .. } => self.line(content),
                Inline::Strong(content) | Inline::Emphasis(content) => self.line(content),
                // Values count as they are, however they are shown.
                Inline::Length(length) => self.hash.update(length.as_inches().to_string()),
                Inline::Measure(m) => self.hash.update(format!("{} {}", m.value, m.unit.word())),
                other => self.hash.update(plain_text(std::slice::from_ref(other), UnitStyle::InchFraction)),
            }
        }
        self.hash.update(PIECE);
    }

    /// A block without those in it. Headings don't count: they are the compiler's own, or the leaf's.
    fn block(&mut self, block: &Block) {
        match &block.kind {
            BlockKind::Safety { word, .. } => self.put(word.word()),
            BlockKind::Preformatted(text) => self.put(text),
            BlockKind::Figure(figure) => return self.figure(figure),
            BlockKind::Drawing(drawn) => {
                self.put(&drawn.drawing.alt);
                self.line(&drawn.caption);
                // A drawing is made of its numbers, and a number is written in one way only.
                return self.put(&format!("{:?}", drawn.drawing.marks));
            }
            BlockKind::StepHead(head) => {
                self.put(head.hand.map_or("", |hand| hand.word()));
                if head.effectivity.is_none() {
                    self.put("");
                }
            }
            _ => {}
        }
        for (role, line) in block.lines() {
            if role != LineRole::Heading {
                self.line(line);
            }
        }
    }

    fn figure(&mut self, figure: &Figure) {
        self.put(figure.name.as_str());
        if let Some(bytes) = self.site.picture_digest(&figure.name) {
            self.hash.update(bytes);
        }
        self.line(&figure.caption);
        self.line(&figure.view);
        for callout in &figure.callouts {
            self.put(&format!("{} {} {}", callout.number, callout.at.0, callout.at.1));
            self.line(&callout.text);
        }
    }
}
