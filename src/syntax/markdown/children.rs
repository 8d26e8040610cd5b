//! What stands in what: the one place that knows which kinds of blocks and inlines hold others.

use super::{Block, BlockKind, Inline, InlineKind};
use crate::source::{Span, Spanned};

impl Block {
    /// The blocks in it: of a list those of each item, else all in one run.
    pub fn children(&self) -> impl Iterator<Item = &[Block]> {
        let (items, one): (&[super::Item], Option<&[Block]>) = match &self.kind {
            BlockKind::List { items, .. } => (items, None),
            BlockKind::Quote(blocks)
            | BlockKind::Safety { blocks, .. }
            | BlockKind::FootnoteDefinition { blocks, .. }
            | BlockKind::Only { blocks, .. } => (&[], Some(blocks)),
            BlockKind::Paragraph(_)
            | BlockKind::Heading { .. }
            | BlockKind::Table { .. }
            | BlockKind::Code(_)
            | BlockKind::Rule => (&[], None),
        };
        items.iter().map(|i| i.blocks.as_slice()).chain(one)
    }

    /// The same, to be changed.
    pub fn children_mut(&mut self) -> impl Iterator<Item = &mut Vec<Block>> {
        let (items, one): (&mut [super::Item], Option<&mut Vec<Block>>) = match &mut self.kind {
            BlockKind::List { items, .. } => (items, None),
            BlockKind::Quote(blocks)
            | BlockKind::Safety { blocks, .. }
            | BlockKind::FootnoteDefinition { blocks, .. }
            | BlockKind::Only { blocks, .. } => (&mut [], Some(blocks)),
            BlockKind::Paragraph(_)
            | BlockKind::Heading { .. }
            | BlockKind::Table { .. }
            | BlockKind::Code(_)
            | BlockKind::Rule => (&mut [], None),
        };
        items.iter_mut().map(|i| &mut i.blocks).chain(one)
    }

    /// Its own runs of text: one of a paragraph or a heading, one of each cell of a table.
    pub fn runs(&self) -> impl Iterator<Item = &[Inline]> {
        type Runs<'a> = (Option<&'a [Inline]>, &'a [Vec<Inline>], &'a [Vec<Vec<Inline>>]);
        let (one, head, rows): Runs = match &self.kind {
            BlockKind::Paragraph(content) | BlockKind::Heading { content, .. } => (Some(content), &[], &[]),
            BlockKind::Table { head, rows, .. } => (None, head, rows),
            _ => (None, &[], &[]),
        };
        one.into_iter().chain(head.iter().chain(rows.iter().flatten()).map(Vec::as_slice))
    }

    /// The same, to be changed.
    pub fn runs_mut(&mut self) -> impl Iterator<Item = &mut Vec<Inline>> {
        type Runs<'a> = (Option<&'a mut Vec<Inline>>, &'a mut [Vec<Inline>], &'a mut [Vec<Vec<Inline>>]);
        let (one, head, rows): Runs = match &mut self.kind {
            BlockKind::Paragraph(content) | BlockKind::Heading { content, .. } => (Some(content), &mut [], &mut []),
            BlockKind::Table { head, rows, .. } => (None, head, rows),
            _ => (None, &mut [], &mut []),
        };
        one.into_iter().chain(head.iter_mut().chain(rows.iter_mut().flatten()))
    }
}

impl Inline {
    /// What stands in it.
    pub fn children(&self) -> &[Inline] {
        match &self.kind {
            InlineKind::Strong(inner) | InlineKind::Emphasis(inner) | InlineKind::Link { content: inner, .. } => inner,
            InlineKind::Text(_)
            | InlineKind::Code(_)
            | InlineKind::SoftBreak
            | InlineKind::HardBreak
            | InlineKind::FootnoteMark(_) => &[],
        }
    }

    /// The same, to be changed.
    pub fn children_mut(&mut self) -> &mut [Inline] {
        match &mut self.kind {
            InlineKind::Strong(inner) | InlineKind::Emphasis(inner) | InlineKind::Link { content: inner, .. } => inner,
            InlineKind::Text(_)
            | InlineKind::Code(_)
            | InlineKind::SoftBreak
            | InlineKind::HardBreak
            | InlineKind::FootnoteMark(_) => &mut [],
        }
    }
}

/// Calls `visit` for every block, outer ones first.
pub fn each_block<'a>(blocks: &'a [Block], visit: &mut dyn FnMut(&'a Block)) {
    for block in blocks {
        visit(block);
        block.children().for_each(|inner| each_block(inner, visit));
    }
}

/// Calls `visit` for every inline of a run, those inside others included, outer ones first.
pub fn each_inline<'a>(run: &'a [Inline], visit: &mut dyn FnMut(&'a Inline)) {
    for inline in run {
        visit(inline);
        each_inline(inline.children(), visit);
    }
}

/// Calls `visit` for the destination of every link of a run.
pub fn each_link<'a>(run: &'a [Inline], visit: &mut dyn FnMut(&'a Spanned<String>)) {
    each_inline(run, &mut |inline| {
        if let InlineKind::Link { to, .. } = &inline.kind {
            visit(to);
        }
    });
}

/// Splits `part:KW-103-L` into its scheme, the name and the name's own place.
pub fn reference(to: &Spanned<String>) -> Option<(&str, &str, Span)> {
    let (scheme, name) = to.value.split_once(':')?;
    let written = (to.span.end - to.span.start) as usize;
    let span = if written == to.value.len() {
        Span { start: to.span.start + scheme.len() as u32 + 1, ..to.span }
    } else {
        to.span
    };
    Some((scheme, name, span))
}
