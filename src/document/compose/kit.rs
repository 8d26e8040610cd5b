//! Deviation in one kit: at the steps that it concerns, and all of it on a page of its own.

use super::tables::{cell, column, naming, text_cell};
use super::{DocumentComposer, block, group, paragraph};
use crate::document::block::{Block, BlockKind, ListItem, Origin};
use crate::document::inline::{Inline, Inlines};
use crate::document::leaf::{Leaf, LeafRole};
use crate::document::table::{CellAlign, Table, TableRole, TableRow, Width};
use crate::model::{Deviation, DeviationKind};
use crate::resolve::ResolvedStep;
use crate::units::{Designation, PartNumber};

/// The rows of the register about this kit; none where the manual is not for one.
fn of_kit<'a>(c: &DocumentComposer<'a>) -> impl Iterator<Item = &'a Deviation> {
    c.deviations.iter().copied()
}

/// Deviation in this step.
pub(super) fn at_step(c: &DocumentComposer, s: &ResolvedStep) -> Option<Block> {
    let items: Vec<ListItem> = of_kit(c)
        .filter(|d| s.handles(&d.item.value))
        .map(|d| ListItem { tick: false, blocks: vec![block(BlockKind::Paragraph(words(c, d)))] })
        .collect();
    if items.is_empty() {
        return None;
    }
    let list = block(BlockKind::List { ordered: None, items });
    Some(group("kit", "In this kit only", vec![list], &s.step.id.value))
}

/// `SK-113 Beam gusset: 2 of it from lot 4711.`
fn words(c: &DocumentComposer, d: &Deviation) -> Inlines {
    let mut out = vec![Inline::strong(&d.item.value), Inline::text(format!(" {}: ", name(c, &d.item.value)))];
    let count = d.quantity.as_ref().map_or_else(|| "all of it".to_owned(), |q| format!("{} of it", q.value));
    match (d.kind, &d.with) {
        (DeviationKind::Substituted, Some(with)) => {
            out.push(Inline::text(format!("{count} replaced by ")));
            out.push(Inline::strong(&with.value));
            out.push(Inline::text(format!(" {}", name(c, &with.value))));
        }
        (DeviationKind::Substituted, None) => out.push(Inline::text(format!("{count} replaced"))),
        (DeviationKind::Lot, _) => out.push(Inline::text(count)),
        (DeviationKind::BackOrder, _) => {
            out.push(Inline::text(format!("{count} was not in the crates and follows later")))
        }
        (DeviationKind::SentLater, _) => out.push(Inline::text(format!("{count} was sent later"))),
    }
    if let Some(lot) = &d.lot {
        out.push(Inline::text(format!(" from lot {}", lot.value)));
    }
    let sent: Vec<String> = [
        d.date.as_ref().map(|t| format!("on {}", t.value)),
        d.release.as_ref().map(|t| format!("under release {}", t.value)),
    ]
    .into_iter()
    .flatten()
    .collect();
    if !sent.is_empty() {
        out.push(Inline::text(format!(", {}", sent.join(", "))));
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

/// All that is otherwise, with the steps that it concerns. None where there is nothing.
pub(super) fn leaf(c: &DocumentComposer) -> Option<Leaf> {
    let columns = vec![
        naming("Item", Width::Fit),
        column("Deviation", CellAlign::Start, Width::Share(4)),
        column("Steps", CellAlign::Start, Width::Share(1)),
    ];
    let rows: Vec<TableRow> = of_kit(c)
        .map(|d| {
            let steps = c.resolved.steps.iter().filter(|s| s.handles(&d.item.value)).map(|s| &s.step.id.value);
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
    Some(super::leaf("this-kit", LeafRole::Text, "This kit", vec![intro, block(BlockKind::Table(table))]))
}
