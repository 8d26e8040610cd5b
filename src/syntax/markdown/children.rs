//! What stands in what: the one place that knows which kinds of blocks and inlines hold others.

use super::{MdBlock, MdBlockKind, MdInline, MdInlineKind};
use crate::source::{Span, Spanned};

impl MdBlock {
    /// The blocks in it: of a list those of each item, else all in one run.
    pub fn children(&self) -> impl Iterator<Item = &[MdBlock]> {
        let (items, one): (&[super::MdItem], Option<&[MdBlock]>) = match &self.kind {
            MdBlockKind::List { items, .. } => (items, None),
            MdBlockKind::Quote(blocks)
            | MdBlockKind::Safety { blocks, .. }
            | MdBlockKind::FootnoteDefinition { blocks, .. }
            | MdBlockKind::Only { blocks, .. } => (&[], Some(blocks)),
            MdBlockKind::Paragraph(_)
            | MdBlockKind::Heading { .. }
            | MdBlockKind::Table { .. }
            | MdBlockKind::Code(_)
            | MdBlockKind::Rule => (&[], None),
        };
        items.iter().map(|i| i.blocks.as_slice()).chain(one)
    }

    /// The same, to be changed.
    pub fn children_mut(&mut self) -> impl Iterator<Item = &mut Vec<MdBlock>> {
        let (items, one): (&mut [super::MdItem], Option<&mut Vec<MdBlock>>) = match &mut self.kind {
            MdBlockKind::List { items, .. } => (items, None),
            MdBlockKind::Quote(blocks)
            | MdBlockKind::Safety { blocks, .. }
            | MdBlockKind::FootnoteDefinition { blocks, .. }
            | MdBlockKind::Only { blocks, .. } => (&mut [], Some(blocks)),
            MdBlockKind::Paragraph(_)
            | MdBlockKind::Heading { .. }
            | MdBlockKind::Table { .. }
            | MdBlockKind::Code(_)
            | MdBlockKind::Rule => (&mut [], None),
        };
        items.iter_mut().map(|i| &mut i.blocks).chain(one)
    }

    /// Its own runs of text: one of a paragraph or a heading, one of each cell of a table.
    pub fn runs(&self) -> impl Iterator<Item = &[MdInline]> {
        type Runs<'a> = (Option<&'a [MdInline]>, &'a [Vec<MdInline>], &'a [Vec<Vec<MdInline>>]);
        let (one, head, rows): Runs = match &self.kind {
            MdBlockKind::Paragraph(content) | MdBlockKind::Heading { content, .. } => (Some(content), &[], &[]),
            MdBlockKind::Table { head, rows, .. } => (None, head, rows),
            _ => (None, &[], &[]),
        };
        one.into_iter().chain(head.iter().chain(rows.iter().flatten()).map(Vec::as_slice))
    }

    /// The same, to be changed.
    pub fn runs_mut(&mut self) -> impl Iterator<Item = &mut Vec<MdInline>> {
        type Runs<'a> = (Option<&'a mut Vec<MdInline>>, &'a mut [Vec<MdInline>], &'a mut [Vec<Vec<MdInline>>]);
        let (one, head, rows): Runs = match &mut self.kind {
            MdBlockKind::Paragraph(content) | MdBlockKind::Heading { content, .. } => (Some(content), &mut [], &mut []),
            MdBlockKind::Table { head, rows, .. } => (None, head, rows),
            _ => (None, &mut [], &mut []),
        };
        one.into_iter().chain(head.iter_mut().chain(rows.iter_mut().flatten()))
    }
}

impl MdInline {
    /// What stands in it.
    pub fn children(&self) -> &[MdInline] {
        match &self.kind {
            MdInlineKind::Strong(inner) | MdInlineKind::Emphasis(inner) | MdInlineKind::Link { content: inner, .. } => {
                inner
            }
            MdInlineKind::Text(_)
            | MdInlineKind::Code(_)
            | MdInlineKind::SoftBreak
            | MdInlineKind::HardBreak
            | MdInlineKind::FootnoteMark(_) => &[],
        }
    }

    /// The same, to be changed.
    pub fn children_mut(&mut self) -> &mut [MdInline] {
        match &mut self.kind {
            MdInlineKind::Strong(inner) | MdInlineKind::Emphasis(inner) | MdInlineKind::Link { content: inner, .. } => {
                inner
            }
            MdInlineKind::Text(_)
            | MdInlineKind::Code(_)
            | MdInlineKind::SoftBreak
            | MdInlineKind::HardBreak
            | MdInlineKind::FootnoteMark(_) => &mut [],
        }
    }
}

/// Calls `visit` for every block, outer ones first.
pub fn each_block<'a>(blocks: &'a [MdBlock], visit: &mut dyn FnMut(&'a MdBlock)) {
    for block in blocks {
        visit(block);
        block.children().for_each(|inner| each_block(inner, visit));
    }
}

/// Calls `visit` for every inline of a run, those inside others included, outer ones first.
pub fn each_inline<'a>(run: &'a [MdInline], visit: &mut dyn FnMut(&'a MdInline)) {
    for inline in run {
        visit(inline);
        each_inline(inline.children(), visit);
    }
}

/// Calls `visit` for the destination of every link of a run.
pub fn each_link<'a>(run: &'a [MdInline], visit: &mut dyn FnMut(&'a Spanned<String>)) {
    each_inline(run, &mut |inline| {
        if let MdInlineKind::Link { to, .. } = &inline.kind {
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
