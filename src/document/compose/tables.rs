//! Tables of a step: parts, hardware, cuts, holes, measures.

use super::{DocumentComposer, block, hardware_anchor, paragraph, part_anchor, row_anchor, spoken, step_anchor};
use crate::document::block::{Block, BlockKind, Origin};
use crate::document::table::{CellAlign, Column, ColumnKind, Table, TableCell, TableRole, TableRow, Width};
use crate::document::{Inline, Inlines, LiesIn, Purpose};
use crate::model::{By, Cut, CutKind, HardwareAction, MeasureUse, Part, PartAction, PartUse, StepItem};
use crate::resolve::{HardwareNeed, Resolved, ResolvedStep};
use crate::units::{MeasureUnit, PartNumber, Quantity, Rational};

pub(super) fn column(title: &str, align: CellAlign, width: Width) -> Column {
    let title = if title.is_empty() { Vec::new() } else { vec![Inline::text(title)] };
    Column { title, align, width, kind: ColumnKind::Plain }
}

pub(super) fn naming(title: &str, width: Width) -> Column {
    Column { kind: ColumnKind::Name, ..column(title, CellAlign::Start, width) }
}

pub(super) fn quantity_column() -> Column {
    Column { kind: ColumnKind::Quantity, ..column("Quantity", CellAlign::End, Width::Fit) }
}

pub(super) fn hand_column() -> Column {
    Column { kind: ColumnKind::Hand, ..column("Hand", CellAlign::Start, Width::Fit) }
}

pub(super) fn cell(content: Inlines) -> TableCell {
    TableCell { content, span: 1 }
}

pub(super) fn text_cell(text: impl AsRef<str>) -> TableCell {
    if text.as_ref().is_empty() { cell(Vec::new()) } else { cell(vec![Inline::text(text)]) }
}

/// Where a thing lies: bag and crate for the builder, bin for the shop.
pub(super) fn where_columns(place: LiesIn) -> Vec<Column> {
    let column = |title| Column { kind: ColumnKind::Place, ..column(title, CellAlign::Start, Width::Fit) };
    match place {
        LiesIn::Bags => vec![column("Bag"), column("Crate")],
        LiesIn::Bins => vec![column("Bin")],
    }
}

pub(super) fn where_cells(place: LiesIn, bag: &str, crate_: &str, bin: &str) -> Vec<TableCell> {
    match place {
        LiesIn::Bags => vec![text_cell(bag), text_cell(crate_)],
        LiesIn::Bins => vec![text_cell(bin)],
    }
}

/// A column of boxes to tick, on the bench only.
fn tick_columns(purpose: Purpose) -> Vec<Column> {
    if purpose == Purpose::Manual { Vec::new() } else { vec![column("", CellAlign::Center, Width::Fit)] }
}

fn tick_cells(purpose: Purpose) -> Vec<TableCell> {
    if purpose == Purpose::Manual { Vec::new() } else { vec![cell(vec![Inline::TickBox])] }
}

