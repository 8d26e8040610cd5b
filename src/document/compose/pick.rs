//! Pick lists: what each step takes from the bins, as rows and as cards.

use std::collections::BTreeMap;

use super::around::subheading;
use super::tables::{cell, column, hand_column, naming, out_already, quantity_column, text_cell};
use super::{block, card_anchor, leaf, meta_edition, name, paragraph, step_number, totals_anchor};
use crate::document::block::{BlockKind, Origin};
use crate::document::inline::Inline;
use crate::document::leaf::{Document, Leaf, LeafRole, Purpose};
use crate::document::pick_row::{PickKind, PickRow};
use crate::document::table::{CellAlign, Table, TableRole, TableRow, Width};
use crate::document::{Bars, Edition, LiesIn};
use crate::model::{HardwareAction, Joint, Manual, StepItem};
use crate::resolve::{Resolved, ResolvedSection, ResolvedStep};
use crate::units::{Designation, Quantity, Rational, StepId, natural_cmp};

/// Every row, in the order of the steps; inside a step by bin, then in natural order of designations.
pub fn pick_rows(manual: &Manual, resolved: &Resolved) -> Vec<PickRow> {
    let mut by_step: BTreeMap<&str, Vec<PickRow>> = BTreeMap::new();
    for (number, account) in resolved.ledger.parts.iter().filter(|(_, a)| !a.piece) {
        let own = number;
        let Some((number, part, item)) = super::replaced::part(manual, number) else { continue };
        for pull in &account.pulled {
            let (quantity, owed) = there(resolved, &pull.step, own.as_str(), Quantity::each(pull.count));
            let row = PickRow {
                step: pull.step.to_string(),
                number: pull.number.to_string(),
                kind: PickKind::Part,
                item: item.clone(),
                designation: number.to_string(),
                quantity,
                owed,
                in_place_of: in_place_of(resolved, &pull.step, own.as_str()),
                hand: part.hand,
                bin: part.bin.clone(),
                bag: part.bag.clone(),
                crate_: part.crate_.clone(),
                goes_with: Vec::new(),
            };
            add(by_step.entry(pull.step.as_str()).or_default(), row);
        }
    }
    let steps: BTreeMap<&StepId, &ResolvedStep> = resolved.steps.iter().map(|s| (&s.step.id.value, s)).collect();
    for (designation, account) in &resolved.ledger.hardware {
        let own = designation;
        let (designation, h, name) = super::replaced::hardware(manual, designation);
        let get = |f: fn(&crate::model::Hardware) -> &String| h.map_or_else(String::new, |h| f(h).clone());
        for (step, number, quantity) in &account.taken {
            let (there, owed) = there(resolved, step, own.as_str(), *quantity);
            let row = PickRow {
                step: step.to_string(),
                number: number.to_string(),
                kind: PickKind::Hardware,
                item: name.clone(),
                designation: designation.to_string(),
                quantity: there,
                owed,
                in_place_of: in_place_of(resolved, step, own.as_str()),
                hand: None,
                bin: get(|h| &h.bin),
                bag: get(|h| &h.bag),
                crate_: get(|h| &h.crate_),
                goes_with: companions(steps.get(step), designation, *quantity),
            };
            add(by_step.entry(step.as_str()).or_default(), row);
        }
    }
    let mut rows = Vec::new();
    for s in &resolved.steps {
        if let Some(mut list) = by_step.remove(s.step.id.as_str()) {
            sort(&mut list, LiesIn::Bins);
            rows.extend(list);
        }
    }
    rows
}

/// What of it is there for a step, and what is on back order.
fn there(resolved: &Resolved, step: &StepId, item: &str, taken: Quantity) -> (Quantity, Quantity) {
    let waits = resolved.waits.get(step).into_iter().flatten();
    let owed: Rational = waits.filter(|w| w.item == item).map(|w| w.quantity.value).sum();
    (Quantity { value: taken.value - owed, ..taken }, Quantity { value: owed, ..taken })
}

fn in_place_of(resolved: &Resolved, step: &StepId, item: &str) -> Vec<(String, Rational)> {
    resolved.shipped.in_place_of(step, item).map(|(of, n)| (of.to_owned(), n)).into_iter().collect()
}

