//! The receiving list: what has to be in every crate and bag, to be ticked on arrival.

use super::around::subheading;
use super::bench::bench;
use super::tables::{cell, column, naming, push_note, quantity_column, text_cell};
use super::{DocumentComposer, block, leaf, paragraph};
use crate::document::bench::{BenchThing, ThingKind};
use crate::document::block::{BlockKind, Origin};
use crate::document::edition::LiesIn;
use crate::document::inline::Inline;
use crate::document::leaf::{Leaf, LeafRole};
use crate::document::sheet::CsvSheet;
use crate::document::table::{CellAlign, Table, TableRole, TableRow, Width};
use crate::model::{Hardware, Manual, Part};
use crate::resolve::Resolved;
use crate::units::{Designation, PartNumber, Quantity, Rational, Unit, natural_cmp};

/// One table, by crate and bag. Empty where the kit holds nothing.
pub(super) fn receiving(c: &DocumentComposer) -> Leaf {
    let columns = vec![
        column("", CellAlign::Center, Width::Fit),
        naming("Number", Width::Fit),
        column("Item", CellAlign::Start, Width::Share(4)),
        quantity_column(),
    ];
    let mut things: Vec<BenchThing> = bench(c.manual, c.resolved)
        .things
        .into_iter()
        .filter(|t| matches!(t.kind, ThingKind::Part | ThingKind::Hardware))
        .filter(|t| t.quantity.is_some_and(|q| *q.value.numer() > 0) || !t.notes.is_empty())
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
        for note in &thing.notes {
            name.extend([Inline::text("; "), Inline::strong(note)]);
        }
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
    let spares: Vec<&BenchThing> = things.iter().filter(|t| *t.spares.value.numer() > 0).collect();
    if !spares.is_empty() {
        rows.push(subheading(vec![Inline::strong(spares_words(c))], columns.len()));
    }
    for (item, thing) in spares.iter().enumerate() {
        rows.push(TableRow {
            cells: vec![
                cell(vec![Inline::TickBox]),
                text_cell(&thing.designation),
                text_cell(format!("{}, spare", thing.name)),
                cell(vec![Inline::Quantity(thing.spares)]),
            ],
            anchor: None,
            origin: Origin { step: None, field: "spares", item },
        });
    }
    let counted = match spares.is_empty() {
        true => "Hardware is counted as the steps use it.",
        false => "Hardware is counted as the steps use it. The spares lie by themselves and are counted at the end.",
    };
    let blocks = if rows.is_empty() {
        Vec::new()
    } else {
        vec![
            paragraph(
                "When the crates arrive, count everything against this list. Write down what is short or damaged and tell the maker before you begin.",
            ),
            paragraph(counted),
            block(BlockKind::Table(Table { role: TableRole::Receiving, caption: Vec::new(), columns, rows })),
        ]
    };
    leaf("receiving", LeafRole::Index, "Receiving list", blocks)
}

/// `Spares, in bag S`
fn spares_words(c: &DocumentComposer) -> String {
    match c.manual.settings.spares_bag.as_str() {
        "" => "Spares".to_owned(),
        bag => format!("Spares, in bag {bag}"),
    }
}

/// What lies in the crates, item by item, each with the sum that it comes from.
pub fn box_sheet(manual: &Manual, resolved: &Resolved, lies_in: LiesIn) -> CsvSheet {
    let mut rows: Vec<Vec<String>> = Vec::new();
    for (item, count) in &resolved.counts {
        let (number, designation) = (PartNumber::new(item), Designation::new(item));
        let (now, row, name) = super::replaced::hardware(manual, &designation);
        let (kind, now, name, bin, bag, crate_) = match super::replaced::part(manual, &number) {
            Some((now, part, name)) => ("part", now.as_str(), name, &*part.bin, &*part.bag, &*part.crate_),
            None => {
                let get = |f: fn(&Hardware) -> &String| row.map_or("", |h| f(h).as_str());
                ("hardware", now.as_str(), name, get(|h| &h.bin), get(|h| &h.bag), get(|h| &h.crate_))
            }
        };
        let of = |value: Rational| Quantity { value, unit: Unit::Each }.to_string();
        let given = resolved.configuration.deviations.iter().filter(|d| d.given() == item);
        let lots: Vec<&str> = given.filter_map(|d| d.lot.as_ref()).map(|l| l.value.as_str()).collect();
        let stands_for = resolved.shipped.stands_for(item).into_iter();
        rows.push(vec![
            now.to_owned(),
            kind.to_owned(),
            name,
            count.needed.unit.name().to_owned(),
            of(count.needed.value),
            of(count.spares),
            of(count.owed),
            of(count.in_addition),
            of(count.in_the_box().value),
            if lies_in == LiesIn::Bins { bin } else { "" }.to_owned(),
            bag.to_owned(),
            crate_.to_owned(),
            stands_for.map(|(name, n)| format!("{} x {name}", of(n))).collect::<Vec<_>>().join("; "),
            lots.join("; "),
            count.expected.map_or_else(String::new, |day| day.to_string()),
        ]);
    }
    rows.sort_by(|a, b| b[1].cmp(&a[1]).then_with(|| natural_cmp(&a[0], &b[0])));
    CsvSheet { columns: BOX, rows }
}

const BOX: &[&str] = &[
    "item",
    "kind",
    "what it is",
    "unit",
    "needed",
    "spares",
    "on back order",
    "sent in addition",
    "in the box",
    "bin",
    "bag",
    "crate",
    "in place of",
    "lots",
    "expected",
];

pub(super) fn place_words(crate_: &str, bag: &str) -> String {
    match (crate_.is_empty(), bag.is_empty()) {
        (false, false) => format!("Crate {crate_}, bag {bag}"),
        (false, true) => format!("Crate {crate_}, not in a bag"),
        (true, false) => format!("Bag {bag}, no crate given"),
        (true, true) => "No crate given".to_owned(),
    }
}
