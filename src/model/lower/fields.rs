//! Typed access to a mapping's fields, by the schema: it finds unknown keys and says what each key holds.

use crate::diag::{Diagnostic, Sink, did_you_mean, nearest};
use crate::model::schema::{Form, Holds, Key};
use crate::source::{Span, Spanned};
use crate::syntax::{Condition, Node, NodeKind, parse_condition};
use crate::units::{Angle, Clock, Length, Measure, Quantity, Rational, UnreadableNumber, bare, misread};

/// A mapping that is being read.
pub(super) struct Fields<'a> {
    pub span: Span,
    entries: &'a [(Spanned<String>, Node)],
    form: &'static Form,
}

impl<'a> Fields<'a> {
    /// The fields of `node`. Unknown keys are reported with the nearest key; a node that is no mapping is
    /// reported as one that should be, and read as empty.
    pub fn new(node: &'a Node, form: &'static Form, sink: &mut Sink) -> Self {
        let (what, keys) = (form.what, form.keys);
        let entries: &[_] = match &node.kind {
            NodeKind::Mapping(entries) => entries,
            NodeKind::Null => &[],
            _ => {
                sink.push(
                    Diagnostic::error("wrong-type", format!("{what} must be written as keys and values"))
                        .at(node.span, format!("this is {}", kind_word(node)))
                        .help(format!("write `key: value` lines; the keys of {what} are {}", list(keys))),
                );
                &[]
            }
        };
        for (name, node) in entries {
            if !keys.iter().any(|k| k.name == name.value) {
                let near = nearest(&name.value, keys.iter().map(|k| k.name));
                // `{ title: Sledge, 1200 mm }`: what stands behind the comma has no colon, and is no key.
                let alone = matches!(node.kind, NodeKind::Null)
                    && name.value.contains(|c: char| !c.is_ascii_lowercase() && c != '-');
                let help = match near {
                    Some(near) => did_you_mean(near),
                    None if name.value.contains(['\u{201C}', '\u{201D}', '\u{201E}']) => {
                        "the quotes of a word processor are not read as quotes here: write \" at both ends of the text"
                            .to_owned()
                    }
                    None if alone => format!(
                        "a comma inside `{{ }}` begins another key: put a text that holds one in quotes, and write a decimal point; the \
                         keys of {what} are {}",
                        list(keys)
                    ),
                    None => format!("the keys of {what} are {}", list(keys)),
                };
                sink.push(
                    Diagnostic::error("unknown-key", format!("unknown key `{}` in {what}", name.value))
                        .at(name.span, "this key is not known")
                        .help(help)
                        .about(&name.value),
                );
            }
        }
        Self { span: node.span, entries, form }
    }

    /// What a key holds.
    pub fn holds(&self, name: &str) -> Holds {
        let key = self.form.key(name);
        debug_assert!(key.is_some(), "`{name}` is no key of {}", self.form.what);
        key.map_or(Holds::Plain, |k| k.holds)
    }

