//! `parts.csv`, `hardware.csv`, `stock.csv`.

use std::collections::BTreeMap;

use indexmap::IndexMap;

use super::fields::{DRILL, LENGTH, WEIGHT, value};
use super::tables::Columns;
use crate::diag::{Diagnostic, Sink, did_you_mean, nearest};
use crate::model::hardware::{Hardware, HardwareKind, Stock, StockShape};
use crate::model::part::{Interchange, Interchangeable, MadeBy, Part, QuantityCell, Supplied, WhenRemoved};
use crate::model::schema::{HARDWARE_ROWS, PART_ROWS, STOCK_ROWS};
use crate::model::settings::Settings;
use crate::source::Spanned;
use crate::syntax::{SourceRow, SourceTable};
use crate::trade::{Class, Drill, ItemForm, NutForm};
use crate::units::{
    Designation, Hand, Length, Measure, MeasureUnit, PartNumber, Quantity, StockId, Unit, UnreadableNumber, Weight,
    shortened, spreadsheet_date,
};

pub(super) fn parts(table: &SourceTable, settings: &Settings, sink: &mut Sink) -> IndexMap<PartNumber, Part> {
    let mut extra: Vec<String> = settings.variants.keys().map(ToString::to_string).collect();
    extra.extend(settings.options.keys().flat_map(|o| [o.to_string(), format!("+{o}")]));
    let columns = Columns::new(table, &PART_ROWS, &extra, sink);
    let mut parts: IndexMap<PartNumber, Part> = IndexMap::new();
    for row in columns.rows() {
        let Some(number) = columns.filled(row, "number") else {
            missing(row, "number", sink);
            continue;
        };
        let made = spreadsheet_date(&number.value)
            .then_some("a date")
            .or_else(|| shortened(&number.value).then_some("a shortened number"));
        if let Some(made) = made {
            sink.push(
                Diagnostic::warning("number-as-value", format!("the number `{}` looks like {made} that a spreadsheet made", number.value))
                    .at(number.span, "perhaps not what was typed")
                    .help("format the column as text, then write the number again; a number that is meant so needs another form")
                    .about(&number.value),
            );
        }
        let number = number.clone().map(PartNumber::new);
        if let Some(first) = parts.get(&number.value) {
            duplicate("part", number.as_str(), number.span, first.number.span, sink);
            continue;
        }
        let part = part(&columns, row, number, settings, sink);
        parts.insert(part.number.value.clone(), part);
    }
    parts
}

