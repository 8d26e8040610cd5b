//! What stands in a line of text.

use std::sync::Arc;

use crate::units::{Angle, Hand, Length, Measure, Quantity, UnitStyle, plain};

/// The name of a place in a document that links lead to: `step-mast-foot`, `part-KW-103-L`. Unique in a document.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Anchor(Arc<str>);

impl Anchor {
    /// An anchor from a kind and a name. Characters that may not stand in an HTML id or a file name are
    /// written as `_` and their code point, so that two names never meet.
    pub fn new(kind: &str, name: &str) -> Self {
        let mut text = String::with_capacity(kind.len() + name.len() + 1);
        text.push_str(kind);
        if !name.is_empty() {
            text.push('-');
        }
        for c in name.chars() {
            if c.is_ascii_alphanumeric() || c == '-' || c == '.' {
                text.push(c);
            } else {
                text.push_str(&format!("_{:x}", u32::from(c)));
            }
        }
        Self(text.into())
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// A run of inline content.
pub type Inlines = Vec<Inline>;

/// A piece of a line. Values stay values: the emitter asks them for their text in the document's units.
#[derive(Clone, Debug, PartialEq)]
pub enum Inline {
    Text(Arc<str>),
    Strong(Inlines),
    Emphasis(Inlines),
    Code(Arc<str>),
    /// A link inside the document.
    Link {
        to: Anchor,
        content: Inlines,
    },
    /// A link to the outside, for example a mail address. Never followed by the documents themselves.
    Outside {
        to: Arc<str>,
        content: Inlines,
    },
    /// A number that follows from the order of things: of a step, a section, a figure. Documents are compared by what it
    /// is the number of.
    Number {
        of: Anchor,
        shown: Arc<str>,
    },
    /// The page a place is on: a page label in paged documents, nothing in HTML.
    PageOf(Anchor),
    Length(Length),
    Angle(Angle),
    Quantity(Quantity),
    Measure(Measure),
    /// A hand, as a word and a shape.
    Hand(Hand),
    /// The number of a callout in a figure.
    Callout(u32),
    /// A box to tick.
    TickBox,
    /// A blank to write in; its width in tenths of an em.
    Blank(u32),
    /// A footnote's mark; the note stands at the end of its leaf's text.
    FootnoteMark(u32),
    LineBreak,
}

impl Inline {
    pub fn text(text: impl AsRef<str>) -> Self {
        Self::Text(text.as_ref().into())
    }

    pub fn number(of: Anchor, shown: impl std::fmt::Display) -> Self {
        Self::Number { of, shown: shown.to_string().into() }
    }

    pub fn strong(text: impl AsRef<str>) -> Self {
        Self::Strong(vec![Self::text(text)])
    }
}

/// The words of a run as plain text, as a reader or a screen reader would have them.
pub fn plain_text(inlines: &[Inline], units: UnitStyle) -> String {
    let mut out = String::new();
    push_plain(inlines, units, &mut out);
    out
}

fn push_plain(inlines: &[Inline], units: UnitStyle, out: &mut String) {
    for inline in inlines {
        match inline {
            Inline::Text(t) | Inline::Code(t) | Inline::Number { shown: t, .. } => out.push_str(t),
            Inline::Strong(c) | Inline::Emphasis(c) => push_plain(c, units, out),
            Inline::Link { content, .. } | Inline::Outside { content, .. } => push_plain(content, units, out),
            Inline::PageOf(_) | Inline::TickBox | Inline::Blank(_) => {}
            Inline::Length(l) => out.push_str(&plain(&l.pieces(units))),
            Inline::Angle(a) => out.push_str(&a.to_string()),
            Inline::Quantity(q) => out.push_str(&q.to_string()),
            Inline::Measure(m) => out.push_str(&plain(&m.pieces(units))),
            Inline::Hand(h) => out.push_str(h.word()),
            Inline::Callout(n) | Inline::FootnoteMark(n) => out.push_str(&n.to_string()),
            Inline::LineBreak => out.push('\n'),
        }
    }
}