/// What the step takes and works on: parts, then assemblies. None where there is neither.
pub(super) fn parts(c: &DocumentComposer, s: &ResolvedStep) -> Option<Table> {
    let step = &s.step;
    if step.parts.is_empty() && step.assemblies.is_empty() {
        return None;
    }
    let rows_of = part_rows(c, s);
    let remarked = rows_of.iter().any(|(_, r)| !r.is_empty()) || !step.assemblies.is_empty();
    let mut columns = tick_columns(c.purpose);
    columns.push(naming("Part", Width::Fit));
    columns.push(column("Name", CellAlign::Start, Width::Share(3)));
    columns.push(quantity_column());
    columns.push(hand_column());
    columns.extend(where_columns(c.place()));
    if remarked {
        columns.push(column("Remark", CellAlign::Start, Width::Share(3)));
    }
    let mut rows = Vec::new();
    for (item, remark) in rows_of {
        let number = &item.part.value;
        let part = c.part(number);
        let from_crate = part.is_some_and(|p| p.cut_from.is_none());
        // What is out already is not looked for in its bag.
        let taken = from_crate && c.fresh.contains_key(&(&step.id.value, number));
        let link = Inline::Link { to: part_anchor(number), content: vec![Inline::text(number.as_str())] };
        let mut cells = tick_cells(c.purpose);
        cells.push(cell(vec![link]));
        cells.push(text_cell(part.map_or("", |p| p.name.as_str())));
        cells.push(cell(vec![Inline::Quantity(Quantity::each(item.quantity))]));
        cells.push(cell(part.and_then(|p| p.hand).map(Inline::Hand).into_iter().collect()));
        let place = part.filter(|_| taken);
        let get = |f: fn(&Part) -> &String| place.map_or("", |p| f(p).as_str());
        cells.extend(where_cells(c.place(), get(|p| &p.bag), get(|p| &p.crate_), get(|p| &p.bin)));
        if remarked {
            cells.push(cell(remark));
        }
        let origin = Origin { step: Some(step.id.value.clone()), field: "parts", item: item.index };
        rows.push(TableRow { cells, anchor: Some(row_anchor(&step.id.value, number.as_str())), origin });
    }
    for item in &step.assemblies {
        let id = &item.assembly.value;
        let mut cells = tick_cells(c.purpose);
        cells.push(text_cell("assembly"));
        cells.push(text_cell(spoken(id.as_str())));
        cells.push(cell(vec![Inline::Quantity(Quantity::each(1))]));
        cells.push(cell(Vec::new()));
        cells.extend(where_cells(c.place(), "", "", ""));
        let mut remark = Inlines::new();
        if let Some(maker) = c.makers.get(id) {
            remark.push(Inline::text("made in step "));
            remark.push(c.step_link(maker));
        }
        push_note(&mut remark, item.note.as_deref());
        cells.push(cell(remark));
        let origin = Origin { step: Some(step.id.value.clone()), field: "parts", item: item.index };
        rows.push(TableRow { cells, anchor: Some(row_anchor(&step.id.value, id.as_str())), origin });
    }
    unique_anchors(&mut rows);
    Some(filled(TableRole::Parts, columns, rows))
}

/// A table without the columns in which no row says anything.
pub(super) fn filled(role: TableRole, columns: Vec<Column>, mut rows: Vec<TableRow>) -> Table {
    let used: Vec<bool> = (0..columns.len()).map(|i| rows.iter().any(|r| !r.cells[i].content.is_empty())).collect();
    let keep = |i: &mut usize| {
        *i += 1;
        used[*i - 1]
    };
    for row in &mut rows {
        let mut i = 0;
        row.cells.retain(|_| keep(&mut i));
    }
    let mut i = 0;
    let columns = columns.into_iter().filter(|_| keep(&mut i)).collect();
    Table { role, caption: Vec::new(), columns, rows }
}

/// What is said once below a table in place of behind every value; the sign stands there.
const FROM_MEMORY: [(&str, &str); 2] = [(" (from memory)", "*"), (" (all from memory)", ", all of it*")];

/// A table, and below it what would else stand in many of its cells.
pub(super) fn gathered(mut table: Table) -> Vec<Block> {
    let mut any = false;
    for inline in table.rows.iter_mut().flat_map(|row| &mut row.cells).flat_map(|cell| &mut cell.content) {
        let Inline::Text(words) = inline else { continue };
        for (long, sign) in FROM_MEMORY {
            if words.contains(long) {
                *words = words.replace(long, sign).into();
                any = true;
            }
        }
    }
    let mut blocks = vec![block(BlockKind::Table(table))];
    blocks.extend(any.then(|| paragraph("* from memory: measure it before you rely on it")));
    blocks
}

/// An anchor names one row: later rows of the same item give it up.
pub(super) fn unique_anchors(rows: &mut [TableRow]) {
    let mut seen = std::collections::BTreeSet::new();
    for row in rows {
        if row.anchor.as_ref().is_some_and(|a| !seen.insert(a.clone())) {
            row.anchor = None;
        }
    }
}

