//! What differs between two configurations, as a document.

use super::tables::{cell, column, naming, text_cell};
use super::{DocumentComposer, block, field, heading, leaf, meta_edition, paragraph, spoken, unlinked};
use crate::change::{Change, Edit, ItemChange, ListRow, Quantities, Redo, Review, StepMark, StepStanding};
use crate::document::block::{Block, BlockKind, ListItem, Origin};
use crate::document::inline::{Inline, Inlines};
use crate::document::leaf::{Document, Leaf, LeafRole, Purpose};
use crate::document::table::{CellAlign, Table, TableCell, TableRole, TableRow, Width};
use crate::document::{Bars, Edition};
use crate::model::Manual;
use crate::resolve::Resolved;
use crate::units::{Quantity, Unit};

/// The change as a document. `manual` and `resolved` are those of the target; `state` says which it is.
pub fn change_document(manual: &Manual, resolved: &Resolved, change: &Change, state: &str) -> Document {
    let c = DocumentComposer::new(manual, resolved, Purpose::Manual);
    let mut leaves = vec![title(&c, change)];
    leaves.push(leaf("steps", LeafRole::Text, "Steps", steps(change)));
    leaves.push(leaf("lists", LeafRole::Text, "Parts, hardware and tools", lists(change)));
    leaves.push(leaf("around", LeafRole::Text, "Other pages and settings", around(change)));
    leaves.retain(|leaf| !leaf.blocks.is_empty());
    unlinked::unlink(&mut leaves);
    let edition = Edition { state: state.into(), ..Edition::default() };
    let meta = meta_edition(manual, resolved, &edition);
    Document { purpose: Purpose::Report, name: "What differs".into(), meta, leaves, bars: Bars::default() }
}

fn title(c: &DocumentComposer, change: &Change) -> Leaf {
    let mut fields =
        vec![field("From", vec![Inline::strong(&change.from)]), field("To", vec![Inline::strong(&change.to)])];
    if !c.manual.settings.maker.is_empty() {
        fields.push(field("Maker", vec![Inline::text(&c.manual.settings.maker)]));
    }
    let count = |label: &str, n: usize| (n > 0).then(|| field(label, vec![Inline::text(n.to_string())]));
    fields.extend(count("Steps added", change.added.len()));
    fields.extend(count("Steps removed", change.removed.len()));
    fields.extend(count("Steps changed", change.changed.len()));
    fields.extend(count("Steps moved", change.moved.len()));
    fields.extend(count("Parts in other quantities", change.parts.len()));
    fields.extend(count("Hardware in other quantities", change.hardware.len()));
    if let Some((before, after)) = change.hours {
        let words = |value| Quantity { value, unit: Unit::Each }.to_string();
        fields.push(field("Hours", vec![Inline::text(format!("{} becomes {}", words(before), words(after)))]));
    }
    let mut blocks = vec![block(BlockKind::Fields(fields))];
    let said = if change.is_empty() {
        "Nothing differs."
    } else {
        "Words that were taken out stand in brackets behind the word was, words put in are bold. Numbers of steps do not count: they follow from the order."
    };
    blocks.push(paragraph(said));
    blocks.extend(shipped(change, "Deviations of the kit as it was shipped are counted in the lists:"));
    Leaf { title: vec![Inline::text(&c.manual.settings.title)], ..leaf("title", LeafRole::Title, "", blocks) }
}

/// What is otherwise in the kits that are compared as they were shipped.
pub(super) fn shipped(change: &Change, intro: &str) -> Vec<Block> {
    if change.shipped.is_empty() {
        return Vec::new();
    }
    let text = |words: &String| vec![block(BlockKind::Paragraph(vec![Inline::text(words)]))];
    let items = change.shipped.iter().map(|words| ListItem { tick: false, blocks: text(words) }).collect();
    vec![paragraph(intro), block(BlockKind::List { ordered: None, items })]
}

