//! What is otherwise in one kit: at the steps that it concerns, and all of it on a page of its own.

use super::tables::{cell, column, naming, text_cell};
use super::{DocumentComposer, block, group, paragraph};
use crate::document::block::{Block, BlockKind, ListItem, Origin};
use crate::document::inline::{Inline, Inlines};
use crate::document::leaf::{Leaf, LeafRole};
use crate::document::table::{CellAlign, Table, TableRole, TableRow, Width};
use crate::model::{Deviation, DeviationKind};
use crate::resolve::{Resolved, ResolvedStep, Wait};
use crate::units::{Designation, PartNumber, Quantity, Rational, natural_cmp};

/// The rows of the register about this kit; none where the manual is not for one.
fn of_kit<'a>(c: &DocumentComposer<'a>) -> impl Iterator<Item = &'a Deviation> + use<'a> {
    c.resolved.configuration.deviations.iter()
}

/// Whether a row is about a step: by the places that it names, else by what the step handles.
fn is_at(d: &Deviation, s: &ResolvedStep) -> bool {
    if d.places.is_empty() {
        return s.handles(&d.item.value) || d.with.as_ref().is_some_and(|with| s.handles(&with.value));
    }
    d.places.iter().any(|p| p.step.value == s.step.id.value)
}

/// What a step has otherwise in this kit, and what it waits for.
pub(super) fn at_step(c: &DocumentComposer, s: &ResolvedStep) -> Vec<Block> {
    let id = &s.step.id.value;
    let mut blocks = Vec::new();
    if let Some(waits) = c.resolved.waits.get(id) {
        let stop = "Not all of it is in the crates. Do not begin this step before it has arrived.";
        let table = block(BlockKind::Table(owed_table(c, waits)));
        blocks.push(group("owed", "Wait for what is on back order", vec![paragraph(stop), table], id));
    }
    let items: Vec<ListItem> = of_kit(c)
        // What is on back order is said of the steps that wait for it.
        .filter(|d| is_at(d, s) && d.kind != DeviationKind::BackOrder)
        .map(|d| ListItem { tick: false, blocks: vec![block(BlockKind::Paragraph(words(c, d)))] })
        .collect();
    if !items.is_empty() {
        let list = block(BlockKind::List { ordered: None, items });
        blocks.push(group("kit", "In this kit only", vec![list], id));
    }
    blocks
}

/// What is on back order, with a place to say when it came.
fn owed_table(c: &DocumentComposer, waits: &[Wait]) -> Table {
    let columns = vec![
        naming("Item", Width::Fit),
        column("What it is", CellAlign::Start, Width::Share(3)),
        column("On back order", CellAlign::End, Width::Fit),
        column("Expected", CellAlign::Start, Width::Fit),
        column("Arrived", CellAlign::Start, Width::Fit),
    ];
    let rows = waits.iter().map(|wait| TableRow {
        cells: vec![
            text_cell(&wait.item),
            text_cell(name(c, &wait.item)),
            cell(vec![Inline::Quantity(wait.quantity)]),
            text_cell(wait.expected.map_or_else(|| "not known".to_owned(), |day| day.to_string())),
            cell(vec![Inline::Blank(80)]),
        ],
        anchor: None,
        origin: Origin::default(),
    });
    Table { role: TableRole::Owed, caption: Vec::new(), columns, rows: rows.collect() }
}

/// `2 x AN4-15A replaced by AN4-16A`, in a sentence.
fn words(c: &DocumentComposer, d: &Deviation) -> Inlines {
    let mut out = vec![Inline::strong(&d.item.value), Inline::text(format!(" {}: ", name(c, &d.item.value)))];
    let count = d.quantity.as_ref().map_or_else(|| "all of it".to_owned(), |q| format!("{} of them", q.value));
    match (d.kind, &d.with) {
        (DeviationKind::Substituted, Some(with)) => {
            out.push(Inline::text(format!("{count} replaced by ")));
            out.push(Inline::strong(&with.value));
            out.push(Inline::text(format!(" {}", name(c, &with.value))));
        }
        (DeviationKind::Substituted, None) => out.push(Inline::text(format!("{count} replaced"))),
        (DeviationKind::Lot, _) => out.push(Inline::text(count)),
        (DeviationKind::BackOrder, _) => {
            out.push(Inline::text(format!("{count} was not in the crates and follows later")));
        }
        (DeviationKind::SentLater, _) => out.push(Inline::text(format!("{count} was sent later"))),
        (DeviationKind::InAddition, _) => {
            let more = d.quantity.as_ref().map_or(0, |q| q.value);
            out.push(Inline::text(format!("{more} more than the manual says")));
        }
    }
    let at: Vec<String> = d.places.iter().filter_map(|p| p.joint.as_ref()).map(|j| j.value.replace('-', " ")).collect();
    if !at.is_empty() {
        out.push(Inline::text(format!(" in the joint {}", at.join(", "))));
    }
    if let Some(lot) = &d.lot {
        out.push(Inline::text(format!(" from lot {}", lot.value)));
    }
    let said: Vec<String> = [
        d.expected.as_ref().map(|t| format!("expected on {}", t.value)),
        d.date.as_ref().map(|t| match d.kind {
            DeviationKind::BackOrder => format!("crates sent on {}", t.value),
            _ => format!("sent on {}", t.value),
        }),
        d.release.as_ref().map(|t| format!("under release {}", t.value)),
        d.approved.as_ref().map(|t| format!("approved: {}", t.value)),
    ]
    .into_iter()
    .flatten()
    .collect();
    if !said.is_empty() {
        out.push(Inline::text(format!(", {}", said.join(", "))));
    }
    out.push(Inline::text("."));
    if !d.note.is_empty() {
        out.push(Inline::text(format!(" {}", d.note)));
    }
    out
}