/// The parts of a step as they are listed, with what is remarked: what is finished in the step that takes it stands there once.
fn part_rows<'a>(c: &DocumentComposer, s: &'a ResolvedStep) -> Vec<(&'a StepItem<PartUse>, Inlines)> {
    let mut rows: Vec<(&StepItem<PartUse>, Inlines)> = Vec::new();
    for item in &s.step.parts {
        let remark = part_remark(c, s, &item.value, item.note.as_deref());
        let same = |(other, _): &&mut (&StepItem<PartUse>, Inlines)| {
            other.part.value == item.part.value && other.quantity == item.quantity && other.action == PartAction::Pull
        };
        match rows.iter_mut().find(same).filter(|_| item.action == PartAction::Finish) {
            Some((_, before)) => go_on(before, remark),
            None => rows.push((item, remark)),
        }
    }
    rows
}

/// What is done with a part where it is not simply pulled, the pieces it becomes, the author's note.
fn part_remark(c: &DocumentComposer, s: &ResolvedStep, item: &PartUse, note: Option<&str>) -> Inlines {
    let number = &item.part.value;
    let mut out = Inlines::new();
    let fresh = c.fresh.get(&(&s.step.id.value, number)).copied().unwrap_or(0);
    match item.action {
        PartAction::Pull if fresh == 0 && c.part(number).is_some() => {
            let converted = c.resolved.configuration.from.is_some();
            out.push(Inline::text(if converted { "from your kit" } else { "already out of the crate" }));
        }
        PartAction::Pull => {}
        PartAction::TrialFit => out.push(Inline::text("fit on trial")),
        PartAction::Remove => out.push(Inline::text("take off again")),
        PartAction::Finish => out.push(Inline::text("finish")),
        PartAction::Refit => out.push(Inline::text("refit for good")),
        PartAction::Use => out.push(Inline::text("already in place")),
    }
    if let Some(cutter) = c.cutters.get(number)
        && item.action == PartAction::Pull
    {
        go_on(&mut out, vec![Inline::text("cut in step "), c.step_link(cutter)]);
    }
    if !item.becomes.is_empty() {
        go_on(&mut out, vec![Inline::text("becomes ")]);
        for (i, (piece, n)) in item.becomes.iter().enumerate() {
            let lead = if i > 0 { ", " } else { "" };
            out.push(Inline::text(format!("{lead}{n} × {}", piece.value)));
        }
    }
    push_note(&mut out, super::kit::remark(c, s, number.as_str()).as_deref());
    let taken = matches!(item.action, PartAction::Pull | PartAction::TrialFit | PartAction::Finish) && fresh > 0;
    match super::replaced::part_remark(c.manual, number).filter(|_| taken) {
        Some(now) => {
            go_on(&mut out, now);
        }
        None if taken => push_note(&mut out, c.part(number).and_then(Part::remark)),
        None => {}
    }
    push_note(&mut out, note);
    out
}

/// What to do when the work goes wrong, on a line of its own.
pub(super) fn push_if_wrong(to: &mut Inlines, what: Option<&str>) {
    if let Some(what) = what {
        to.extend([Inline::LineBreak, Inline::strong("If it goes wrong: "), Inline::text(what)]);
    }
}

pub(super) fn push_note(out: &mut Inlines, note: Option<&str>) {
    if let Some(note) = note {
        go_on(out, vec![Inline::text(note)]);
    }
}

/// Adds to a remark what stands behind a semicolon where something is before it.
fn go_on(remark: &mut Inlines, more: Inlines) {
    if !remark.is_empty() {
        remark.push(Inline::text("; "));
    }
    remark.extend(more);
}

