//! The receiving list: what has to be in every crate and bag, to be ticked on arrival.

use super::around::subheading;
use super::bench::bench;
use super::tables::{cell, column, naming, push_note, text_cell};
use super::{DocumentComposer, block, leaf, paragraph};
use crate::document::bench::{BenchThing, ThingKind};
use crate::document::block::{BlockKind, Origin};
use crate::document::inline::Inline;
use crate::document::leaf::{Leaf, LeafRole};
use crate::document::table::{CellAlign, Table, TableRole, TableRow, Width};
use crate::model::Part;
use crate::units::{PartNumber, natural_cmp};

/// One table, by crate and bag. Empty where the kit holds nothing.
pub(super) fn receiving(c: &DocumentComposer) -> Leaf {
    let columns = vec![
        column("", CellAlign::Center, Width::Fit),
        naming("Number", Width::Fit),
        column("Item", CellAlign::Start, Width::Share(4)),
        column("Quantity", CellAlign::End, Width::Fit),
    ];
    let mut things: Vec<BenchThing> = bench(c.manual, c.resolved)
        .things
        .into_iter()
        .filter(|t| matches!(t.kind, ThingKind::Part | ThingKind::Hardware))
        .filter(|t| t.quantity.is_some_and(|q| *q.value.numer() > 0))
        .collect();
    things.sort_by(|a, b| {
        natural_cmp(&a.crate_, &b.crate_)
            .then_with(|| natural_cmp(&a.bag, &b.bag))
            .then(a.kind.cmp(&b.kind))
            .then_with(|| natural_cmp(&a.designation, &b.designation))
    });
    let mut rows = Vec::new();
    let mut place: Option<(&str, &str)> = None;
    for (item, thing) in things.iter().enumerate() {
        let here = (thing.crate_.as_str(), thing.bag.as_str());
        if place != Some(here) {
            place = Some(here);
            rows.push(subheading(vec![Inline::strong(place_words(here.0, here.1))], columns.len()));
        }
        let part = c.manual.parts.get(&PartNumber::new(&thing.designation)).filter(|_| thing.kind == ThingKind::Part);
        let mut name = vec![Inline::text(&thing.name)];
        if let Some(hand) = part.and_then(|p| p.hand) {
            name.extend([Inline::text(" "), Inline::Hand(hand)]);
        }
        // What comes welded to something else is looked for in vain without it.
        push_note(&mut name, part.and_then(Part::remark));
        rows.push(TableRow {
            cells: vec![
                cell(vec![Inline::TickBox]),
                text_cell(&thing.designation),
                cell(name),
                cell(thing.quantity.map(Inline::Quantity).into_iter().collect()),
            ],
            anchor: None,
            origin: Origin { step: None, field: "receive", item },
        });
    }
    let blocks = if rows.is_empty() {
        Vec::new()
    } else {
        vec![
            paragraph(
                "When the crates arrive, count everything against this list. Write down what is short or damaged and tell the maker before you begin.",
            ),
            paragraph("Hardware is counted as the steps use it; spares are extra."),
            block(BlockKind::Table(Table { role: TableRole::Receiving, caption: Vec::new(), columns, rows })),
        ]
    };
    leaf("receiving", LeafRole::Index, "Receiving list", blocks)
}

fn place_words(crate_: &str, bag: &str) -> String {
    match (crate_.is_empty(), bag.is_empty()) {
        (false, false) => format!("Crate {crate_}, bag {bag}"),
        (false, true) => format!("Crate {crate_}, not in a bag"),
        (true, false) => format!("Bag {bag}, no crate given"),
        (true, true) => "No crate given".to_owned(),
    }
}
