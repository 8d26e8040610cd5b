//! Indexes: parts, hardware, tools, consumables, each with the steps where they are used; the results sheet.

use std::collections::BTreeMap;

use super::tables::{
    cell, column, hand_column, naming, quantity_column, result_row, text_cell, where_cells, where_columns,
};
use super::{DocumentComposer, block, hardware_anchor, heading, leaf, paragraph, part_anchor};
use crate::document::bars::{HARDWARE_LIST, PARTS_LIST};
use crate::document::block::{Block, BlockKind, Origin};
use crate::document::inline::Inline;
use crate::document::leaf::{Leaf, LeafRole};
use crate::document::table::{CellAlign, Column, ColumnKind, Table, TableRole, TableRow, Width};
use crate::units::{PartNumber, Quantity, StepId};

/// The parts list and the hardware list.
pub(super) fn before_steps(c: &DocumentComposer) -> Vec<Leaf> {
    vec![
        leaf("parts-list", LeafRole::Index, "Parts list", parts(c)),
        leaf("hardware-list", LeafRole::Index, "Hardware list", hardware(c)),
    ]
}

fn parts(c: &DocumentComposer) -> Vec<Block> {
    let mut columns = vec![
        naming("Part", Width::Fit),
        column("Name", CellAlign::Start, Width::Share(3)),
        hand_column(),
        quantity_column(),
    ];
    columns.extend(where_columns(c.place()));
    columns.push(column("Steps", CellAlign::Start, Width::Share(2)));
    let worked = worked_on(c);
    let mut rows = Vec::new();
    for (item, (number, account)) in c.resolved.ledger.parts.iter().enumerate() {
        let Some(part) = c.part(number) else { continue };
        if account.listed == 0 && account.steps.is_empty() {
            continue;
        }
        let mut name = vec![Inline::text(&part.name)];
        if let Some(now) = super::replaced::part_remark(c.manual, number) {
            name.push(Inline::text("; "));
            name.extend(now);
        } else {
            super::tables::push_note(&mut name, part.remark());
        }
        for words in super::kit::count_words(c.resolved, number.as_str()) {
            super::tables::push_note(&mut name, Some(&words));
        }
        let mut cells = vec![text_cell(number.as_str()), cell(name)];
        cells.push(cell(part.hand.map(Inline::Hand).into_iter().collect()));
        cells.push(cell(vec![Inline::Quantity(Quantity::each(account.listed))]));
        if account.piece {
            let whole = part.cut_from.as_ref().map_or("", |p| p.value.as_str());
            let mut made = where_cells(c.place(), "", "", "");
            if let Some(first) = made.first_mut() {
                *first = text_cell(format!("cut from {whole}"));
            }
            cells.extend(made);
        } else {
            cells.extend(where_cells(c.place(), &part.bag, &part.crate_, &part.bin));
        }
        let mut steps: Vec<_> = account.steps.iter().chain(worked.get(number).into_iter().flatten().copied()).collect();
        steps.sort_by_key(|id| c.steps.get(id).map(|s| s.number));
        cells.push(cell(c.step_links(steps)));
        rows.push(TableRow {
            cells,
            anchor: Some(part_anchor(number)),
            origin: Origin { step: None, field: PARTS_LIST, item },
        });
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let intro = "Check the crate against this list before you begin. The last column names every step that takes the part or works on it.";
    let table = super::tables::filled(TableRole::Index, columns, rows);
    vec![paragraph(intro), block(BlockKind::Table(table))]
}

/// The steps that cut, bend, flatten or drill a part, which may have it in an assembly.
fn worked_on<'a>(c: &DocumentComposer<'a>) -> BTreeMap<&'a PartNumber, Vec<&'a StepId>> {
    let mut out: BTreeMap<&PartNumber, Vec<&StepId>> = BTreeMap::new();
    for s in &c.resolved.steps {
        let step = &s.step;
        let parts = step.cuts.iter().map(|cut| &cut.part.value);
        let parts = parts.chain(step.bends.iter().map(|bend| &bend.part.value));
        let parts = parts.chain(step.flattened.iter().map(|end| &end.part.value));
        for part in parts.chain(step.holes.iter().map(|hole| &hole.part.value)) {
            out.entry(part).or_default().push(&step.id.value);
        }
    }
    out
}