/// The hardware of a step, joints and list together.
pub(super) fn hardware(c: &DocumentComposer, s: &ResolvedStep) -> Option<Table> {
    if s.hardware.is_empty() {
        return None;
    }
    let remarked =
        s.hardware.iter().any(|h| h.action != HardwareAction::Fit || out_already(c.resolved, s, h).is_some())
            || s.step.hardware.iter().any(|h| h.note.is_some())
            || s.hardware.iter().any(|h| super::replaced::hardware_remark(c.manual, &h.designation).is_some())
            || s.hardware.iter().any(|h| super::kit::remark(c, s, h.designation.as_str()).is_some());
    let mut columns = tick_columns(c.purpose);
    columns.push(naming("Hardware", Width::Fit));
    columns.push(column("What it is", CellAlign::Start, Width::Share(4)));
    columns.push(quantity_column());
    columns.extend(where_columns(c.place()));
    if remarked {
        columns.push(column("Remark", CellAlign::Start, Width::Share(2)));
    }
    let mut rows = Vec::new();
    for (item, need) in s.hardware.iter().enumerate() {
        let h = c.hardware(&need.designation);
        let link = Inline::Link {
            to: hardware_anchor(&need.designation),
            content: vec![Inline::text(need.designation.as_str())],
        };
        let mut cells = tick_cells(c.purpose);
        cells.push(cell(vec![link]));
        cells.push(cell(c.hardware_words(&need.designation)));
        cells.push(cell(vec![Inline::Quantity(need.quantity)]));
        let taken = matches!(need.action, HardwareAction::Fit | HardwareAction::FitTemporarily);
        let out = out_already(c.resolved, s, need);
        // What is out of the bags altogether is not looked for in them.
        let lies_there = taken && out != Some(need.quantity);
        let get = |f: fn(&crate::model::Hardware) -> &String| h.filter(|_| lies_there).map_or("", |h| f(h).as_str());
        cells.extend(where_cells(c.place(), get(|h| &h.bag), get(|h| &h.crate_), get(|h| &h.bin)));
        if remarked {
            let mut remark = match need.action {
                HardwareAction::Fit => Inlines::new(),
                HardwareAction::FitTemporarily => vec![Inline::text("comes off again")],
                HardwareAction::Remove => vec![Inline::text("take off")],
                HardwareAction::Refit => vec![Inline::text("the same again")],
            };
            push_note(&mut remark, super::kit::remark(c, s, need.designation.as_str()).as_deref());
            if let Some(out) = out {
                push_note(&mut remark, Some(&out_words(out, need)));
            }
            if let Some(now) = super::replaced::hardware_remark(c.manual, &need.designation).filter(|_| taken) {
                go_on(&mut remark, now);
            }
            let listed =
                s.step.hardware.iter().find(|h| h.hardware.value == need.designation && h.action == need.action);
            push_note(&mut remark, listed.and_then(|h| h.note.as_deref()));
            cells.push(cell(remark));
        }
        let origin = Origin { step: Some(s.step.id.value.clone()), field: "hardware", item };
        rows.push(TableRow { cells, anchor: Some(row_anchor(&s.step.id.value, need.designation.as_str())), origin });
    }
    unique_anchors(&mut rows);
    Some(filled(TableRole::Hardware, columns, rows))
}

/// How much of the hardware that a step fits is out of the bags since an earlier step, where any is. What a conversion
/// finds in the kit is another matter.
pub(super) fn out_already(resolved: &Resolved, s: &ResolvedStep, need: &HardwareNeed) -> Option<Quantity> {
    let fitted = |n: &&HardwareNeed| {
        n.designation == need.designation && matches!(n.action, HardwareAction::Fit | HardwareAction::FitTemporarily)
    };
    // The ledger books a step's takings together: the first row of the item tells.
    let first = s.hardware.iter().find(fitted)?;
    if resolved.configuration.from.is_some() || !std::ptr::eq(first, need) {
        return None;
    }
    let account = resolved.ledger.hardware.get(&need.designation)?;
    let all: Rational = s.hardware.iter().filter(fitted).map(|n| n.quantity.value).sum();
    // In the order of the steps: a bolt that a thousand steps take is not looked through a thousand times.
    let from = account.taken.partition_point(|(_, number, _)| *number < s.number);
    let taken: Rational =
        account.taken[from..].iter().take_while(|(_, number, _)| *number == s.number).map(|(.., q)| q.value).sum();
    let out = Quantity { value: all - taken, ..need.quantity };
    (*out.value.numer() > 0).then_some(out)
}

