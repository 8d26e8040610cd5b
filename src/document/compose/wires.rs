//! Wires: what a step makes and leads, and the wire list of a configuration.

use super::tables::{cell, column, filled, naming, push_note, text_cell};
use super::{DocumentComposer, leaf, paragraph, spoken};
use crate::document::block::{BlockKind, Origin};
use crate::document::inline::{Inline, Inlines};
use crate::document::leaf::{Leaf, LeafRole};
use crate::document::sheet::{CsvSheet, StepName};
use crate::document::table::{CellAlign, Table, TableCell, TableRole, TableRow, Width};
use crate::model::{Manual, StepItem, Wire};
use crate::resolve::{Resolved, ResolvedStep};
use crate::source::Spanned;
use crate::units::{Designation, Measure, decimal_text, plain};

/// The wires of a step.
pub(super) fn table(c: &DocumentComposer, s: &ResolvedStep) -> Option<Table> {
    let columns = vec![
        naming("Wire", Width::Fit),
        column("From", CellAlign::Start, Width::Share(3)),
        column("To", CellAlign::Start, Width::Share(3)),
        column("Conductor", CellAlign::Start, Width::Fit),
        column("Cut to", CellAlign::Start, Width::Fit),
        column("Crimped with", CellAlign::Start, Width::Share(2)),
        column("Protected by", CellAlign::Start, Width::Fit),
    ];
    let rows: Vec<TableRow> = s
        .step
        .wires
        .iter()
        .map(|item| {
            let [from, to] = ends(c, item);
            TableRow {
                cells: vec![
                    text_cell(spoken(&item.wire.value)),
                    from,
                    to,
                    text_cell(conductor(item)),
                    cell(vec![Inline::Length(item.length.value)]),
                    text_cell(item.crimped_with.as_ref().map_or("", |t| c.manual.settings.tool_title(&t.value))),
                    cell(protection(item)),
                ],
                anchor: None,
                origin: Origin { step: Some(s.step.id.value.clone()), field: "wires", item: item.index },
            }
        })
        .collect();
    (!rows.is_empty()).then(|| filled(TableRole::Cuts, columns, rows))
}

/// Where a wire begins or ends, and the terminal there.
fn end(c: &DocumentComposer, place: &Spanned<String>, terminal: &Option<Spanned<Designation>>) -> Inlines {
    let mut out = vec![Inline::text(&place.value)];
    if let Some(terminal) = terminal {
        out.extend([Inline::text(": "), c.hardware_link(&terminal.value)]);
    }
    out
}

/// The cells of both ends; the note of the item stands at its second.
fn ends(c: &DocumentComposer, item: &StepItem<Wire>) -> [TableCell; 2] {
    let [first, last] = &item.terminals;
    let mut to = end(c, &item.to, last);
    push_note(&mut to, item.note.as_deref());
    [cell(end(c, &item.from, first)), cell(to)]
}

/// `AWG 18, red`
fn conductor(wire: &Wire) -> String {
    let colour = wire.colour.as_ref().map_or_else(String::new, |colour| format!(", {colour}"));
    format!("{}{colour}", wire.size.value)
}

fn protection(wire: &Wire) -> Inlines {
    let mut words = Vec::new();
    words.extend(wire.fuse.as_ref().map(|fuse| format!("fuse {}", amount(fuse))));
    words.extend(wire.breaker.as_ref().map(|breaker| format!("circuit breaker {}", amount(breaker))));
    if words.is_empty() { Vec::new() } else { vec![Inline::text(words.join(", "))] }
}

fn amount(measure: &Spanned<Measure>) -> String {
    format!("{}\u{a0}{}", decimal_text(measure.value.value, 2), measure.value.unit.word())
}

/// The wires of a configuration, each where it is made.
fn all(resolved: &Resolved) -> impl Iterator<Item = (&ResolvedStep, &StepItem<Wire>)> {
    resolved.steps.iter().flat_map(|s| s.step.wires.iter().map(move |w| (s, w)))
}

