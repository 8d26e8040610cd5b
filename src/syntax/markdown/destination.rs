//! Where the destination of a link stands.
//!
//! Owns: finding the bytes of a destination. Must not know: what it points to.

use std::ops::Range;

/// The destination of `[content](destination "title")`; `content_end` is where its content ends.
pub(super) fn inline(text: &str, link: Range<usize>, content_end: usize) -> Option<Range<usize>> {
    let from = content_end + text.get(content_end..link.end)?.find("](")? + 2;
    Some(at(text, from, link.end))
}

/// The destination of a definition `[label]: destination "title"`.
pub(super) fn of_definition(text: &str, definition: Range<usize>) -> Option<Range<usize>> {
    let from = definition.start + text.get(definition.clone())?.find("]:")? + 2;
    Some(at(text, from, definition.end))
}

/// The destination that starts at `from` or after white space (CommonMark 0.31.2, link destination).
fn at(text: &str, from: usize, limit: usize) -> Range<usize> {
    let rest = &text[from..limit];
    let start = from + rest.len() - rest.trim_start_matches([' ', '\t', '\r', '\n', '>']).len();
    let bracketed = text[start..limit].starts_with('<');
    let start = start + usize::from(bracketed);
    let mut depth = 0;
    let mut escaped = false;
    for (i, c) in text[start..limit].char_indices() {
        let ends = match c {
            _ if escaped => false,
            '>' => bracketed,
            _ if bracketed => false,
            '(' => {
                depth += 1;
                false
            }
            ')' => {
                depth -= 1;
                depth < 0
            }
            c => c.is_ascii_whitespace() || c.is_ascii_control(),
        };
        if ends {
            return start..start + i;
        }
        escaped = c == '\\' && !escaped;
    }
    start..limit
}
