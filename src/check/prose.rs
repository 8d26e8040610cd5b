//! The references in the Markdown of a step or a page.

use crate::source::Spanned;
use crate::syntax::markdown::{MdBlock, MdInline, each_block, each_inline, each_link};

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