/// What is lost on the way; none where no current is written.
fn lost(wire: &Wire) -> Option<String> {
    Some(format!("{}\u{a0}V", decimal_text(wire.lost()?.value, 2)))
}

/// The wire list: every wire of the configuration.
pub(super) fn sheet(c: &DocumentComposer) -> Option<Leaf> {
    let columns = vec![
        naming("Wire", Width::Share(2)),
        column("Step", CellAlign::Start, Width::Fit),
        column("From", CellAlign::Start, Width::Share(3)),
        column("To", CellAlign::Start, Width::Share(3)),
        column("Conductor", CellAlign::Start, Width::Share(2)),
        column("Cut to", CellAlign::Start, Width::Fit),
        column("Current", CellAlign::Start, Width::Fit),
        column("Lost", CellAlign::Start, Width::Fit),
        column("Protected by", CellAlign::Start, Width::Share(2)),
    ];
    let rows: Vec<TableRow> = all(c.resolved)
        .map(|(s, item)| {
            let [from, to] = ends(c, item);
            TableRow {
                cells: vec![
                    text_cell(spoken(&item.wire.value)),
                    cell(vec![c.step_link(s)]),
                    from,
                    to,
                    text_cell(conductor(item)),
                    cell(vec![Inline::Length(item.length.value)]),
                    text_cell(item.current.as_ref().map_or_else(String::new, amount)),
                    text_cell(lost(item).unwrap_or_default()),
                    cell(protection(item)),
                ],
                anchor: None,
                origin: Origin::default(),
            }
        })
        .collect();
    if rows.is_empty() {
        return None;
    }
    let words = "Every wire of this configuration. Write its name on both ends before you lead it. The fuse or circuit breaker \
                 protects the wire: never put in a larger one. What is lost on the way is worked out for 20 °C, there and back \
                 (FAA AC 43.13-1B, 11-66).";
    let table = filled(TableRole::Index, columns, rows);
    Some(leaf("wire-list", LeafRole::Index, "Wire list", vec![paragraph(words), super::block(BlockKind::Table(table))]))
}

const WIRES: &[&str] = &[
    "wire",
    "step",
    "from",
    "from terminal",
    "to",
    "to terminal",
    "colour",
    "size",
    "length",
    "wire on the roll",
    "crimped with",
    "current",
    "voltage",
    "fuse",
    "circuit breaker",
    "voltage lost",
    "back through",
];

/// Every wire of a configuration as plain rows.
pub fn wire_sheet(manual: &Manual, resolved: &Resolved) -> CsvSheet {
    wire_rows(manual, resolved, StepName::Number)
}

pub(in crate::document) fn wire_rows(manual: &Manual, resolved: &Resolved, names: StepName) -> CsvSheet {
    let measure =
        |m: &Option<Spanned<Measure>>| m.as_ref().map_or_else(String::new, |m| amount(m).replace('\u{a0}', " "));
    let rows = all(resolved)
        .map(|(s, w)| {
            let [first, last] = &w.terminals;
            let terminal =
                |t: &Option<Spanned<Designation>>| t.as_ref().map_or_else(String::new, |t| t.value.to_string());
            vec![
                w.wire.value.clone(),
                names.of(s),
                w.from.value.clone(),
                terminal(first),
                w.to.value.clone(),
                terminal(last),
                w.colour.clone().unwrap_or_default(),
                w.size.value.to_string(),
                plain(&w.length.value.pieces(manual.settings.units)),
                w.hardware.as_ref().map_or_else(String::new, |h| h.value.to_string()),
                w.crimped_with.as_ref().map_or_else(String::new, |t| t.value.to_string()),
                measure(&w.current),
                measure(&w.voltage),
                measure(&w.fuse),
                measure(&w.breaker),
                lost(w).unwrap_or_default().replace('\u{a0}', " "),
                w.back.word().to_owned(),
            ]
        })
        .collect();
    CsvSheet { columns: WIRES, rows }
}