/// `Bolt, in place of AN4-15A; 1 on back order`
fn item_words(row: &PickRow) -> String {
    let mut words = row.item.clone();
    for (of, n) in &row.in_place_of {
        words.push_str(&format!(", {}", super::kit::in_place_of(of, *n, row.quantity.value)));
    }
    if *row.owed.value.numer() > 0 {
        words.push_str(&format!("; {} on back order", row.owed));
    }
    words
}

/// The fasteners of a step that a washer, nut or pin goes with, and how many of those it takes out go with each.
fn companions(s: Option<&&ResolvedStep>, item: &Designation, taken: Quantity) -> Vec<(String, i64)> {
    let Some(s) = s else { return Vec::new() };
    let mut left = taken.value.to_integer();
    let mut with: Vec<(String, i64)> = Vec::new();
    let fitted = |j: &&StepItem<Joint>| matches!(j.action, HardwareAction::Fit | HardwareAction::FitTemporarily);
    for joint in s.step.joints.iter().filter(fitted) {
        let washers = joint.under_head.iter().chain(&joint.under_nut).map(|(w, n)| (w, *n));
        let others = joint.nut.iter().chain(&joint.pin).map(|d| (d, 1));
        let each: i64 = washers.chain(others).filter(|(d, _)| d.value == *item).map(|(_, n)| n).sum();
        // What is taken may be less: some may be out of the bag already.
        let n = (each * joint.places).min(left);
        if n <= 0 {
            continue;
        }
        left -= n;
        match with.iter_mut().find(|(f, _)| f == joint.fastener.as_str()) {
            Some((_, sum)) => *sum += n,
            None => with.push((joint.fastener.value.to_string(), n)),
        }
    }
    with
}

/// Adds a row, or its quantity to the row of the same item.
fn add(rows: &mut Vec<PickRow>, row: PickRow) {
    let same = |r: &&mut PickRow| {
        r.kind == row.kind && r.designation == row.designation && r.quantity.unit == row.quantity.unit
    };
    match rows.iter_mut().find(same) {
        Some(first) => {
            first.quantity.value += row.quantity.value;
            first.owed.value += row.owed.value;
            for (of, n) in row.in_place_of {
                match first.in_place_of.iter_mut().find(|(known, _)| *known == of) {
                    Some((_, sum)) => *sum += n,
                    None => first.in_place_of.push((of, n)),
                }
            }
            first.goes_with.extend(row.goes_with);
        }
        None => rows.push(row),
    }
}

fn sort(rows: &mut [PickRow], lies_in: LiesIn) {
    rows.sort_by(|a, b| {
        let place = match lies_in {
            LiesIn::Bins => natural_cmp(&a.bin, &b.bin),
            LiesIn::Bags => natural_cmp(&a.crate_, &b.crate_).then_with(|| natural_cmp(&a.bag, &b.bag)),
        };
        place.then(a.kind.cmp(&b.kind)).then_with(|| natural_cmp(&a.designation, &b.designation))
    });
}

/// Where a thing lies, as a subheading says it.
fn place_words(row: &PickRow, lies_in: LiesIn) -> String {
    match lies_in {
        LiesIn::Bins if row.bin.is_empty() => "No bin given".to_owned(),
        LiesIn::Bins => format!("Bin {}", row.bin),
        LiesIn::Bags => super::receiving::place_words(&row.crate_, &row.bag),
    }
}

/// The pick lists as cards, a card a step, with a sheet of totals behind each section.
pub fn pick_lists(manual: &Manual, resolved: &Resolved) -> Document {
    pick_lists_edition(manual, resolved, &Edition::default())
}