fn name<'a>(c: &DocumentComposer<'a>, item: &str) -> &'a str {
    let part = c.part(&PartNumber::new(item)).map(|p| p.name.as_str());
    part.or_else(|| c.hardware(&Designation::new(item)).map(|h| h.name.as_str())).unwrap_or("")
}

/// `in place of AN4-15A; 1 on back order`, for what a step has of it in this kit.
pub(super) fn remark(c: &DocumentComposer, s: &ResolvedStep, item: &str) -> Option<String> {
    let taken = || s.hardware.iter().filter(|h| h.designation.as_str() == item).map(|h| h.quantity.value).sum();
    let stands_for = c.resolved.shipped.in_place_of(&s.step.id.value, item);
    let mut said: Vec<String> = stands_for.into_iter().map(|(of, n)| in_place_of(of, n, taken())).collect();
    let waits = c.resolved.waits.get(&s.step.id.value).into_iter().flatten();
    said.extend(waits.filter(|w| w.item == item).map(|w| format!("{} on back order", w.quantity)));
    (!said.is_empty()).then(|| said.join("; "))
}

/// `in place of AN4-15A`, `2 of them in place of AN4-15A`.
pub(super) fn in_place_of(of: &str, n: Rational, all: Rational) -> String {
    if n > Rational::from_integer(0) && n < all {
        format!("{} of them in place of {of}", crate::units::decimal_text(n, 3))
    } else {
        format!("in place of {of}")
    }
}

/// What is said of an item wherever the kit is counted: what is not there, what is more, what it stands for.
pub(super) fn count_words(c: &Resolved, item: &str) -> Vec<String> {
    let mut said = Vec::new();
    let all = c.counts.get(item).map_or_else(Default::default, |count| count.needed.value);
    said.extend(c.shipped.stands_for(item).into_iter().map(|(of, n)| in_place_of(of, n, all)));
    let rows = c.configuration.deviations.iter().filter(|d| d.given() == item);
    for d in rows {
        let some = d.quantity.as_ref().map_or_else(String::new, |q| format!("{} of them ", q.value));
        if let Some(lot) = &d.lot {
            said.push(format!("{some}from lot {}", lot.value));
        }
        if d.kind == DeviationKind::SentLater {
            let when = d.date.as_ref().map_or_else(String::new, |day| format!(" on {}", day.value));
            said.push(format!("{some}sent later{when}"));
        }
    }
    let Some(count) = c.counts.get(item) else { return said };
    let of = |value: Rational| Quantity { value, ..count.needed };
    let zero = Rational::from_integer(0);
    if count.owed > zero {
        let when = count.expected.map_or_else(String::new, |day| format!(", expected {day}"));
        said.push(format!("{} of {} on back order{when}", of(count.owed), count.needed));
    }
    if count.in_addition > zero {
        said.push(format!("{} of them sent in addition", of(count.in_addition)));
    }
    said
}

/// All that is otherwise, with the steps that it concerns. None where there is nothing.
pub(super) fn leaf(c: &DocumentComposer) -> Option<Leaf> {
    let columns = vec![
        naming("Item", Width::Fit),
        column("Deviation", CellAlign::Start, Width::Share(4)),
        column("Steps", CellAlign::Start, Width::Share(1)),
    ];
    let rows: Vec<TableRow> = of_kit(c)
        .map(|d| {
            let steps = c.resolved.steps.iter().filter(|s| is_at(d, s)).map(|s| &s.step.id.value);
            TableRow {
                cells: vec![text_cell(&d.item.value), cell(words(c, d)), cell(c.step_links(steps))],
                anchor: None,
                origin: Origin::default(),
            }
        })
        .collect();
    if rows.is_empty() {
        return None;
    }
    let table = Table { role: TableRole::Plain, caption: Vec::new(), columns, rows };
    let intro = paragraph("This kit was shipped with the deviations below. Each is named again at its step.");
    let mut blocks = vec![intro, block(BlockKind::Table(table))];
    let mut owed: Vec<Wait> = Vec::new();
    for wait in c.resolved.waits.values().flatten() {
        match owed.iter_mut().find(|w| w.item == wait.item) {
            Some(first) => first.quantity.value += wait.quantity.value,
            None => owed.push(wait.clone()),
        }
    }
    if !owed.is_empty() {
        owed.sort_by(|a, b| natural_cmp(&a.item, &b.item));
        let steps = c.resolved.steps.iter().map(|s| &s.step.id.value).filter(|id| c.resolved.waits.contains_key(*id));
        let mut words =
            vec![Inline::text("On back order. When it arrives, tick it here; until then these steps wait: ")];
        words.extend(c.step_links(steps));
        words.push(Inline::text("."));
        blocks.push(block(BlockKind::Paragraph(words)));
        blocks.push(block(BlockKind::Table(owed_table(c, &owed))));
    }
    Some(super::leaf("this-kit", LeafRole::Text, "This kit", blocks))
}
