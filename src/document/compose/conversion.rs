//! A conversion as a document: what comes off, what is sent and used again, the steps to do, what to inspect.

use super::tables::{cell, column, hand_column, naming, quantity_column, text_cell};
use super::{DocumentComposer, block, field, heading, leaf, meta_edition, paragraph, spoken, step, unlinked};
use crate::change::{Conversion, CountedItem};
use crate::document::block::{Block, BlockKind, ListItem, Origin};
use crate::document::inline::{Inline, Inlines};
use crate::document::leaf::{Document, Leaf, LeafRole, Purpose};
use crate::document::pick_row::PickRow;
use crate::document::table::{CellAlign, Column, Table, TableCell, TableRole, TableRow, Width};
use crate::document::{Bars, Edition};
use crate::model::{Manual, WhenRemoved};
use crate::units::{Quantity, UnitStyle, Weight};

/// The document of a conversion; `manual` is that of the target, `state` says which it is.
pub fn conversion_document(manual: &Manual, conversion: &Conversion, state: &str, bars: Bars) -> Document {
    let resolved = &conversion.resolved;
    let c = DocumentComposer::new(manual, resolved, Purpose::Manual);
    let mut leaves = vec![
        title(&c, conversion),
        leaf("begin", LeafRole::Text, "Before you begin", begin(conversion)),
        leaf("contents", LeafRole::Contents, "Contents", vec![paragraph("")]),
        leaf("off", LeafRole::Text, "What comes off", off(conversion)),
        leaf("sent", LeafRole::Text, "What you are sent", sent(&super::pick_rows(manual, resolved))),
        leaf("again", LeafRole::Text, "What you use again", again(conversion)),
    ];
    for section in &resolved.sections {
        leaves.push(step::section(&c, section));
        leaves.extend(resolved.steps[section.steps.clone()].iter().map(|s| step::step(&c, s)));
    }
    leaves.push(leaf("look-again", LeafRole::Text, "What depends on it", look_again(conversion)));
    leaves.push(leaf("inspect", LeafRole::Text, "Inspect when it is done", inspect(&c, conversion)));
    leaves.retain(|leaf| !leaf.blocks.is_empty());
    let contents = super::around::contents(&c, &leaves);
    if let Some(leaf) = leaves.iter_mut().find(|l| l.role == LeafRole::Contents) {
        leaf.blocks = contents;
    }
    unlinked::unlink(&mut leaves);
    let edition = Edition { state: state.into(), ..Edition::default() };
    Document {
        purpose: Purpose::Report,
        name: "Conversion".into(),
        meta: meta_edition(manual, resolved, &edition),
        leaves,
        bars,
    }
}

fn title(c: &DocumentComposer, conversion: &Conversion) -> Leaf {
    let hours: crate::units::Rational =
        c.resolved.steps.iter().filter_map(|s| s.step.hours.as_ref()).map(|h| h.value).sum();
    let mut fields = vec![
        field("Of", vec![Inline::text(&c.manual.settings.title)]),
        field("From", vec![Inline::strong(&conversion.from)]),
        field("To", vec![Inline::strong(&conversion.to)]),
        field("In words", vec![Inline::text(&c.resolved.title)]),
        field("Steps", vec![Inline::text(c.resolved.steps.len().to_string())]),
    ];
    if *hours.numer() != 0 {
        fields.push(field(
            "Time",
            vec![Inline::text(format!("about {}, without what comes off", step::hours_words(hours)))],
        ));
    }
    fields.push(field("Weight", vec![Inline::text(weight(conversion, c.manual.settings.units))]));
    let said = paragraph(
        "This document says what the conversion takes. Whether the craft may be used as converted, and what has to be tested before, is for its designer and the authority to decide, not for this document.",
    );
    Leaf {
        title: vec![Inline::text("Conversion")],
        ..leaf("title", LeafRole::Title, "", vec![block(BlockKind::Fields(fields)), said])
    }
}

