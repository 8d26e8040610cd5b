//! The references in the Markdown of a step or a page.

use crate::source::Spanned;
use crate::syntax::markdown::{MdBlock, MdInline, MdInlineKind, each_block, each_inline, each_link};

pub use crate::syntax::markdown::reference;

/// Calls `visit` for every inline below `blocks`, those inside others included.
pub fn inlines<'a>(blocks: &'a [MdBlock], visit: &mut dyn FnMut(&'a MdInline)) {
    each_block(blocks, &mut |block| block.runs().for_each(|run| each_inline(run, visit)));
}

/// The destinations of all links below `blocks`.
pub fn links(blocks: &[MdBlock]) -> Vec<&Spanned<String>> {
    let mut links = Vec::new();
    each_block(blocks, &mut |block| block.runs().for_each(|run| each_link(run, &mut |to| links.push(to))));
    links
}

/// Adds the words of an inline, as a reader sees them, to `text`.
pub fn plain_words(inline: &MdInline, text: &mut String) {
    match &inline.kind {
        MdInlineKind::Text(words) | MdInlineKind::Code(words) => text.push_str(words),
        MdInlineKind::SoftBreak | MdInlineKind::HardBreak => text.push(' '),
        _ => inline.children().iter().for_each(|inner| plain_words(inner, text)),
    }
}