fn row(cells: Vec<TableCell>) -> TableRow {
    TableRow { cells, anchor: None, origin: Origin::default() }
}

fn table(columns: Vec<crate::document::table::Column>, rows: Vec<TableRow>) -> Block {
    block(BlockKind::Table(Table { role: TableRole::Plain, caption: Vec::new(), columns, rows }))
}

fn marks(title: &str, steps: &[StepMark]) -> Vec<Block> {
    if steps.is_empty() {
        return Vec::new();
    }
    let columns = vec![
        naming("Step", Width::Fit),
        column("Title", CellAlign::Start, Width::Share(3)),
        column("Id", CellAlign::Start, Width::Share(1)),
    ];
    let rows =
        steps.iter().map(|s| row(vec![text_cell(&s.number), text_cell(&s.title), text_cell(s.id.as_str())])).collect();
    vec![heading(2, title), table(columns, rows)]
}

/// The steps of two configurations of the same sources, section by section.
fn reviewed(change: &Change, review: &Review) -> Vec<Block> {
    let mut blocks = Vec::new();
    if !review.counterparts.is_empty() {
        blocks.push(heading(2, "Parts in the place of others"));
        let columns = vec![
            naming("Part", Width::Fit),
            column("What", CellAlign::Start, Width::Share(2)),
            column("In the place of", CellAlign::Start, Width::Fit),
            column("Steps", CellAlign::End, Width::Fit),
        ];
        let rows = review.counterparts.iter().map(|c| {
            row(vec![text_cell(&c.to), text_cell(&c.title), text_cell(&c.from), text_cell(c.steps.to_string())])
        });
        blocks.push(table(columns, rows.collect()));
    }
    for section in &review.sections {
        blocks.push(heading(2, &section.title));
        let named = |s: &StepMark| format!("{} {}", s.number, s.title);
        for step in &section.steps {
            let because = || step.why.iter().map(|why| paragraph(format!("Because of {why}")));
            match &step.standing {
                StepStanding::OnlyInSource => {
                    blocks.push(heading(3, &format!("Only in {}: {}", change.from, named(&step.step))));
                    blocks.extend(because());
                }
                StepStanding::OnlyInTarget => {
                    blocks.push(heading(3, &format!("Only in {}: {}", change.to, named(&step.step))));
                    blocks.extend(because());
                }
                StepStanding::Differs(changes) => {
                    blocks.push(heading(3, &named(&step.step)));
                    blocks.extend(because());
                    blocks.push(items(changes));
                }
                StepStanding::OtherParts(_) => {}
            }
        }
        let alike = section.steps.iter().filter_map(|step| {
            let parts = step.standing.other_parts()?;
            Some(row(vec![text_cell(named(&step.step)), text_cell(parts)]))
        });
        let alike: Vec<TableRow> = alike.collect();
        if !alike.is_empty() {
            blocks.push(heading(3, "The same work with other parts"));
            let columns = vec![naming("Step", Width::Share(3)), column("Parts", CellAlign::Start, Width::Share(2))];
            blocks.push(table(columns, alike));
        }
        if section.same > 0 {
            blocks.push(paragraph(format!("Steps that are the same: {}.", section.same)));
        }
    }
    blocks
}