/// `2.30 lb heavier; the weight of SK-12 is not known`.
fn weight(conversion: &Conversion, units: UnitStyle) -> String {
    let w = &conversion.weight;
    let zero = crate::units::Rational::from_integer(0);
    let pounds = (*w.pounds.numer() as f64 / *w.pounds.denom() as f64).abs();
    let known = match w.pounds.cmp(&zero) {
        std::cmp::Ordering::Less => format!("{} lighter", Weight::words(pounds, units)),
        std::cmp::Ordering::Greater => format!("{} heavier", Weight::words(pounds, units)),
        std::cmp::Ordering::Equal => "the same".to_owned(),
    };
    if w.unknown.is_empty() {
        return format!("{known}, hardware not counted");
    }
    let unknown = w.unknown.join(", ");
    format!(
        "{known} as far as it is known; hardware is not counted, nor {unknown}, whose weight the parts list does not give"
    )
}

fn list(items: impl IntoIterator<Item = Inlines>, tick: bool) -> Block {
    let items = items.into_iter().map(|text| ListItem { tick, blocks: vec![block(BlockKind::Paragraph(text))] });
    block(BlockKind::List { ordered: None, items: items.collect() })
}

fn begin(conversion: &Conversion) -> Vec<Block> {
    let mut lines = vec![
        "Check what you are sent against the list before you take anything apart.".to_owned(),
        "Do the steps in the order of their numbers. Those written for this conversion say when something comes off.".to_owned(),
        "In a step that you have done before, a bar in the margin stands beside what is different now. The rest is there already: check it, do not do it twice.".to_owned(),
        "Hardware that comes off is not used again.".to_owned(),
    ];
    if !conversion.opened.is_empty() {
        let names: Vec<_> = conversion.opened.iter().map(|a| spoken(a.as_str())).collect();
        lines.push(format!(
            "What was closed for good is opened again and inspected before it is closed: {}.",
            names.join(", ")
        ));
    }
    let mut blocks = vec![list(lines.into_iter().map(|l| vec![Inline::text(l)]), false)];
    let intro = "This kit was shipped with deviations from its release. Where this document names one of these, look for what is there in its place:";
    blocks.extend(super::change_report::shipped(&conversion.change, intro));
    blocks
}

fn off(conversion: &Conversion) -> Vec<Block> {
    let mut blocks = Vec::new();
    if !conversion.undone.is_empty() {
        blocks
            .push(paragraph("These steps of your manual no longer apply. What they put on comes off, the last first."));
        let columns = vec![naming("Step", Width::Fit), column("Title", CellAlign::Start, Width::Share(1))];
        blocks.push(table(columns, conversion.undone.iter().map(|s| vec![text_cell(&s.number), text_cell(&s.title)])));
    }
    if !conversion.off.is_empty() {
        blocks.push(heading(2, "Parts that come off"));
        let mut columns = counted_columns("Part");
        columns.push(column("Then", CellAlign::Start, Width::Share(2)));
        let rows = conversion.off.iter().map(|o| {
            let mut cells = counted(&o.item);
            cells.push(text_cell(match o.then {
                WhenRemoved::Keep => "keep it",
                WhenRemoved::Return => "send it back to the maker",
                WhenRemoved::Scrap => "scrap it, so that nobody fits it again",
            }));
            cells
        });
        blocks.push(table(columns, rows));
    }
    if !conversion.hardware_off.is_empty() {
        blocks.push(heading(2, "Hardware that comes off"));
        blocks.push(paragraph("Discard it."));
        blocks.push(table(counted_columns("Hardware"), conversion.hardware_off.iter().map(counted)));
    }
    blocks
}

fn counted_columns(name: &str) -> Vec<Column> {
    vec![naming(name, Width::Fit), column("What it is", CellAlign::Start, Width::Share(3)), quantity_column()]
}

fn counted(item: &CountedItem) -> Vec<TableCell> {
    vec![text_cell(&item.name), text_cell(&item.title), cell(vec![Inline::Quantity(item.quantity)])]
}