    /// The keys of a group below this one.
    pub fn group(&self, name: &str, sink: &mut Sink) -> Option<Fields<'a>> {
        let Holds::Group(form) = self.holds(name) else { return None };
        Some(Fields::new(self.get(name)?, form, sink))
    }

    /// The keys of an entry under a name of the author's.
    pub fn entry(&self, name: &str, node: &'a Node, sink: &mut Sink) -> Fields<'a> {
        let form = match self.holds(name) {
            Holds::Entries(_, Holds::Group(form)) => form,
            _ => self.form,
        };
        Fields::new(node, form, sink)
    }

    /// The groups of keys of a list's items.
    pub fn groups(&self, name: &str, sink: &mut Sink) -> Vec<Fields<'a>> {
        let Holds::Items(form) = self.holds(name) else { return Vec::new() };
        self.list(name).iter().map(|node| Fields::new(node, form, sink)).collect()
    }

    /// The keys that are written with a value.
    pub fn written(&self) -> impl Iterator<Item = &'static str> {
        self.form.keys.iter().map(|key| key.name).filter(|name| self.get(name).is_some())
    }

    /// The value of a key; a key without a value counts as not written.
    pub fn get(&self, name: &str) -> Option<&'a Node> {
        debug_assert!(self.form.key(name).is_some(), "`{name}` is no key of {}", self.form.what);
        self.entries
            .iter()
            .find(|(key, _)| key.value == name)
            .map(|(_, node)| node)
            .filter(|node| !matches!(node.kind, NodeKind::Null))
    }

    pub fn text(&self, name: &str, sink: &mut Sink) -> Option<Spanned<String>> {
        scalar(self.get(name)?, name, sink)
    }

    /// A text that must be there.
    pub fn required(&self, name: &str, what: &str, help: &str, sink: &mut Sink) -> Option<Spanned<String>> {
        if self.get(name).is_none() {
            sink.push(
                Diagnostic::error("missing-key", format!("{what} has no `{name}`"))
                    .at(self.head(), format!("`{name}` is missing here"))
                    .help(help.to_owned()),
            );
            return None;
        }
        self.text(name, sink)
    }

    /// A span for "something is missing here": the first key.
    pub fn head(&self) -> Span {
        self.entries.first().map_or(self.span, |(key, _)| key.span)
    }

    pub fn yes_no(&self, name: &str, sink: &mut Sink) -> Option<Spanned<bool>> {
        let text = self.text(name, sink)?;
        let value = match text.value.to_ascii_lowercase().as_str() {
            "yes" | "true" => Some(true),
            "no" | "false" => Some(false),
            _ => None,
        };
        if value.is_none() {
            sink.push(
                Diagnostic::error("wrong-type", format!("`{name}` is neither yes nor no"))
                    .at(text.span, "not a yes or a no")
                    .help("write `yes` or `no`"),
            );
        }
        value.map(|v| Spanned::new(v, text.span))
    }

    pub fn only(&self, sink: &mut Sink) -> Option<Spanned<Condition>> {
        let text = self.text("only", sink)?;
        let condition = parse_condition(&text.value, text.span, sink);
        Some(Spanned::new(condition, text.span))
    }

    /// A value that `read` understands, for example a length.
    pub fn value<T>(
        &self,
        name: &str,
        form: &str,
        read: impl Fn(&str) -> Result<T, UnreadableNumber>,
        sink: &mut Sink,
    ) -> Option<Spanned<T>> {
        let text = self.text(name, sink)?;
        value(&text, form, read, sink).map(|v| Spanned::new(v, text.span))
    }

    pub fn length(&self, name: &str, sink: &mut Sink) -> Option<Spanned<Length>> {
        self.value(name, LENGTH, Length::parse, sink)
    }

    pub fn angle(&self, name: &str, sink: &mut Sink) -> Option<Spanned<Angle>> {
        self.value(name, "write degrees, for example `22.5`", Angle::parse, sink)
    }

    pub fn clock(&self, name: &str, sink: &mut Sink) -> Option<Spanned<Clock>> {
        self.value(name, "write a whole hour from 1 to 12", Clock::parse, sink)
    }

    pub fn measure(&self, name: &str, sink: &mut Sink) -> Option<Spanned<Measure>> {
        self.value(name, MEASURE, Measure::parse, sink)
    }

    /// A quantity of pieces, one where it is not written; with the span it stands at.
    pub fn count(&self, name: &str, default_span: Span, sink: &mut Sink) -> (i64, Span) {
        match self.text(name, sink) {
            Some(text) => (count(&text, sink).unwrap_or(1), text.span),
            None => (1, default_span),
        }
    }

    /// One of a kind's words.
    pub fn word<T: Copy>(
        &self,
        name: &str,
        words: &[T],
        word_of: impl Fn(T) -> &'static str,
        sink: &mut Sink,
    ) -> Option<Spanned<T>> {
        let mut words = words.to_vec();
        if let Holds::Word(known) = self.holds(name) {
            debug_assert!(known.iter().all(|k| words.iter().any(|&w| word_of(w) == *k)), "the words of `{name}`");
            words.retain(|&w| known.contains(&word_of(w)));
        }
        let text = self.text(name, sink)?;
        let found = words.iter().copied().find(|&w| word_of(w).eq_ignore_ascii_case(text.value.trim()));
        if found.is_none() {
            let all: Vec<_> = words.iter().map(|&w| word_of(w)).collect();
            let near = nearest(&text.value, all.iter().copied());
            let help = near.map_or_else(
                || format!("write one of: {}", all.join(", ")),
                |near| format!("{} The words are {}", did_you_mean(near), all.join(", ")),
            );
            sink.push(
                Diagnostic::error("unknown-word", format!("`{}` is no word for `{name}`", text.value))
                    .at(text.span, "not one of the words")
                    .help(help),
            );
        }
        found.map(|w| Spanned::new(w, text.span))
    }

    /// The nodes of a list; a single value counts as a list of one.
    pub fn list(&self, name: &str) -> &'a [Node] {
        match self.get(name) {
            None => &[],
            Some(Node { kind: NodeKind::Sequence(nodes), .. }) => nodes,
            Some(node) => std::slice::from_ref(node),
        }
    }

    /// The texts of a list.
    pub fn texts(&self, name: &str, sink: &mut Sink) -> Vec<Spanned<String>> {
        self.list(name).iter().filter_map(|node| scalar(node, name, sink)).collect()
    }

    /// The key and value pairs of a mapping below this one.
    pub fn pairs(&self, name: &str, sink: &mut Sink) -> &'a [(Spanned<String>, Node)] {
        match self.get(name) {
            None => &[],
            Some(Node { kind: NodeKind::Mapping(entries), .. }) => entries,
            Some(node) => {
                sink.push(
                    Diagnostic::error("wrong-type", format!("`{name}` must be written as keys and values"))
                        .at(node.span, format!("this is {}", kind_word(node)))
                        .help("write one `name: value` line for each, indented below it"),
                );
                &[]
            }
        }
    }
}