fn steps(change: &Change) -> Vec<Block> {
    if let Some(review) = &change.review {
        let mut blocks = marks("Steps in another place", &change.moved);
        blocks.extend(reviewed(change, review));
        return blocks;
    }
    let mut blocks = marks("Steps added", &change.added);
    blocks.extend(marks("Steps removed", &change.removed));
    blocks.extend(marks("Steps in another place", &change.moved));
    if !change.renamed.is_empty() {
        blocks.push(heading(2, "Perhaps the same step under a new id"));
        let columns = vec![
            naming("Was", Width::Share(1)),
            column("Is", CellAlign::Start, Width::Share(1)),
            column("Alike", CellAlign::End, Width::Fit),
        ];
        let rows = change.renamed.iter().map(|r| {
            row(vec![text_cell(r.from.id.as_str()), text_cell(r.to.id.as_str()), text_cell(format!("{} %", r.alike))])
        });
        blocks.push(table(columns, rows.collect()));
    }
    if !change.split.is_empty() {
        blocks.push(heading(2, "Steps split off from others"));
        let columns =
            vec![naming("Step", Width::Share(1)), column("Was a piece of", CellAlign::Start, Width::Share(1))];
        let words = |s: &StepMark| text_cell(format!("{} {}", s.number, s.title));
        blocks.push(table(columns, change.split.iter().map(|s| row(vec![words(&s.to), words(&s.from)])).collect()));
    }
    if !change.changed.is_empty() {
        blocks.push(heading(2, "Steps changed"));
        for step in &change.changed {
            blocks.push(heading(3, &format!("{} {}", step.step.number, step.step.title)));
            blocks.push(items(&step.items));
        }
    }
    blocks
}

/// What changed, item by item.
pub(super) fn items(items: &[ItemChange]) -> Block {
    let columns = vec![naming("What", Width::Share(2)), column("Change", CellAlign::Start, Width::Share(5))];
    let rows = items.iter().map(|i| row(vec![text_cell(what(i)), cell(words(i))])).collect();
    table(columns, rows)
}

fn what(item: &ItemChange) -> String {
    let field = match item.field.as_str() {
        "text" => "Text".to_owned(),
        "picture" => "Figure".to_owned(),
        other => {
            let words = spoken(other);
            words[..1].to_uppercase() + &words[1..]
        }
    };
    if item.name.is_empty() { field } else { format!("{field} {}", item.name) }
}

/// Words taken out in brackets, words put in bold; so they are told apart in grey too. No minus: before a measure it is
/// one of its own.
fn words(item: &ItemChange) -> Inlines {
    match (&item.before, &item.after) {
        (None, Some(_)) if item.field == "picture" => vec![Inline::strong("added")],
        (Some(_), None) if item.field == "picture" => vec![Inline::text("removed")],
        (None, Some(after)) if after.is_empty() => vec![Inline::strong("added")],
        (Some(before), None) if before.is_empty() => vec![Inline::text("removed")],
        (None, Some(after)) => vec![Inline::text("added: "), Inline::strong(after)],
        (Some(before), None) => vec![Inline::text(format!("[was: {before}]"))],
        (Some(_), Some(_)) if item.field == "picture" => vec![Inline::text("replaced")],
        // What names a callout and where it lies says nothing to a reader, what it shows now does.
        _ if item.field == "figures" => marked(&item.words(), false),
        _ => marked(&item.words(), true),
    }
}

/// With what stays the same around it, or without: then a semicolon between two changes.
fn marked(words: &[Edit<String>], whole: bool) -> Inlines {
    let mut out = Inlines::new();
    let mut at = 0;
    let mut apart = false;
    while at < words.len() {
        let kind = std::mem::discriminant(&words[at]);
        let run: Vec<&str> = words[at..]
            .iter()
            .take_while(|e| std::mem::discriminant(*e) == kind)
            .map(|e| match e {
                Edit::Same(w) | Edit::Removed(w) | Edit::Added(w) => w.as_str(),
            })
            .collect();
        let same = matches!(words[at], Edit::Same(_));
        let text = run.join(" ");
        let text = if whole {
            text.as_str()
        } else {
            text.trim_matches(|c: char| c == '(' || c == ')' || c == ',' || c == ' ')
        };
        let shown = match words[at] {
            Edit::Same(_) => Inline::text(text),
            Edit::Removed(_) => Inline::text(format!("[was: {text}]")),
            Edit::Added(_) => Inline::strong(text),
        };
        if whole || !same {
            if !out.is_empty() {
                out.push(Inline::text(if apart { "; " } else { " " }));
            }
            out.push(shown);
        }
        apart = same && !whole;
        at += run.len();
    }
    out
}

