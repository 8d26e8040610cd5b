//! Bonds: what is glued and with what, and what must have cured before a step begins.

use super::tables::{cell, column, filled, naming, part_link, push_if_wrong, push_note, text_cell};
use super::{DocumentComposer, block, field, spoken};
use crate::document::block::{Block, BlockKind, Origin};
use crate::document::inline::{Inline, Inlines};
use crate::document::table::{CellAlign, Table, TableRole, TableRow, Width};
use crate::model::{Adhesive, CureState};
use crate::resolve::ResolvedStep;
use crate::units::ConsumableId;

/// What a step glues.
pub(super) fn table(c: &DocumentComposer, s: &ResolvedStep) -> Option<Table> {
    let columns = vec![
        naming("Bond", Width::Fit),
        column("Parts", CellAlign::Start, Width::Fit),
        column("With", CellAlign::Start, Width::Share(2)),
        column("How", CellAlign::Start, Width::Share(3)),
        column("Glued (date, time, temperature)", CellAlign::Start, Width::Fit),
    ];
    let rows: Vec<TableRow> = s
        .step
        .bonds
        .iter()
        .map(|item| {
            let mut parts = Inlines::new();
            for part in &item.parts {
                if !parts.is_empty() {
                    parts.push(Inline::text(", "));
                }
                parts.push(part_link(&part.value));
            }
            let mut with = vec![Inline::text(c.manual.settings.consumable_title(&item.adhesive.value))];
            with.extend(item.amount.as_ref().map(|amount| Inline::text(format!(", {amount}"))));
            let mut how: Inlines = item.clamped.iter().map(Inline::text).collect();
            push_note(&mut how, item.note.as_deref());
            push_if_wrong(&mut how, item.if_wrong.as_deref());
            TableRow {
                cells: vec![
                    text_cell(spoken(&item.bond.value)),
                    cell(parts),
                    cell(with),
                    cell(how),
                    cell(vec![Inline::Blank(100)]),
                ],
                anchor: None,
                origin: Origin { step: Some(s.step.id.value.clone()), field: "bonds", item: item.index },
            }
        })
        .collect();
    (!rows.is_empty()).then(|| filled(TableRole::Bonds, columns, rows))
}

/// What the makers of the adhesives of a step say of them, each once.
pub(super) fn data(c: &DocumentComposer, s: &ResolvedStep) -> Vec<Block> {
    let mut ids: Vec<&ConsumableId> = Vec::new();
    for bond in &s.step.bonds {
        if !ids.contains(&&bond.adhesive.value) {
            ids.push(&bond.adhesive.value);
        }
    }
    let known = ids.into_iter().filter_map(|id| Some((id, c.manual.settings.adhesives.get(id)?)));
    known.map(|(id, adhesive)| of_adhesive(c.manual.settings.consumable_title(id), adhesive)).collect()
}

fn of_adhesive(title: &str, a: &Adhesive) -> Block {
    let mut fields = vec![field("Adhesive", vec![Inline::strong(title)])];
    let mut put = |label: &str, words: Option<String>| {
        fields.extend(words.map(|words| field(label, vec![Inline::text(words)])));
    };
    put("Protect yourself", a.protection.clone());
    put("Prepare", a.preparation.clone());
    let by = a.ratio_by.map_or_else(String::new, |by| format!(" by {}", by.word()));
    put("Mix", a.ratio.as_ref().map(|ratio| format!("{ratio}{by}, resin to hardener")));
    put("Use within", a.pot_life.map(|time| time.to_string()));
    put("Not below", a.least.map(|t| t.to_string()));
    let times: Vec<String> = a
        .cures
        .iter()
        .map(|cure| {
            let handling = cure.handling.map_or_else(String::new, |time| format!("{time} until it may be handled, "));
            format!("at {} and above: {handling}{} until it is fully cured", cure.at, cure.full)
        })
        .collect();
    put("Cures", (!times.is_empty()).then(|| times.join("; ")));
    put("Test piece", a.test_piece.clone());
    put("Keeps", a.shelf_life.clone());
    block(BlockKind::Fields(fields))
}

/// What must have cured before the step begins.
pub(super) fn waits(c: &DocumentComposer, s: &ResolvedStep) -> Option<Table> {
    let columns = vec![
        naming("Bond", Width::Fit),
        column("Glued in", CellAlign::Start, Width::Fit),
        column("Wait until", CellAlign::Start, Width::Share(2)),
        column("Takes", CellAlign::Start, Width::Share(3)),
        column("Glued", CellAlign::Start, Width::Fit),
        column("Not before", CellAlign::Start, Width::Fit),
    ];
    let rows: Vec<TableRow> = s
        .step
        .cured
        .iter()
        .map(|item| {
            let glued = c.bonds.get(item.bond.value.as_str());
            let adhesive = glued.and_then(|g| c.manual.settings.adhesives.get(&g.item.adhesive.value));
            let times = adhesive.map_or_else(Vec::new, |a| {
                let known = a.cures.iter().filter_map(|cure| Some((cure.at, cure.time(item.to)?)));
                known.map(|(at, time)| format!("{time} at {at} and above")).collect()
            });
            let until = match item.to {
                CureState::Handling => "it may be handled, with no load on it",
                CureState::Full => "it is fully cured",
            };
            TableRow {
                cells: vec![
                    text_cell(spoken(&item.bond.value)),
                    cell(glued.map(|g| c.step_link(g.step)).into_iter().collect()),
                    text_cell(until),
                    text_cell(times.join("; ")),
                    cell(vec![Inline::Blank(70)]),
                    cell(vec![Inline::Blank(70)]),
                ],
                anchor: None,
                origin: Origin { step: Some(s.step.id.value.clone()), field: "cured", item: item.index },
            }
        })
        .collect();
    (!rows.is_empty()).then(|| filled(TableRole::Cured, columns, rows))
}
