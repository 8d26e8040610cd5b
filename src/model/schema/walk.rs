//! Walking a tree or a table by its keys: each value with what it holds, what it stands in and the conditions around it.

use super::{Form, Holds, Key, TableForm, Thing, Use};
use crate::source::{Span, Spanned};
use crate::syntax::{Node, NodeKind, SourceRow, SourceTable};
use crate::units::heading_unit;

/// A value in its place.
#[derive(Debug)]
pub struct KeyLeaf<'a, 'w> {
    /// The key that it stands under.
    pub key: &'static Key,
    /// What it holds; of an item on one line, that of the short form.
    pub holds: Holds,
    pub text: &'a str,
    pub span: Span,
    /// The keys among which its own is.
    pub form: &'static Form,
    /// The groups of keys that it stands in, the outermost first.
    pub within: &'w [&'a Node],
    /// Where the conditions around it are written, the outermost first; its own is not among them.
    pub only: &'w [Span],
    /// The list or group at the top that it stands in, and the number of the item there, from 0.
    pub list: &'static str,
    pub item: usize,
}

/// A name that a value holds.
#[derive(Clone, Copy, Debug)]
pub struct Named<'a> {
    pub thing: Thing,
    pub name: &'a str,
    pub span: Span,
    pub how: Use,
    /// What stands before it: `2` of `2 x KW-102`.
    pub count: Option<&'a str>,
}

impl<'a> KeyLeaf<'a, '_> {
    /// The text under another key of the group that it stands in, or of one around that.
    pub fn beside(&self, key: &str) -> Option<&'a str> {
        self.within.iter().rev().find_map(|node| scalar_of(node, key))
    }

    /// The names in it.
    pub fn names(&self) -> Vec<Named<'a>> {
        names(self.holds, self.text, self.span)
    }
}

/// The names in a text of this kind.
pub(super) fn names(holds: Holds, text: &str, span: Span) -> Vec<Named<'_>> {
    let whole = |thing, how| Named { thing, name: text, span, how, count: None };
    match holds {
        Holds::Name(thing, how) => vec![whole(thing, how)],
        Holds::NameOr(words, thing, how) => {
            if words.contains(&text.to_ascii_lowercase().as_str()) {
                Vec::new()
            } else {
                vec![whole(thing, how)]
            }
        }
        Holds::Counted(thing, how) => {
            let (count, name, span) = counted(text, span);
            vec![Named { thing, name, span, how, count }]
        }
        Holds::Configuration(how) => configuration(text, span, how),
        _ => Vec::new(),
    }
}

fn configuration(text: &str, span: Span, how: Use) -> Vec<Named<'_>> {
    let mut start = span.start;
    let mut found = Vec::new();
    for (i, piece) in text.split('+').enumerate() {
        let name = piece.trim();
        let lead = (piece.len() - piece.trim_start().len()) as u32;
        let here = Span { start: start + lead, end: start + lead + name.len() as u32, ..span };
        let thing = if i == 0 { Thing::Variant } else { Thing::Option };
        found.push(Named { thing, name, span: here, how, count: None });
        start += piece.len() as u32 + 1;
    }
    found
}

/// Splits `2 x KW-102` at the first ` x ` or ` × ` behind a number: the count, the name and where that stands.
pub(crate) fn counted(text: &str, span: Span) -> (Option<&str>, &str, Span) {
    let starts_with_number = text.trim_start().starts_with(|c: char| c.is_ascii_digit() || c == '-' || c == '.');
    // A word processor writes the sign, and blanks that do not break.
    let blank = |c: char| matches!(c, ' ' | '\u{A0}' | '\u{202F}');
    let times = |&(at, c): &(usize, char)| {
        let behind = text[at + c.len_utf8()..].chars().next();
        matches!(c, 'x' | '×') && text[..at].ends_with(blank) && behind.is_some_and(blank)
    };
    let Some((at, sign)) = text.char_indices().find(times).filter(|_| starts_with_number) else {
        return (None, text, span);
    };
    let (left, right) = (&text[..at], &text[at + sign.len_utf8()..]);
    (Some(left.trim()), right.trim(), part_of(text, span, right))
}

/// The place of a piece of a text, blanks at its ends left out. A quoted or folded text is longer in the file than it
/// reads: then its pieces have the place of the whole.
pub(crate) fn part_of(text: &str, span: Span, piece: &str) -> Span {
    let exact = (span.end - span.start) as usize == text.len();
    if !exact {
        return span;
    }
    let offset = piece.as_ptr() as usize - text.as_ptr() as usize;
    let start = span.start + (offset + piece.len() - piece.trim_start().len()) as u32;
    Span { start, end: start + piece.trim().len() as u32, ..span }
}

