//! Items of front-matter lists: a short form on one line, or keys and values, each with its effectivity.

use super::fields::{Fields, count, scalar, value};
use crate::diag::{Diagnostic, Sink};
use crate::model::schema::{Holds, counted as split_at, part_of};
use crate::model::step::StepItem;
use crate::source::{Span, Spanned};
use crate::syntax::NodeKind;
use crate::units::Quantity;

/// Reads the items of the list `name`. A scalar goes to `short`, a mapping to `long`; an item that can't be read
/// is left out, its fault reported.
pub(super) fn items<'a, T>(
    f: &Fields<'a>,
    name: &str,
    sink: &mut Sink,
    mut short: impl FnMut(Spanned<String>, &mut Sink) -> Option<T>,
    mut long: impl FnMut(&Fields<'a>, &mut Sink) -> Option<T>,
) -> Vec<StepItem<T>> {
    let mut items = Vec::new();
    let Holds::Items(form) = f.holds(name) else { return items };
    let noted = form.key("note").is_some();
    for (index, node) in f.list(name).iter().enumerate() {
        let (value, only, note) = match &node.kind {
            NodeKind::Mapping(_) => {
                let fields = Fields::new(node, form, sink);
                let only = fields.only(sink);
                // Of a safety message `note` is the signal word.
                let note = noted.then(|| fields.text("note", sink).map(|t| t.value)).flatten();
                (long(&fields, sink), only, note)
            }
            NodeKind::Null => {
                sink.push(
                    Diagnostic::error("wrong-type", format!("an item of `{name}` is empty"))
                        .at(node.span, "nothing stands here")
                        .help("write the item behind the dash, or take the dash out"),
                );
                (None, None, None)
            }
            _ => (scalar(node, name, sink).and_then(|text| short(text, sink)), None, None),
        };
        if let Some(value) = value {
            items.push(StepItem { value, only, span: node.span, index, note });
        }
    }
    items
}

/// The required name of a mapping item, under the key that names its kind.
pub(super) fn named(f: &Fields, key: &str, sink: &mut Sink) -> Option<Spanned<String>> {
    f.required(key, "this item", &format!("add `{key}:` and what it is"), sink)
}

/// Splits `2 x KW-102` into the count, where it stands, and the name; without a count it is one.
pub(super) fn counted(text: &Spanned<String>, sink: &mut Sink) -> Option<(Spanned<String>, i64, Span)> {
    let (quantity, name) = split_count(text);
    match quantity {
        None => Some((name.clone(), 1, name.span)),
        Some(quantity) => {
            let n = count(&quantity, sink)?;
            Some((name, n, quantity.span))
        }
    }
}

/// Splits `0.05 lb x MS20470AD4-5` into a quantity that may have a unit, and the name.
pub(super) fn measured(text: &Spanned<String>, sink: &mut Sink) -> Option<(Spanned<String>, Quantity, Span)> {
    let (quantity, name) = split_count(text);
    match quantity {
        None => Some((name.clone(), Quantity::each(1), name.span)),
        Some(text) => {
            let quantity = positive(&text, sink)?;
            Some((name, quantity, text.span))
        }
    }
}

/// A quantity above zero.
pub(super) fn positive(text: &Spanned<String>, sink: &mut Sink) -> Option<Quantity> {
    let form = "write a whole number of pieces, or an amount with its unit, for example `0.05 lb`";
    let quantity = value(text, form, Quantity::parse, sink)?;
    if quantity.is_zero() || quantity.is_negative() {
        sink.push(
            Diagnostic::error("bad-count", format!("`{}` is not a quantity above zero", text.value))
                .at(text.span, "not above zero")
                .help("write how many are used; leave the item out where there is none"),
        );
        return None;
    }
    Some(quantity)
}

/// Splits at the first ` x ` or ` × ` that follows a number.
fn split_count(text: &Spanned<String>) -> (Option<Spanned<String>>, Spanned<String>) {
    let (count, name, span) = split_at(&text.value, text.span);
    let piece = |piece: &str| Spanned::new(piece.to_owned(), part_of(&text.value, text.span, piece));
    (count.map(piece), Spanned::new(name.to_owned(), span))
}

#[cfg(test)]
mod tests {
    use super::split_count;
    use crate::source::{FileId, Span, Spanned};

    #[test]
    fn a_quantity_stands_before_a_times_sign() {
        for (text, quantity, name) in [
            ("2 x KW-102", Some("2"), "KW-102"),
            ("2 × KW-102", Some("2"), "KW-102"),
            ("2\u{A0}x\u{A0}KW-102", Some("2"), "KW-102"),
            ("0.05 lb x MS20470AD4-5", Some("0.05 lb"), "MS20470AD4-5"),
            ("M6x40", None, "M6x40"),
            ("ISO 1234 3.2 x 25", None, "ISO 1234 3.2 x 25"),
        ] {
            let span = Span::new(FileId(0), 0..text.len());
            let (found, rest) = split_count(&Spanned::new(text.to_owned(), span));
            assert_eq!((found.as_ref().map(|q| q.value.as_str()), rest.value.as_str()), (quantity, name), "{text}");
            assert_eq!(&text[rest.span.range()], name);
        }
    }
}