/// The same, with what they say of their own state. Cards carry no change bars.
pub fn pick_lists_edition(manual: &Manual, resolved: &Resolved, edition: &Edition) -> Document {
    let mut by_step: BTreeMap<String, Vec<PickRow>> = BTreeMap::new();
    for row in pick_rows(manual, resolved) {
        by_step.entry(row.step.clone()).or_default().push(row);
    }
    let mut leaves = Vec::new();
    for section in &resolved.sections {
        let mut totals: Vec<PickRow> = Vec::new();
        let mut nothing: Vec<&ResolvedStep> = Vec::new();
        let mut cards = Vec::new();
        for s in &resolved.steps[section.steps.clone()] {
            match by_step.remove(s.step.id.as_str()) {
                Some(mut rows) => {
                    sort(&mut rows, edition.lies_in);
                    cards.push(card(manual, resolved, section, s, &rows, edition.lies_in));
                    rows.into_iter().for_each(|row| add(&mut totals, row));
                }
                None => nothing.push(s),
            }
        }
        if totals.is_empty() {
            continue;
        }
        sort(&mut totals, edition.lies_in);
        leaves.extend(cards);
        leaves.push(section_totals(section, &totals, &nothing, edition.lies_in));
    }
    Document {
        purpose: Purpose::PickLists,
        name: name(Purpose::PickLists).into(),
        meta: meta_edition(manual, resolved, edition),
        leaves,
        bars: Bars::default(),
    }
}

fn card(
    manual: &Manual,
    resolved: &Resolved,
    section: &ResolvedSection,
    s: &ResolvedStep,
    rows: &[PickRow],
    lies_in: LiesIn,
) -> Leaf {
    let mut blocks = vec![block(BlockKind::Table(table(&under_their_bolts(rows), lies_in)))];
    // Or a card with four bolts for seven places looks wrong, and more are pulled.
    let out = s.hardware.iter().filter_map(|need| Some((need, out_already(resolved, s, need)?)));
    let out: Vec<String> =
        out.map(|(need, n)| format!("{n} × {}", super::replaced::hardware(manual, &need.designation).0)).collect();
    if !out.is_empty() {
        blocks.push(paragraph(format!(
            "The step also uses what is out already since earlier steps: {}.",
            out.join(", ")
        )));
    }
    Leaf {
        anchor: card_anchor(&s.step.id.value),
        role: LeafRole::Card,
        number: Some(s.number.to_string().into()),
        title: vec![Inline::text(&s.step.title.value)],
        parent: Some(totals_anchor(section)),
        blocks,
    }
}

/// Rows with washers, nuts and pins below the fastener they go with, where it is pulled too; what is over stands by
/// itself.
fn under_their_bolts(rows: &[PickRow]) -> Vec<PickLine> {
    let pulled = |fastener: &str| rows.iter().any(|r| r.designation == fastener && r.goes_with.is_empty());
    let mut lines = Vec::new();
    for row in rows {
        let with: i64 = row.goes_with.iter().filter(|(f, _)| pulled(f)).map(|(_, n)| n).sum();
        let over = (row.quantity.value - Rational::from_integer(with)).max(Rational::from_integer(0));
        let over = Quantity { value: over, ..row.quantity };
        if *over.value.numer() > 0 || *row.owed.value.numer() > 0 {
            lines.push(PickLine { row: PickRow { quantity: over, ..row.clone() }, below: false });
        }
        for other in rows {
            let n: i64 =
                other.goes_with.iter().filter(|(f, _)| *f == row.designation && pulled(f)).map(|(_, n)| n).sum();
            if n > 0 {
                lines.push(PickLine {
                    row: PickRow { quantity: Quantity::each(n), owed: Quantity::each(0), ..other.clone() },
                    below: true,
                });
            }
        }
    }
    lines
}

/// A row of a card.
struct PickLine {
    row: PickRow,
    /// It stands below the fastener it goes with, whatever its bin.
    below: bool,
}

fn section_totals(section: &ResolvedSection, totals: &[PickRow], nothing: &[&ResolvedStep], lies_in: LiesIn) -> Leaf {
    let lines: Vec<PickLine> = totals.iter().map(|row| PickLine { row: row.clone(), below: false }).collect();
    let mut blocks = vec![
        paragraph("What is on the cards of this section, added up. Pull by the cards or by this sheet, not by both."),
        block(BlockKind::Table(table(&lines, lies_in))),
    ];
    if !nothing.is_empty() {
        let mut words = vec![Inline::text("Nothing to pull for ")];
        for (i, s) in nothing.iter().enumerate() {
            words.extend([Inline::text(if i > 0 { ", " } else { "" }), step_number(s)]);
        }
        words.push(Inline::text("."));
        blocks.push(block(BlockKind::Paragraph(words)));
    }
    Leaf {
        anchor: totals_anchor(section),
        number: Some(section.number.to_string().into()),
        ..leaf("totals", LeafRole::Section, &format!("{}: totals", section.title), blocks)
    }
}