// The forms of values that have a unit.
pub(super) const LENGTH: &str = "write inches as `23 15/16` or `23.94`, or a unit as in `608 mm`, `12 ft 3 in`";
pub(super) const MEASURE: &str =
    "write a number with its unit: in, mm, m, deg, lb, N, in-lb, N m, psi, bar, kg, g, V, A, ohm, litre, ml, m2 or C";
pub(super) const WEIGHT: &str = "write pounds as `0.4`, or a unit as in `180 g`";
pub(super) const DRILL: &str = "write it as #30, F, 1/4 or 6.5 mm";
/// As [`DRILL`], where a `#` begins a remark.
pub(super) const QUOTED_DRILL: &str = "write it as \"#30\", F, 1/4 or 6.5 mm";

/// The rule of values that are read as inches or pounds for want of a unit. Reading one file does not know the manual's units:
/// each is noted, and `read` keeps those that matter.
pub(super) const NO_UNIT: &str = "value-without-unit";

/// The text of a scalar node.
pub(super) fn scalar(node: &Node, name: &str, sink: &mut Sink) -> Option<Spanned<String>> {
    match &node.kind {
        NodeKind::Scalar { text, .. } => Some(Spanned::new(text.clone(), node.span)),
        NodeKind::Null => None,
        _ => {
            sink.push(
                Diagnostic::error("wrong-type", format!("`{name}` must be a single value"))
                    .at(node.span, format!("this is {}", kind_word(node)))
                    .help("write one value on the line, in quotes if it holds `: ` or `#`"),
            );
            None
        }
    }
}

/// Reads a text as a value, or reports it with the form it should have.
pub(super) fn value<T>(
    text: &Spanned<String>,
    form: &str,
    read: impl Fn(&str) -> Result<T, UnreadableNumber>,
    sink: &mut Sink,
) -> Option<T> {
    match read(&text.value) {
        Ok(value) => {
            if bare(&text.value) && [LENGTH, MEASURE, WEIGHT, DRILL, QUOTED_DRILL].contains(&form) {
                let unit = if form == WEIGHT { "lb" } else { "in" };
                sink.push(
                    Diagnostic::error(NO_UNIT, text.value.as_str())
                        .at(text.span, format!("without a unit this is {} {unit}", text.value)),
                );
            }
            Some(value)
        }
        Err(error) => {
            let help = misread(&text.value, form).unwrap_or_else(|| form.to_owned());
            sink.push(
                Diagnostic::error("unreadable-value", error.to_string()).at(text.span, "can't be read").help(help),
            );
            None
        }
    }
}

/// A whole number of pieces, at least one.
pub(super) fn count(text: &Spanned<String>, sink: &mut Sink) -> Option<i64> {
    let quantity = value(text, "write a whole number of pieces, for example `4`", Quantity::parse, sink)?;
    let count = *quantity.value.numer();
    if quantity.unit != crate::units::Unit::Each || count < 1 {
        sink.push(
            Diagnostic::error("bad-count", format!("`{}` is not a count of one or more", text.value))
                .at(text.span, "not a count")
                .help("write a whole number of at least 1; leave the item out where there is none"),
        );
        return None;
    }
    Some(count)
}

/// A share in percent: `5 %`, `0.05`.
pub(super) fn share(text: &str) -> Result<Rational, UnreadableNumber> {
    let unreadable = || UnreadableNumber(format!("`{}` is not a percentage", text.trim()));
    let number = text.trim().strip_suffix('%').ok_or_else(unreadable)?;
    let percent = Length::parse(number.trim()).map_err(|_| unreadable())?.as_inches();
    Ok(percent / Rational::from_integer(100))
}

pub(super) fn kind_word(node: &Node) -> &'static str {
    match node.kind {
        NodeKind::Null => "nothing",
        NodeKind::Scalar { .. } => "a single value",
        NodeKind::Sequence(_) => "a list",
        NodeKind::Mapping(_) => "a group of keys",
    }
}

fn list(keys: &[Key]) -> String {
    keys.iter().map(|k| k.name).collect::<Vec<_>>().join(", ")
}
