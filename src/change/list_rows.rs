//! Rows of the lists of parts, hardware and stock on both sides, cell by cell.

use std::collections::{BTreeMap, BTreeSet};

use super::compare::Side;
use crate::source::Span;
use crate::units::{PartNumber, cell_text, heading_unit, with_unit};

/// A row of a list whose cells say something else: by column, before and after.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ListRow {
    pub name: String,
    pub cells: Vec<(String, String, String)>,
}

/// Rows of parts that both sides use.
pub(super) fn parts(from: &Side, to: &Side) -> Vec<ListRow> {
    rows(from, to, part_cells)
}

/// Rows of hardware that both sides use.
pub(super) fn hardware(from: &Side, to: &Side) -> Vec<ListRow> {
    rows(from, to, hardware_cells)
}

/// Lines of stock that parts of both sides are cut from.
pub(super) fn stock(from: &Side, to: &Side) -> Vec<ListRow> {
    rows(from, to, |side| cells(side, stock_spans(side)))
}

/// The rows of the hardware that a side uses.
pub(super) fn hardware_cells(side: &Side) -> Cells {
    cells(side, hardware_spans(side))
}

fn part_spans(side: &Side) -> BTreeMap<String, Span> {
    let used = side.resolved.ledger.parts.keys();
    used.filter_map(|n| Some((n.to_string(), side.manual.parts.get(n)?.number.span))).collect()
}

fn hardware_spans(side: &Side) -> BTreeMap<String, Span> {
    let used = side.resolved.ledger.hardware.keys();
    used.filter_map(|n| Some((n.to_string(), side.manual.hardware.get(n)?.designation.span))).collect()
}

fn stock_spans(side: &Side) -> BTreeMap<String, Span> {
    let used = side.resolved.ledger.parts.keys();
    let stock = used.filter_map(|n| side.manual.stock.get(&side.manual.parts.get(n)?.stock.as_ref()?.value));
    stock.map(|s| (s.id.value.to_string(), s.id.span)).collect()
}

/// The cells of a row by their columns, without the quantities of variants and options, and without empty ones.
fn row(side: &Side, span: Span) -> BTreeMap<String, String> {
    let settings = &side.manual.settings;
    let counts = |column: &str| {
        let column = column.trim_start_matches('+');
        settings.variants.keys().any(|v| v.as_str().eq_ignore_ascii_case(column))
            || settings.options.keys().any(|o| o.as_str().eq_ignore_ascii_case(column))
    };
    let text = side.sources.text(span.file);
    let cells = side.sources.row(span).iter().filter(|c| !counts(&c.column));
    cells
        .map(|c| {
            let text =
                cell_text(text.get(c.start as usize..c.end as usize).unwrap_or("").trim().trim_matches('"').trim());
            let column = c.column.to_lowercase();
            match heading_unit(&column) {
                Some((name, unit)) => (name.to_owned(), with_unit(text, unit)),
                None => (column, text),
            }
        })
        .filter(|(_, text)| !text.is_empty())
        .collect()
}

/// The cells of rows, by the name of each.
pub(super) type Cells = BTreeMap<String, BTreeMap<String, String>>;

fn cells(side: &Side, spans: BTreeMap<String, Span>) -> Cells {
    spans.into_iter().map(|(name, span)| (name, row(side, span))).collect()
}

/// The rows of the parts list; the rows of the list of holes that hold for a part are one cell more.
pub(super) fn part_cells(side: &Side) -> Cells {
    let mut all = cells(side, part_spans(side));
    for (name, own) in &mut all {
        let holes = side.manual.holes_of(&PartNumber::new(name));
        let words: Vec<String> = holes.iter().map(|h| h.words(side.manual.settings.units)).collect();
        if !words.is_empty() {
            own.insert("holes".to_owned(), words.join("; "));
        }
    }
    all
}

/// Rows that both sides have and that differ.
fn rows(a: &Side, b: &Side, of: impl Fn(&Side) -> Cells) -> Vec<ListRow> {
    // The rows of one state are the same for all its configurations.
    if std::ptr::eq(a.sources, b.sources) {
        return Vec::new();
    }
    let (from, to) = (of(a), of(b));
    let mut changed = Vec::new();
    for (name, after) in &to {
        let Some(before) = from.get(name) else { continue };
        let columns: BTreeSet<&String> = before.keys().chain(after.keys()).collect();
        let get = |side: &BTreeMap<String, String>, column| side.get(column).cloned().unwrap_or_default();
        let cells: Vec<_> = columns
            .into_iter()
            .map(|c| (c.clone(), get(before, c), get(after, c)))
            .filter(|(_, x, y)| x != y)
            .collect();
        if !cells.is_empty() {
            changed.push(ListRow { name: name.clone(), cells });
        }
    }
    changed
}