fn hardware(c: &DocumentComposer) -> Vec<Block> {
    let mut columns = vec![
        naming("Hardware", Width::Fit),
        column("What it is", CellAlign::Start, Width::Share(4)),
        quantity_column(),
    ];
    columns.extend(where_columns(c.place()));
    columns.push(column("Steps", CellAlign::Start, Width::Share(2)));
    let mut rows = Vec::new();
    for (item, (designation, account)) in c.resolved.ledger.hardware.iter().enumerate() {
        let h = c.hardware(designation);
        let get = |f: fn(&crate::model::Hardware) -> &String| h.map_or("", |h| f(h).as_str());
        let mut words = c.hardware_words(designation);
        if let Some(now) = super::replaced::hardware_remark(c.manual, designation) {
            words.push(Inline::text("; "));
            words.extend(now);
        }
        for said in super::kit::count_words(c.resolved, designation.as_str()) {
            super::tables::push_note(&mut words, Some(&said));
        }
        // In the cell of the words: most rows have neither, and two columns for them leave no room for any.
        let hole = super::fastening::hole_of(c, designation);
        if !hole.is_empty() {
            words.extend([Inline::LineBreak, Inline::strong("Hole"), Inline::text(format!(" {hole}"))]);
        }
        let tight = super::fastening::tighten_all(c, designation);
        if !tight.is_empty() {
            words.extend([Inline::LineBreak, Inline::strong("Tighten to"), Inline::text(" ")]);
            words.extend(tight);
        }
        let mut cells = vec![text_cell(designation.as_str()), cell(words)];
        cells.push(cell(vec![Inline::Quantity(account.need)]));
        cells.extend(where_cells(c.place(), get(|h| &h.bag), get(|h| &h.crate_), get(|h| &h.bin)));
        cells.push(cell(c.step_links(&account.steps)));
        let origin = Origin { step: None, field: HARDWARE_LIST, item };
        rows.push(TableRow { cells, anchor: Some(hardware_anchor(designation)), origin });
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let intro =
        "What the steps use, with the drill and reamer for its hole and how tight it is drawn. Spares are extra.";
    let table = super::tables::filled(TableRole::Index, columns, rows);
    vec![paragraph(intro), block(BlockKind::Table(table))]
}

/// Tools and consumables, with the steps that need them.
pub(super) fn equipment(c: &DocumentComposer) -> Vec<Block> {
    let settings = &c.manual.settings;
    let mut tools: BTreeMap<&str, (&str, Vec<&StepId>)> = BTreeMap::new();
    let mut consumables: BTreeMap<&str, (&str, Vec<&StepId>)> = BTreeMap::new();
    for s in &c.resolved.steps {
        for tool in &s.step.tools {
            let title = settings.tool_title(&tool.value.value);
            tools.entry(tool.value.as_str()).or_insert((title, Vec::new())).1.push(&s.step.id.value);
        }
        for item in &s.step.consumables {
            let title = settings.consumable_title(&item.value.value);
            consumables.entry(item.value.as_str()).or_insert((title, Vec::new())).1.push(&s.step.id.value);
        }
    }
    let mut blocks = Vec::new();
    for (title, list) in [("Tools", tools), ("Consumables", consumables)] {
        if list.is_empty() {
            continue;
        }
        let mut list: Vec<_> = list.into_values().collect();
        list.sort_by(|a, b| crate::units::natural_cmp(a.0, b.0));
        let rows = list
            .into_iter()
            .map(|(title, steps)| TableRow {
                cells: vec![text_cell(title), cell(c.step_links(steps))],
                anchor: None,
                origin: Origin::default(),
            })
            .collect();
        let columns = vec![naming(title, Width::Share(3)), column("Steps", CellAlign::Start, Width::Share(2))];
        blocks.push(heading(2, title));
        blocks.push(block(BlockKind::Table(Table { role: TableRole::Index, caption: Vec::new(), columns, rows })));
    }
    blocks
}

/// Every measured value again, on one sheet to keep.
pub(super) fn results(c: &DocumentComposer) -> Leaf {
    let mut columns = vec![naming("Step", Width::Fit)];
    columns.extend(super::tables::measure_columns().into_iter().map(|m| Column { kind: ColumnKind::Plain, ..m }));
    columns.push(column("Date, initials", CellAlign::Start, Width::Share(2)));
    let mut rows = Vec::new();
    for section in &c.resolved.sections {
        let steps = &c.resolved.steps[section.steps.clone()];
        if steps.iter().any(|s| !s.step.measures.is_empty()) {
            let title = vec![Inline::Strong(super::section_title(section))];
            rows.push(super::around::subheading(title, columns.len()));
        }
        for s in steps {
            for m in &s.step.measures {
                let origin = Origin { step: Some(s.step.id.value.clone()), field: "results", item: m.index };
                rows.push(TableRow { cells: result_row(s, &m.value, m.note.as_deref()), anchor: None, origin });
            }
        }
    }
    let blocks = if rows.is_empty() {
        Vec::new()
    } else {
        let intro = "Copy each measured value here and keep this sheet with the papers of the craft.";
        let table = Table { role: TableRole::Measures, caption: Vec::new(), columns, rows };
        vec![paragraph(intro), block(BlockKind::Table(table))]
    };
    leaf("results", LeafRole::Results, "Results sheet", blocks)
}