fn out_words(out: Quantity, need: &HardwareNeed) -> String {
    match out {
        _ if out == need.quantity => "already out".to_owned(),
        _ => format!("{out} already out"),
    }
}

/// The cuts of a step, each with what its angle is measured from and who makes it.
pub(super) fn cuts(c: &DocumentComposer, s: &ResolvedStep) -> Option<Table> {
    if s.step.cuts.is_empty() {
        return None;
    }
    let columns = vec![
        naming("Part", Width::Fit),
        column("End", CellAlign::Start, Width::Fit),
        column("Cut", CellAlign::Start, Width::Share(2)),
        column("Angle", CellAlign::Start, Width::Share(3)),
        column("Length", CellAlign::End, Width::Fit),
        column("From", CellAlign::Start, Width::Share(2)),
        column("Made by", CellAlign::Start, Width::Fit),
    ];
    let made_by = made_by(c, s.step.cuts.iter().map(|cut| cut.by));
    let rows = s.step.cuts.iter().map(|cut| {
        let part = c.part(&cut.part.value);
        let mut kind = vec![Inline::text(cut.kind.word())];
        if let Some(onto) = &cut.onto {
            kind.push(Inline::text(if cut.kind == CutKind::Mitre { " meeting " } else { " onto " }));
            kind.push(part_link(&onto.value));
        }
        push_note(&mut kind, cut.note.as_deref());
        push_if_wrong(&mut kind, cut.if_wrong.as_deref());
        let angle = cut_words(cut);
        let length = cut.length.as_ref().map(|l| l.value).or_else(|| part?.cut_length.as_ref().map(|l| l.value));
        let blank = part.and_then(|p| p.blank_length.as_ref());
        let mut from = Inlines::new();
        if let Some(blank) = blank {
            from.extend([Inline::text("blank of "), Inline::Length(blank.value)]);
        } else if let Some(whole) = part.and_then(|p| p.cut_from.as_ref()) {
            from.push(part_link(&whole.value));
        }
        if let Some(trim) = &cut.trim {
            let lead = if from.is_empty() { "trim " } else { ", trim " };
            from.extend([Inline::text(lead), Inline::Length(trim.value)]);
        }
        TableRow {
            cells: vec![
                cell(vec![part_link(&cut.part.value)]),
                text_cell(cut.end.as_ref().map_or("", |e| e.value.word())),
                cell(kind),
                cell(angle),
                cell(length.map(Inline::Length).into_iter().collect()),
                cell(from),
                made_by(cut.by),
            ],
            anchor: None,
            origin: Origin { step: Some(s.step.id.value.clone()), field: "cuts", item: cut.index },
        }
    });
    let rows = rows.collect();
    Some(filled(TableRole::Cuts, columns, rows))
}

/// `15° off square; long point at 3 o'clock`: the angle of a cut, what it is measured from, and which way round it lies.
pub(super) fn cut_words(cut: &Cut) -> Inlines {
    let mut angle = Inlines::new();
    match (cut.kind, &cut.angle) {
        (CutKind::Square, _) => angle.push(Inline::text("square to the axis")),
        (CutKind::Mitre, Some(a)) => angle.extend([Inline::Angle(a.value), Inline::text(" off square")]),
        (CutKind::Saddle, Some(a)) => angle.extend([Inline::Angle(a.value), Inline::text(" between the axes")]),
        (_, None) => {}
    }
    if let Some(words) = cut.clock_words() {
        angle.push(Inline::text(format!("; {words}")));
    }
    if let Some(offset) = cut.offset.as_ref().filter(|o| o.value != crate::units::Length::ZERO) {
        let zero = crate::units::Length::ZERO;
        let up = cut.long_point.as_ref().map_or(crate::units::Clock::TWELVE, |c| c.value);
        let (apart, side) = if offset.value < zero { (zero - offset.value, "left") } else { (offset.value, "right") };
        angle.extend([
            Inline::text("; axes "),
            Inline::Length(apart),
            Inline::text(format!(" apart: the other tube lies to the {side}, looking at this end with {up} up")),
        ]);
    }
    angle
}