/// Rows grouped by where they lie.
fn table(lines: &[PickLine], lies_in: LiesIn) -> Table {
    let columns = vec![
        column("", CellAlign::Center, Width::Fit),
        naming("Number", Width::Fit),
        column("Item", CellAlign::Start, Width::Share(3)),
        quantity_column(),
        hand_column(),
        column("Bag", CellAlign::Start, Width::Fit),
        column("Crate", CellAlign::Start, Width::Fit),
    ];
    let mut out = Vec::new();
    let mut place = String::new();
    for PickLine { row, below } in lines {
        let here = place_words(row, lies_in);
        if !below && place != here {
            out.push(subheading(vec![Inline::strong(&here)], columns.len()));
            place = here;
        }
        out.push(TableRow {
            cells: vec![
                cell(vec![Inline::TickBox]),
                text_cell(if *below { format!("+ {}", row.designation) } else { row.designation.clone() }),
                text_cell(match (below, if lies_in == LiesIn::Bins { row.bin.as_str() } else { "" }) {
                    (true, "") => format!("{}, with it", item_words(row)),
                    (true, bin) => format!("{}, with it: bin {bin}", item_words(row)),
                    (false, _) => item_words(row),
                }),
                cell(vec![Inline::Quantity(row.quantity)]),
                cell(row.hand.map(Inline::Hand).into_iter().collect()),
                text_cell(&row.bag),
                text_cell(&row.crate_),
            ],
            anchor: None,
            origin: Origin { step: Some(row.step.as_str().into()), field: "parts", item: 0 },
        });
    }
    Table { role: TableRole::PickList, caption: Vec::new(), columns, rows: out }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::plain_text;
    use crate::source::Memory;
    use crate::units::UnitStyle;

    /// Three bolts go in for a trial and come off; of seven for good four are pulled, and the card says where the other
    /// three are.
    #[test]
    fn a_card_tells_what_is_out_already() {
        let mut files = Memory::new();
        files
            .insert("manual.yaml", "title: T\nvariants:\n  A: { title: A }\nsections:\n  - { section: s, title: S }\n");
        files.insert("parts.csv", "number,name,A\n");
        files.insert("hardware.csv", "designation,name,kind,bin\nAN4-17A,Bolt,bolt,H1\n");
        let step =
            |id: &str, list: &str| format!("---\nstep: {id}\ntitle: T\nsection: s\nhardware:\n{list}---\n\nText.\n");
        let row = |n, what: &str| format!("  - {{ hardware: AN4-17A, quantity: {n}{what} }}\n");
        files.insert("steps/1.md", step("trial", &row(3, ", do: fit temporarily")));
        files.insert("steps/2.md", step("strip", &row(3, ", do: remove")));
        files.insert("steps/3.md", step("good", &row(7, "")));
        let manual = crate::model::read(&files).expect("memory can be listed").manual.expect("a manual");
        let resolved = crate::resolve::resolve(&manual, &crate::resolve::configurations(&manual)[0]);
        let rows = pick_rows(&manual, &resolved);
        assert_eq!(rows.iter().map(|r| r.quantity.to_string()).collect::<Vec<_>>(), ["3", "4"]);
        let lists = pick_lists(&manual, &resolved);
        let said = |leaf: &Leaf| -> Vec<String> {
            let paragraph = |b: &crate::document::Block| match &b.kind {
                BlockKind::Paragraph(text) => Some(plain_text(text, UnitStyle::InchFraction)),
                _ => None,
            };
            leaf.blocks.iter().filter_map(paragraph).collect()
        };
        assert!(said(&lists.leaves[0]).is_empty(), "nothing is out yet");
        assert_eq!(
            said(&lists.leaves[1]),
            ["The step also uses what is out already since earlier steps: 3 \u{d7} AN4-17A."]
        );
    }
}