fn scalar_of<'a>(node: &'a Node, key: &str) -> Option<&'a str> {
    let NodeKind::Mapping(entries) = &node.kind else { return None };
    entries.iter().find(|(k, _)| k.value == key).and_then(|(_, node)| match &node.kind {
        NodeKind::Scalar { text, .. } => Some(text.as_str()),
        _ => None,
    })
}

/// Calls `visit` for each value of a tree that has these keys, in the order written. What stands under a key that is not
/// known is passed over: reading reports it.
pub fn walk<'a>(tree: &'a Node, form: &'static Form, visit: &mut dyn FnMut(&KeyLeaf<'a, '_>)) {
    let mut walk = KeyWalk { form, within: Vec::new(), only: Vec::new(), list: "", item: 0, visit };
    walk.group(tree, form);
}

struct KeyWalk<'a, 'v> {
    form: &'static Form,
    within: Vec<&'a Node>,
    only: Vec<Span>,
    list: &'static str,
    item: usize,
    visit: &'v mut dyn FnMut(&KeyLeaf<'a, '_>),
}

impl<'a> KeyWalk<'a, '_> {
    fn group(&mut self, node: &'a Node, form: &'static Form) {
        let NodeKind::Mapping(entries) = &node.kind else { return };
        let own = form.key("only").and_then(|_| entries.iter().find(|(k, _)| k.value == "only"));
        let around = std::mem::replace(&mut self.form, form);
        self.within.push(node);
        if let Some((_, node)) = own {
            self.only.push(node.span);
        }
        for (name, node) in entries {
            let Some(key) = form.key(&name.value) else { continue };
            if self.within.len() == 1 {
                self.list = key.name;
            }
            if matches!(key.holds, Holds::Condition) {
                // A condition does not stand under itself.
                self.only.pop();
                self.value(node, key, key.holds);
                self.only.push(node.span);
            } else {
                self.value(node, key, key.holds);
            }
        }
        if own.is_some() {
            self.only.pop();
        }
        self.within.pop();
        self.form = around;
    }

    fn value(&mut self, node: &'a Node, key: &'static Key, holds: Holds) {
        match (&node.kind, holds) {
            (NodeKind::Null, _) => {}
            (NodeKind::Sequence(nodes), _) => {
                for (i, node) in nodes.iter().enumerate() {
                    if self.within.len() == 1 {
                        self.item = i;
                    }
                    self.value(node, key, holds);
                }
            }
            (NodeKind::Mapping(_), Holds::Items(form) | Holds::Group(form)) => self.group(node, form),
            (NodeKind::Mapping(entries), Holds::Entries(names, held)) => {
                for (name, node) in entries {
                    self.leaf(&name.value, name.span, key, *names);
                    self.value(node, key, *held);
                }
            }
            (NodeKind::Scalar { text, .. }, Holds::Items(form)) => {
                if let Some(short) = form.short {
                    self.leaf(text, node.span, key, short);
                }
            }
            (NodeKind::Scalar { text, .. }, _) => self.leaf(text, node.span, key, holds),
            (NodeKind::Mapping(_), _) => {}
        }
    }

    fn leaf(&mut self, text: &'a str, span: Span, key: &'static Key, holds: Holds) {
        let (form, list, item) = (self.form, self.list, self.item);
        (self.visit)(&KeyLeaf { key, form, holds, text, span, within: &self.within, only: &self.only, list, item });
    }
}

/// The column that a heading names, and the unit that it gives for the bare numbers below it: `cut length (mm)`.
pub fn column_of(form: &TableForm, heading: &str) -> Option<(&'static Key, Option<&'static str>)> {
    let columns: &'static [Key] = form.columns;
    let name = heading.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    if let Some(key) = columns.iter().find(|k| k.name == name) {
        return Some((key, None));
    }
    let (plain, unit) = heading_unit(&name)?;
    columns.iter().find(|k| k.name == plain).map(|k| (k, Some(unit)))
}

/// Calls `visit` for each filled cell of a table whose column is known.
pub fn walk_table<'a>(
    table: &'a SourceTable,
    form: &'static TableForm,
    visit: &mut dyn FnMut(&'static Key, &'a Spanned<String>, &'a SourceRow),
) {
    let columns: Vec<_> = table.columns.iter().map(|c| column_of(form, &c.value)).collect();
    for row in &table.rows {
        for (column, cell) in columns.iter().zip(&row.cells) {
            if let Some((key, _)) = column.filter(|_| !cell.value.is_empty()) {
                visit(key, cell, row);
            }
        }
    }
}