/// Who does each piece of work; nothing where it is the builder's throughout, who reads no column of one word. The shop,
/// which ships blanks and cut pieces, is told each time.
pub(super) fn made_by(c: &DocumentComposer, all: impl Iterator<Item = By> + Clone) -> impl Fn(By) -> TableCell {
    let told = c.purpose != Purpose::Manual || all.clone().any(|by| by != By::Builder);
    move |by| text_cell(if told { by.word() } else { "" })
}

pub(super) fn part_link(number: &PartNumber) -> Inline {
    Inline::Link { to: part_anchor(number), content: vec![Inline::text(number.as_str())] }
}

/// The columns that a measure fills: what, wanted, and a blank to write in.
pub(super) fn measure_columns() -> Vec<Column> {
    vec![
        naming("Measure", Width::Share(4)),
        column("Required", CellAlign::Start, Width::Share(3)),
        column("Measured", CellAlign::Start, Width::Fit),
    ]
}

pub(super) fn measure_cells(m: &MeasureUse, note: Option<&str>) -> Vec<TableCell> {
    let mut what = vec![Inline::text(&m.what.value)];
    push_note(&mut what, note);
    let unit = [&m.target, &m.min, &m.max].into_iter().flatten().next().map(|v| v.value.unit);
    let mut measured = vec![Inline::Blank(50)];
    if let Some(unit) = unit.filter(|u| *u != MeasureUnit::Length) {
        measured.push(Inline::text(format!("\u{a0}{}", unit.word())));
    }
    vec![cell(what), cell(wanted(m)), cell(measured)]
}

/// `30° ± 1°`, `28° to 32°`, `at least 5 lb`.
pub(super) fn wanted(m: &MeasureUse) -> Inlines {
    let value = |v: &crate::source::Spanned<crate::units::Measure>| Inline::Measure(v.value);
    match (&m.target, &m.tolerance, &m.min, &m.max) {
        (Some(target), Some(tolerance), ..) => vec![value(target), Inline::text(" ±\u{a0}"), value(tolerance)],
        (Some(target), None, ..) => vec![value(target)],
        (None, _, Some(min), Some(max)) => vec![value(min), Inline::text(" to "), value(max)],
        (None, _, Some(min), None) => vec![Inline::text("at least "), value(min)],
        (None, _, None, Some(max)) => vec![Inline::text("at most "), value(max)],
        (None, _, None, None) => Vec::new(),
    }
}

pub(super) fn measures(s: &ResolvedStep) -> Option<Table> {
    if s.step.measures.is_empty() {
        return None;
    }
    let rows = s.step.measures.iter().map(|m| TableRow {
        cells: measure_cells(&m.value, m.note.as_deref()),
        anchor: None,
        origin: Origin { step: Some(s.step.id.value.clone()), field: "measure", item: m.index },
    });
    Some(Table { role: TableRole::Measures, caption: Vec::new(), columns: measure_columns(), rows: rows.collect() })
}

/// The results sheet's row: the step first.
pub(super) fn result_row(s: &ResolvedStep, m: &MeasureUse, note: Option<&str>) -> Vec<TableCell> {
    let link = Inline::Link { to: step_anchor(&s.step.id.value), content: vec![super::step_number(s)] };
    let mut cells = vec![cell(vec![link])];
    cells.extend(measure_cells(m, note));
    cells.push(cell(vec![Inline::Blank(60)]));
    cells
}
