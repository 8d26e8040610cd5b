//! The record of revisions and the list of effective steps, made from the releases.

use super::tables::{cell, column, naming, text_cell};
use super::{DocumentComposer, block, leaf, paragraph};
use crate::document::Edition;
use crate::document::block::{BlockKind, Origin};
use crate::document::inline::Inline;
use crate::document::leaf::{Leaf, LeafRole};
use crate::document::table::{CellAlign, Table, TableCell, TableRole, TableRow, Width};

fn row(cells: Vec<TableCell>) -> TableRow {
    TableRow { cells, anchor: None, origin: Origin::default() }
}

/// The record of revisions, with room to note pages that the maker sends later.
pub(super) fn record(c: &DocumentComposer, edition: &Edition) -> Leaf {
    let name = &c.resolved.name;
    let columns = vec![
        column("Letter", CellAlign::Start, Width::Fit),
        column("Date", CellAlign::Start, Width::Fit),
        column("Class", CellAlign::Start, Width::Fit),
        column("What changed", CellAlign::Start, Width::Share(3)),
        column("Put in by", CellAlign::Start, Width::Share(1)),
    ];
    let made = edition.revisions.iter().map(|r| {
        row(vec![
            text_cell(&r.letter),
            text_cell(&r.date),
            text_cell(r.class),
            text_cell(if r.no_step {
                format!("{} No step of {name} changes.", ended(&r.summary))
            } else {
                r.summary.clone()
            }),
            text_cell("the maker"),
        ])
    });
    let blank = || row([30, 60, 60, 160, 70].into_iter().map(|w| cell(vec![Inline::Blank(w)])).collect());
    let rows = made.chain(std::iter::repeat_with(blank).take(4)).collect();
    let state = if edition.released {
        format!(
            "This manual of {name} is that of {}. What changed since the release before has a bar in the margin, with the letter.",
            lower(&edition.state)
        )
    } else if edition.revisions.is_empty() {
        format!(
            "This is a working copy of {name}. It carries no revision letter. Do not build from it unless the maker has sent it to you for that."
        )
    } else {
        format!(
            "This is a {} of {name}. Do not build from it unless the maker has sent it to you for that. What changed since the last release has a bar in the margin, marked new.",
            edition.state.split(',').next().unwrap_or("working copy")
        )
    };
    let table = Table { role: TableRole::Plain, caption: Vec::new(), columns, rows };
    let blocks =
        vec![paragraph(state), paragraph("Note here each revision that you put in."), block(BlockKind::Table(table))];
    leaf("revisions", LeafRole::Text, "Record of revisions", blocks)
}

/// With a full stop at its end, so that another sentence can follow.
fn ended(sentence: &str) -> String {
    let sentence = sentence.trim_end();
    if sentence.ends_with(['.', '!', '?']) { sentence.to_owned() } else { format!("{sentence}.") }
}

fn lower(state: &str) -> String {
    state.replacen("Release", "release", 1)
}

/// Each step with the letter of its last change. None where nothing was released.
pub(super) fn effective_steps(c: &DocumentComposer, edition: &Edition) -> Option<Leaf> {
    if edition.letters.is_empty() {
        return None;
    }
    let columns = vec![
        naming("Step", Width::Fit),
        column("Title", CellAlign::Start, Width::Share(1)),
        column("Last changed in", CellAlign::Start, Width::Fit),
    ];
    let rows = c.resolved.steps.iter().map(|s| {
        let id = &s.step.id.value;
        let letter = edition.letters.get(id).map_or("", String::as_str);
        row(vec![cell(vec![c.step_link(s)]), text_cell(&s.step.title.value), text_cell(letter)])
    });
    let table = Table { role: TableRole::Index, caption: Vec::new(), columns, rows: rows.collect() };
    let blocks = vec![
        paragraph(
            "Each step with the letter of its last change. A step of which you hold another letter is out of date.",
        ),
        block(BlockKind::Table(table)),
    ];
    Some(leaf("effective-steps", LeafRole::Index, "List of effective steps", blocks))
}