/// Names with their quantities before and after.
pub(super) fn quantities(name: &str, list: &[Quantities]) -> Block {
    let columns = vec![
        naming(name, Width::Fit),
        column("What it is", CellAlign::Start, Width::Share(3)),
        column("Before", CellAlign::End, Width::Fit),
        column("After", CellAlign::End, Width::Fit),
    ];
    let quantity = |q: Option<Quantity>| q.map_or_else(|| text_cell("none"), |q| cell(vec![Inline::Quantity(q)]));
    let rows =
        list.iter().map(|q| row(vec![text_cell(&q.name), text_cell(&q.title), quantity(q.before), quantity(q.after)]));
    table(columns, rows.collect())
}

fn rows(name: &str, list: &[ListRow]) -> Block {
    let columns = vec![
        naming(name, Width::Fit),
        column("Column", CellAlign::Start, Width::Share(1)),
        column("Before", CellAlign::Start, Width::Share(2)),
        column("After", CellAlign::Start, Width::Share(2)),
    ];
    let rows = list.iter().flat_map(|r| {
        r.cells.iter().map(|(column, before, after)| {
            row(vec![text_cell(&r.name), text_cell(column), text_cell(before), text_cell(after)])
        })
    });
    table(columns, rows.collect())
}

fn lists(change: &Change) -> Vec<Block> {
    let mut blocks = Vec::new();
    if !change.renumbered.is_empty() {
        let columns = vec![
            naming("Was", Width::Fit),
            column("Is", CellAlign::Start, Width::Fit),
            column("Name", CellAlign::Start, Width::Share(1)),
        ];
        let rows =
            change.renumbered.iter().map(|r| row(vec![text_cell(&r.from), text_cell(&r.to), text_cell(&r.title)]));
        blocks.extend([heading(2, "Parts renumbered"), table(columns, rows.collect())]);
    }
    for (title, name, list) in [("Parts", "Part", &change.parts), ("Hardware", "Hardware", &change.hardware)] {
        if !list.is_empty() {
            blocks.extend([heading(2, title), quantities(name, list)]);
        }
    }
    for (title, name, list) in [
        ("Parts with a new description", "Part", &change.part_rows),
        ("Hardware with a new description", "Hardware", &change.hardware_rows),
        ("Stock with a new description", "Stock", &change.stock_rows),
    ] {
        if !list.is_empty() {
            blocks.extend([heading(2, title), rows(name, list)]);
        }
    }
    if !change.redo.is_empty() {
        blocks.extend([heading(2, "Cuts and templates to do again"), redo(&change.redo)]);
    }
    for (title, list) in
        [("Tools needed in addition", &change.tools_added), ("Tools no longer needed", &change.tools_removed)]
    {
        if !list.is_empty() {
            blocks.extend([heading(2, title), paragraph(list.join("; "))]);
        }
    }
    blocks
}

fn redo(list: &[Redo]) -> Block {
    let columns = vec![
        naming("Part", Width::Fit),
        column("End", CellAlign::Start, Width::Fit),
        column("Cut", CellAlign::Start, Width::Share(2)),
        column("Step", CellAlign::Start, Width::Share(2)),
    ];
    let rows = list.iter().map(|r| {
        row(vec![text_cell(r.part.as_str()), text_cell(&r.end), text_cell(&r.cut), text_cell(r.step.as_str())])
    });
    table(columns, rows.collect())
}

fn around(change: &Change) -> Vec<Block> {
    let mut blocks = Vec::new();
    for (page, list) in &change.pages {
        let words = spoken(page);
        blocks.extend([heading(2, &(words[..1].to_uppercase() + &words[1..])), items(list)]);
    }
    if !change.settings.is_empty() {
        blocks.extend([heading(2, "Settings"), items(&change.settings)]);
    }
    blocks
}