fn table(columns: Vec<Column>, rows: impl Iterator<Item = Vec<TableCell>>) -> Block {
    let rows = rows.map(|cells| TableRow { cells, anchor: None, origin: Origin::default() }).collect();
    block(BlockKind::Table(Table { role: TableRole::Plain, caption: Vec::new(), columns, rows }))
}

/// What the steps take, a line for each thing.
fn sent(rows: &[PickRow]) -> Vec<Block> {
    if rows.is_empty() {
        return Vec::new();
    }
    let mut totals: Vec<PickRow> = Vec::new();
    for row in rows {
        match totals.iter_mut().find(|t| t.designation == row.designation && t.quantity.unit == row.quantity.unit) {
            Some(total) => {
                total.quantity = Quantity { value: total.quantity.value + row.quantity.value, ..total.quantity }
            }
            None => totals.push(row.clone()),
        }
    }
    let columns = vec![
        column("", CellAlign::Center, Width::Fit),
        naming("Number", Width::Fit),
        column("Item", CellAlign::Start, Width::Share(3)),
        quantity_column(),
        hand_column(),
        column("Bag", CellAlign::Start, Width::Fit),
        column("Crate", CellAlign::Start, Width::Fit),
    ];
    let rows = totals.iter().map(|t| {
        vec![
            cell(vec![Inline::TickBox]),
            text_cell(&t.designation),
            text_cell(&t.item),
            cell(vec![Inline::Quantity(t.quantity)]),
            cell(t.hand.map(Inline::Hand).into_iter().collect()),
            text_cell(&t.bag),
            text_cell(&t.crate_),
        ]
    });
    vec![paragraph("Count everything. Spares are extra."), table(columns, rows)]
}

fn again(conversion: &Conversion) -> Vec<Block> {
    if conversion.reused.is_empty() {
        return Vec::new();
    }
    let said = paragraph("These parts come off and go on again. Put them aside, and look at each before it goes on.");
    vec![said, table(counted_columns("Part"), conversion.reused.iter().map(counted))]
}

fn look_again(conversion: &Conversion) -> Vec<Block> {
    if conversion.look_again.is_empty() {
        return Vec::new();
    }
    let said = paragraph(
        "These steps of the manual of the target use what is made differently now. Undo them as far as they are in the way, and do them again by that manual; the numbers are those of that manual.",
    );
    let columns = vec![naming("Step", Width::Fit), column("Title", CellAlign::Start, Width::Share(1))];
    vec![said, table(columns, conversion.look_again.iter().map(|s| vec![text_cell(&s.number), text_cell(&s.title)]))]
}

fn inspect(c: &DocumentComposer, conversion: &Conversion) -> Vec<Block> {
    let mut lines: Vec<Inlines> = Vec::new();
    for s in &c.resolved.steps {
        for i in &s.step.inspects {
            let place = format!("{} {}: ", s.number, spoken(i.what.value.as_str()));
            lines.push(vec![Inline::strong(place), Inline::text(&i.look_for)]);
        }
        for m in &s.step.measures {
            lines.push(vec![
                Inline::strong(format!("{} measured: ", s.number)),
                Inline::text(&m.what.value),
                Inline::text(" "),
                Inline::Blank(50),
            ]);
        }
    }
    for opened in &conversion.opened {
        lines.push(vec![
            Inline::strong(format!("{}: ", spoken(opened.as_str()))),
            Inline::text("was opened; nothing left inside, closed again"),
        ]);
    }
    lines.push(vec![Inline::text(
        "Old holes, and the places where parts came off: no cracks, no dents, no bare metal.",
    )]);
    lines.push(vec![Inline::text("The placard and the papers say what the craft is now.")]);
    lines.push(vec![Inline::text("The final inspection of the manual of the target is done as a whole.")]);
    vec![
        list(lines, true),
        block(BlockKind::SignOff { role: vec![Inline::text("Builder")] }),
        block(BlockKind::SignOff { role: vec![Inline::text("Second person")] }),
    ]
}