fn part<'a>(
    c: &Columns<'a>,
    row: &'a SourceRow,
    number: Spanned<PartNumber>,
    settings: &Settings,
    sink: &mut Sink,
) -> Part {
    let hand = c.filled(row, "hand").and_then(|cell| match cell.value.to_lowercase().as_str() {
        "left" | "l" => Some(Hand::Left),
        "right" | "r" => Some(Hand::Right),
        "none" | "-" => None,
        _ => {
            unknown_word(cell, "hand", &["left", "right"], sink);
            None
        }
    });
    let made_by = c.filled(row, "made by").and_then(|cell| match cell.value.to_lowercase().as_str() {
        "maker" => Some(MadeBy::Maker),
        "builder" => Some(MadeBy::Builder),
        "bought" => Some(MadeBy::Bought),
        _ => {
            unknown_word(cell, "made by", &["maker", "builder", "bought"], sink);
            None
        }
    });
    let when_removed = c.filled(row, "when removed").and_then(|cell| {
        let word = WhenRemoved::from_word(&cell.value);
        if word.is_none() {
            unknown_word(cell, "when removed", &["keep", "return", "scrap"], sink);
        }
        word
    });
    let when_removed = when_removed.unwrap_or(WhenRemoved::Keep);
    let (supplied, blank) = c.filled(row, "as supplied").map(|cell| supplied(cell, sink)).unwrap_or_default();
    let blank_length = c.value(row, "blank length", LENGTH, Length::parse, sink);
    let two = blank_length.as_ref().zip(blank.as_ref()).filter(|(column, said)| column.value != said.value);
    if let Some((column, said)) = &two {
        sink.push(
            Diagnostic::error("two-lengths", format!("the blank of {} has two lengths", number.value))
                .at(column.span, "not the length of the column as supplied")
                .note(said.span, "as supplied")
                .help("correct one of the two cells, or empty this one")
                .about(&number.value),
        );
    }
    // Which of two is right nobody knows.
    let blank_length = if two.is_some() { None } else { blank_length.or(blank) };
    let mut variants = BTreeMap::new();
    for name in settings.variants.keys() {
        if let Some(cell) = c.named(row, name.as_str())
            && let Some(count) = whole(cell, "0 for none", sink)
        {
            if count < 0 {
                negative(cell, sink);
            } else {
                variants.insert(name.clone(), QuantityCell { count, span: cell.span });
            }
        }
    }
    let mut options = BTreeMap::new();
    for name in settings.options.keys() {
        if let Some(cell) = c.named(row, name.as_str())
            && let Some(count) = whole(cell, "with a minus for what the option takes away", sink)
        {
            options.insert(name.clone(), QuantityCell { count, span: cell.span });
        }
    }
    Part {
        name: c.text(row, "name"),
        hand,
        hand_span: c.filled(row, "hand").map(|cell| cell.span),
        opposite: c.filled(row, "opposite").map(|t| t.clone().map(PartNumber::new)),
        material: c.text(row, "material"),
        stock: c.filled(row, "stock").map(|t| t.clone().map(StockId::new)),
        cut_length: c.value(row, "cut length", LENGTH, positive_length, sink),
        blank_length,
        supplied,
        variants,
        options,
        bin: c.text(row, "bin"),
        crate_: c.text(row, "crate"),
        bag: c.text(row, "bag"),
        area: c.text(row, "area"),
        finish: c.text(row, "finish"),
        weight: c.value(row, "weight", WEIGHT, Weight::parse, sink).map(|w| w.value),
        made_by: made_by.unwrap_or_default(),
        cut_from: c.filled(row, "cut from").map(|t| t.clone().map(PartNumber::new)),
        replaced_by: c.filled(row, "replaced by").map(|t| t.clone().map(PartNumber::new)),
        interchangeable: c.filled(row, "interchangeable").and_then(|cell| interchangeable(cell, sink)),
        when_removed,
        called: c.filled(row, "called").cloned(),
        note: c.text(row, "note"),
        span: row.span,
        number,
    }
}

/// Reads `both ways since B`.
fn interchangeable(cell: &Spanned<String>, sink: &mut Sink) -> Option<Spanned<Interchangeable>> {
    let read = cell.value.rsplit_once(" since ").and_then(|(how, letter)| {
        let since = letter.trim().to_owned();
        Some(Interchangeable { how: Interchange::from_word(how)?, since }).filter(|i| !i.since.is_empty())
    });
    if read.is_none() {
        sink.push(
            Diagnostic::error("unreadable-value", format!("`{}` does not say what is interchangeable", cell.value))
                .at(cell.span, "can't be read")
                .help("write `both ways since B` or `new for old since B`, with the letter of the release that shipped the other one"),
        );
    }
    read.map(|i| Spanned::new(i, cell.span))
}

pub(super) fn positive_length(text: &str) -> Result<Length, crate::units::UnreadableNumber> {
    let length = Length::parse(text)?;
    if length > Length::ZERO {
        Ok(length)
    } else {
        Err(crate::units::UnreadableNumber(format!("`{}` is not a length above zero", text.trim())))
    }
}

/// Reads `cut; blank 48 in; pilot holes A, B; holes C`.
fn supplied(cell: &Spanned<String>, sink: &mut Sink) -> (Supplied, Option<Spanned<Length>>) {
    let mut supplied = Supplied { span: Some(cell.span), ..Supplied::default() };
    let mut blank = None;
    let names = |list: &str| list.split(',').map(|n| n.trim().to_owned()).filter(|n| !n.is_empty()).collect::<Vec<_>>();
    for item in cell.value.split(';').map(str::trim).filter(|i| !i.is_empty()) {
        let lower = item.to_lowercase();
        match lower.as_str() {
            "cut" => supplied.cut = true,
            "finished" => supplied.finished = true,
            "assembled" => supplied.assembled = true,
            "no holes" => supplied.no_holes = true,
            "uncut" => {}
            _ => {
                if let Some(length) = lower.strip_prefix("blank ") {
                    let length = Spanned::new(length.to_owned(), cell.span);
                    blank = value(&length, LENGTH, positive_length, sink).map(|l| Spanned::new(l, cell.span));
                } else if lower.starts_with("pilot holes ") {
                    supplied.pilot_holes.extend(names(&item["pilot holes ".len()..]));
                } else if lower.starts_with("holes ") {
                    supplied.holes.extend(names(&item["holes ".len()..]));
                } else {
                    let words = ["cut", "uncut", "blank", "pilot holes", "holes", "no holes", "finished", "assembled"];
                    unknown_word(&Spanned::new(item.to_owned(), cell.span), "as supplied", &words, sink);
                }
            }
        }
    }
    (supplied, blank)
}

