//! A first look over the text of an SVG, before it is parsed: what would make the parser slow or run it out of room.
//!
//! Owns: nesting, attributes and namespaces, counted. Must not know: what they mean. What is not well-formed is passed
//! over; the parser tells it.

use std::collections::BTreeSet;

use memchr::memmem;

use super::FigureFault;
use super::check::too_deep;
use crate::figure::limits::{DEEPEST, MOST_ATTRIBUTES, MOST_NAMESPACES, MOST_PREFIXES};

pub(super) fn scan(text: &str) -> Result<(), FigureFault> {
    let bytes = text.as_bytes();
    let mut depth = 0u32;
    let mut namespaces = (0, BTreeSet::new());
    let mut at = 0;
    while let Some(start) = memchr::memchr(b'<', &bytes[at..]).map(|found| at + found) {
        let rest = &bytes[start..];
        let special: [(&[u8], &[u8]); 4] = [(b"<!--", b"-->"), (b"<![CDATA[", b"]]>"), (b"<?", b"?>"), (b"<!", b">")];
        if let Some((open, close)) = special.into_iter().find(|(open, _)| rest.starts_with(open)) {
            let Some(end) = memmem::find(&rest[open.len()..], close) else { return Ok(()) };
            at = start + open.len() + end + close.len();
            continue;
        }
        let Some(tag) = tag(rest, &mut namespaces) else { return Ok(()) };
        at = start + tag.length;
        let fault = if rest.starts_with(b"</") {
            depth = depth.saturating_sub(1);
            None
        } else {
            depth += u32::from(!tag.is_empty);
            if depth > DEEPEST {
                Some(too_deep())
            } else if tag.attributes > MOST_ATTRIBUTES {
                Some(too_many(&format!("an element with more than {MOST_ATTRIBUTES} attributes")))
            } else if namespaces.0 > MOST_NAMESPACES || namespaces.1.len() > MOST_PREFIXES {
                Some(too_many("too many namespaces"))
            } else {
                None
            }
        };
        if let Some(fault) = fault {
            return Err(fault.at(start..start + 1));
        }
    }
    Ok(())
}

fn too_many(what: &str) -> FigureFault {
    FigureFault::new(format!("the SVG holds {what}"), "save it from the drawing program as plain SVG")
}

struct Tag {
    length: usize,
    attributes: usize,
    /// Whether it closes itself.
    is_empty: bool,
}

/// The tag with which a text begins, up to its end outside quotes.
fn tag<'a>(text: &'a [u8], namespaces: &mut (usize, BTreeSet<&'a [u8]>)) -> Option<Tag> {
    let mut attributes = 0;
    let mut at = 1;
    loop {
        at += memchr::memchr3(b'>', b'"', b'\'', text.get(at..)?)?;
        match text[at] {
            b'>' => return Some(Tag { length: at + 1, attributes, is_empty: text[at - 1] == b'/' }),
            quote => {
                attributes += 1;
                let name = attribute_name(&text[..at]);
                if let Some(prefix) = name.strip_prefix(b"xmlns") {
                    namespaces.0 += 1;
                    namespaces.1.insert(prefix);
                }
                at += 1;
                at += memchr::memchr(quote, text.get(at..)?)? + 1;
            }
        }
    }
}

/// The name before the `=` with which a text ends.
fn attribute_name(text: &[u8]) -> &[u8] {
    let text = text.trim_ascii_end();
    let text = text.strip_suffix(b"=").unwrap_or(text).trim_ascii_end();
    let start =
        text.iter().rposition(|b| b.is_ascii_whitespace() || matches!(b, b'"' | b'\'' | b'<')).map_or(0, |i| i + 1);
    &text[start..]
}

#[cfg(test)]
mod tests {
    use super::scan;

    #[test]
    fn what_is_quoted_or_a_remark_is_passed_over() {
        let deep = "<g>".repeat(500);
        for text in [
            format!("<svg a='{}'/>", "=\"".repeat(3000)),
            format!("<svg><!-- {deep} --></svg>"),
            format!("<svg><![CDATA[{deep}]]></svg>"),
            format!("<svg>{}</svg>", "<g a = \"1\"></g><g/>".repeat(500)),
            format!("<?x {deep} ?><svg/>"),
            format!("<svg a=\"{deep}"),
        ] {
            assert!(scan(&text).is_ok(), "{text}");
        }
    }

    #[test]
    fn what_is_too_much_is_told_at_its_place() {
        let attributes = |n: usize| (0..n).map(|i| format!(" a{i}='x'")).collect::<String>();
        let names = |n: usize| (0..n).map(|i| format!("<g xmlns:n{i}=\"u\"/>")).collect::<String>();
        for (inner, said) in [
            ("<g>".repeat(200), "nested too deep"),
            (format!("<g{}/>", attributes(1001)), "more than 1000 attributes"),
            (names(101), "too many namespaces"),
            ("<g xmlns='u'/>".repeat(20_001), "too many namespaces"),
        ] {
            let text = format!("<svg>{inner}</svg>");
            let fault = scan(&text).unwrap_err();
            assert!(fault.headline.contains(said), "{fault}");
            assert_eq!(&text[fault.range.unwrap()], "<");
        }
        assert!(scan(&format!("<svg{}/>", attributes(900))).is_ok() && scan(&names(90)).is_ok());
    }
}
