//! Effectivity as written: `ICE and (brake or not tow)`, `ICE and based`, `serial 100..149`.

use crate::diag::Sink;
use crate::source::{Span, Spanned};

/// A condition as a tree. Whether its names exist is not known here.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Condition {
    /// A variant or an option.
    Name(Spanned<String>),
    /// A variant and those based on it.
    Based(Spanned<String>),
    /// Serial numbers from..to, both included.
    Serial { span_start: u32, from: u32, to: u32 },
    Not(Box<Condition>),
    And(Vec<Condition>),
    Or(Vec<Condition>),
    /// It could not be read; the fault was reported. Holds everywhere.
    Unreadable,
}

/// Reads a condition whose text starts at `span`. A fault goes to `sink` at its own place; a comma is an error that
/// offers `and` and `or`.
pub fn parse_condition(text: &str, span: Span, sink: &mut Sink) -> Condition {
    let _ = (text, span, sink);
    todo!()
}