/// A whole number, signed.
fn whole(cell: &Spanned<String>, more: &str, sink: &mut Sink) -> Option<i64> {
    let form = format!("write a whole number of pieces, {more}");
    let quantity = value(cell, &form, Quantity::parse, sink)?;
    if quantity.unit != Unit::Each || quantity.value.numer().abs() > 100_000 {
        sink.push(
            Diagnostic::error("bad-count", format!("`{}` is not a count", cell.value))
                .at(cell.span, "not a count")
                .help(form),
        );
        return None;
    }
    Some(*quantity.value.numer())
}

/// A property class; whether it is a screw's or a nut's, the item tells.
fn class(text: &str) -> Result<String, UnreadableNumber> {
    let known =
        [ItemForm::Bolt, ItemForm::Nut(NutForm::Plain)].into_iter().any(|form| Class::read(text, form).is_some());
    known
        .then(|| text.trim().to_owned())
        .ok_or_else(|| UnreadableNumber(format!("`{}` is not a property class", text.trim())))
}

/// A force above zero.
fn force(text: &str) -> Result<Measure, UnreadableNumber> {
    Measure::parse(text)
        .ok()
        .filter(|m| matches!(m.unit, MeasureUnit::Newton | MeasureUnit::PoundForce) && *m.value.numer() > 0)
        .ok_or_else(|| UnreadableNumber(format!("`{}` is not a force", text.trim())))
}

pub(super) fn hardware(table: &SourceTable, sink: &mut Sink) -> IndexMap<Designation, Hardware> {
    let c = Columns::new(table, &HARDWARE_ROWS, &[], sink);
    let mut hardware: IndexMap<Designation, Hardware> = IndexMap::new();
    for row in c.rows() {
        let Some(designation) = c.filled(row, "designation") else {
            missing(row, "designation", sink);
            continue;
        };
        let designation = designation.clone().map(Designation::new);
        if let Some(first) = hardware.get(&designation.value) {
            duplicate("item of hardware", designation.as_str(), designation.span, first.designation.span, sink);
            continue;
        }
        let kind = c.filled(row, "kind").and_then(|cell| {
            let kind = HardwareKind::from_word(&cell.value);
            if kind.is_none() {
                let words: Vec<_> = HardwareKind::ALL.iter().map(|k| k.word()).collect();
                unknown_word(cell, "kind", &words, sink);
            }
            kind
        });
        let one_use = c.filled(row, "one use").and_then(|cell| match cell.value.to_lowercase().as_str() {
            "yes" => Some(true),
            "no" => Some(false),
            _ => {
                unknown_word(cell, "one use", &["yes", "no"], sink);
                None
            }
        });
        let kind = kind.unwrap_or(HardwareKind::Other);
        let unit = c
            .value(row, "unit", "write each, ft, lb, m, m2, kg, g, litre or ml", Unit::parse, sink)
            .map_or(Unit::Each, |u| u.value);
        let item = Hardware {
            name: c.text(row, "name"),
            kind,
            unit,
            bin: c.text(row, "bin"),
            bag: c.text(row, "bag"),
            crate_: c.text(row, "crate"),
            thread: told(&c.text(row, "thread")).0.to_owned(),
            diameter: c.value(row, "diameter", LENGTH, |t| positive_length(told(t).0), sink),
            length: c.value(row, "length", LENGTH, |t| positive_length(told(t).0), sink),
            grip: c.value(row, "grip", LENGTH, |t| Length::parse(told(t).0), sink),
            least_grip: c.value(row, "least grip", LENGTH, |t| Length::parse(told(t).0), sink),
            thickness: c.value(row, "thickness", LENGTH, |t| positive_length(told(t).0), sink),
            height: c.value(row, "height", LENGTH, |t| positive_length(told(t).0), sink),
            hole: c.value(row, "hole", DRILL, |t| Drill::parse(told(t).0), sink),
            reamer: c.value(row, "reamer", DRILL, |t| Drill::parse(told(t).0), sink),
            recalled: MEASURES.into_iter().filter(|name| told(&c.text(row, name)).1).collect(),
            material: c.text(row, "material"),
            class: c.value(row, "class", "write it as it is marked, for example 8.8, 8 or A4-70", class, sink),
            strength: c.value(row, "strength", "write a force, for example `9000 N` or `2000 lb`", force, sink),
            // Cotter pins and safety wire are never used again (FAA AC 43.13-1B, 7-38).
            one_use: one_use.unwrap_or(kind == HardwareKind::CotterPin),
            replaced_by: c.filled(row, "replaced by").map(|t| t.clone().map(Designation::new)),
            note: c.text(row, "note"),
            span: row.span,
            designation,
        };
        hardware.insert(item.designation.value.clone(), item);
    }
    hardware
}

/// The columns of the hardware list whose values may be marked as from memory.
const MEASURES: [&str; 9] =
    ["thread", "diameter", "length", "grip", "least grip", "thickness", "height", "hole", "reamer"];

/// A cell without the mark behind it, and whether it was there: `9/32 (from memory)`.
fn told(text: &str) -> (&str, bool) {
    const MARK: &str = "(from memory)";
    let text = text.trim();
    let at = text.len().saturating_sub(MARK.len());
    match (text.get(..at), text.get(at..)) {
        (Some(value), Some(mark)) if mark.eq_ignore_ascii_case(MARK) => (value.trim_end(), true),
        _ => (text, false),
    }
}

pub(super) fn stock(table: &SourceTable, sink: &mut Sink) -> IndexMap<StockId, Stock> {
    let c = Columns::new(table, &STOCK_ROWS, &[], sink);
    let mut stock: IndexMap<StockId, Stock> = IndexMap::new();
    for row in c.rows() {
        let Some(id) = c.filled(row, "stock") else {
            missing(row, "stock", sink);
            continue;
        };
        let id = id.clone().map(StockId::new);
        if let Some(first) = stock.get(&id.value) {
            duplicate("line of stock", id.as_str(), id.span, first.id.span, sink);
            continue;
        }
        let shape = c.filled(row, "shape").and_then(|cell| {
            let shape = StockShape::from_word(&cell.value);
            if shape.is_none() {
                let words: Vec<_> = StockShape::ALL.iter().map(|k| k.word()).collect();
                unknown_word(cell, "shape", &words, sink);
            }
            shape
        });
        let line = Stock {
            material: c.text(row, "material"),
            shape: shape.unwrap_or(StockShape::Other),
            outside_diameter: c.value(row, "outside diameter", LENGTH, positive_length, sink),
            wall: c.value(row, "wall", LENGTH, positive_length, sink),
            bar_length: c.value(row, "bar length", LENGTH, positive_length, sink),
            cost: c.text(row, "cost"),
            span: row.span,
            id,
        };
        stock.insert(line.id.value.clone(), line);
    }
    stock
}

pub(super) fn missing(row: &SourceRow, column: &str, sink: &mut Sink) {
    sink.push(
        Diagnostic::error("missing-value", format!("row {} has no {column}", row.number))
            .at(row.cells.first().map_or(row.span, |c| c.span), format!("the {column} is missing in this row"))
            .help(format!("fill in the {column}, or delete the row")),
    );
}

fn negative(cell: &Spanned<String>, sink: &mut Sink) {
    sink.push(
        Diagnostic::error("bad-count", format!("`{}` is less than none", cell.value))
            .at(cell.span, "a variant can't have less than none")
            .help("write 0 for none; only an option's column may take away"),
    );
}

fn duplicate(what: &str, name: &str, at: crate::source::Span, first: crate::source::Span, sink: &mut Sink) {
    sink.push(
        Diagnostic::error("duplicate-number", format!("{what} {name} is there twice"))
            .at(at, "the second one, which is not used")
            .note(first, "the first one")
            .help("delete one of the two rows, or give it a number of its own")
            .about(name),
    );
}

pub(super) fn unknown_word(cell: &Spanned<String>, column: &str, words: &[&str], sink: &mut Sink) {
    let all = words.join(", ");
    let help = match nearest(&cell.value, words.iter().copied()) {
        Some(near) => format!("{} The words are {all}", did_you_mean(near)),
        None => format!("write one of: {all}"),
    };
    sink.push(
        Diagnostic::error("unknown-word", format!("`{}` is no word for `{column}`", cell.value))
            .at(cell.span, "not one of the words")
            .help(help),
    );
}
