//! Cables: what a step does to each, their strips, and the cable sheet of a configuration.

use super::tables::{cell, column, filled, naming, part_link, push_note, text_cell};
use super::{DocumentComposer, block, drawn, leaf, paragraph};
use crate::document::block::{Block, BlockKind, Origin};
use crate::document::inline::{Inline, Inlines};
use crate::document::leaf::{Leaf, LeafRole};
use crate::document::sheet::{CsvSheet, StepName};
use crate::document::table::{CellAlign, Table, TableRole, TableRow, Width};
use crate::drawing;
use crate::model::{CableEnd, CableLead, CableUse, Guide, Manual, StepItem};
use crate::plan::{CableRun, cables};
use crate::resolve::{Resolved, ResolvedStep};
use crate::trade::SafetyWord;
use crate::units::{Designation, Length, PartNumber, decimal_text, plain};

/// What a step does to its cables.
pub(super) fn table(c: &DocumentComposer, s: &ResolvedStep) -> Option<Table> {
    let columns = vec![
        naming("Cable", Width::Fit),
        column("Pin to pin", CellAlign::Start, Width::Fit),
        column("Cut to", CellAlign::Start, Width::Fit),
        column("Work", CellAlign::Start, Width::Share(5)),
    ];
    let rows: Vec<TableRow> = s
        .step
        .cables
        .iter()
        .filter_map(|item| {
            let run = c.cables.get(item.cable.value.as_str())?;
            Some(TableRow {
                cells: vec![
                    text_cell(name(run)),
                    cell(vec![Inline::Length(run.length)]),
                    cell(run.cut_length().map(Inline::Length).into_iter().collect()),
                    cell(work(c, s, run, item)),
                ],
                anchor: None,
                origin: Origin { step: Some(s.step.id.value.clone()), field: "cables", item: item.index },
            })
        })
        .collect();
    (!rows.is_empty()).then(|| filled(TableRole::Cuts, columns, rows))
}

/// What is written on a cable, else its id in words.
fn name(run: &CableRun) -> String {
    run.use_.label.as_ref().map_or_else(|| super::spoken(run.id), |l| l.value.clone())
}

fn made_of(run: &CableRun) -> Inlines {
    let mut out: Inlines = run.part.map(|p| part_link(&p.number.value)).into_iter().collect();
    let mut words = Vec::new();
    words.extend(run.use_.construction.as_ref().map(|x| x.value.clone()));
    words.extend(run.part.map(|p| p.material.clone()).filter(|m| !m.is_empty()));
    if let Some(diameter) = run.diameter {
        out.extend([Inline::text(" "), Inline::Length(diameter)]);
    }
    if !words.is_empty() {
        out.push(Inline::text(format!(" {}", words.join(", "))));
    }
    out
}

/// What is done here, in the order in which it is done.
fn work(c: &DocumentComposer, s: &ResolvedStep, run: &CableRun, item: &StepItem<CableUse>) -> Inlines {
    let mut out = Inlines::new();
    let sentence = |out: &mut Inlines, more: Inlines| {
        if !out.is_empty() {
            out.push(Inline::text(" "));
        }
        out.extend(more);
    };
    if let Some(end) = &item.end_a {
        sentence(&mut out, close("A", end));
    }
    match &item.thread {
        Some(CableLead::All(_)) if !run.run.is_empty() => {
            // The free end passes the place next to the closed end first; before any is closed, from end A on.
            let backward = from_end_b(run, item, s);
            let order: Vec<(usize, &StepItem<Guide>)> = run.run.iter().enumerate().collect();
            let order: Vec<_> = if backward { order.into_iter().rev().collect() } else { order };
            sentence(&mut out, thread(c, &order));
        }
        Some(CableLead::These(names)) => {
            let order: Vec<_> = names
                .iter()
                .filter_map(|n| run.run.iter().enumerate().find(|(_, g)| g.name.value == n.value))
                .collect();
            sentence(&mut out, thread(c, &order));
        }
        _ => {}
    }
    if let Some(end) = &item.end_b {
        sentence(&mut out, close("B", end));
    }
    push_note(&mut out, item.note.as_deref());
    out
}

/// Whether end B is the one that is closed when an item threads the cable.
fn from_end_b(run: &CableRun, item: &StepItem<CableUse>, step: &ResolvedStep) -> bool {
    let before = |end: Option<(&CableEnd, &ResolvedStep)>| end.is_some_and(|(_, s)| s.number < step.number);
    item.end_a.is_none() && before(run.ends[1]) && !before(run.ends[0])
}

fn thread(c: &DocumentComposer, order: &[(usize, &StepItem<Guide>)]) -> Inlines {
    let mut out = vec![Inline::text("Lead it through ")];
    for (i, (place, guide)) in order.iter().enumerate() {
        let lead = if i > 0 { ", then " } else { "" };
        out.push(Inline::text(format!("{lead}{} (the {} ", place + 1, guide.kind.word())));
        out.push(guide_link(c, guide));
        out.push(Inline::text(guide.at.as_ref().map_or_else(|| ")".to_owned(), |at| format!(", {at})"))));
    }
    out.push(Inline::text(", before the second end is closed."));
    out
}

fn guide_link(c: &DocumentComposer, guide: &Guide) -> Inline {
    let number = PartNumber::new(&guide.name.value);
    if c.part(&number).is_some() {
        return part_link(&number);
    }
    c.hardware_link(&Designation::new(&guide.name.value))
}

fn close(letter: &str, end: &CableEnd) -> Inlines {
    let mut out = vec![Inline::text(format!("Close end {letter}"))];
    if let Some(thimble) = &end.thimble {
        out.push(Inline::text(format!(" round {}", thimble.value)));
    }
    if let Some(l) = &end.loop_ {
        out.extend([Inline::text(", loop of "), Inline::Length(l.value)]);
    }
    for (lead, item) in [(" with nipple ", &end.nipple), (", ferrule ", &end.ferrule)] {
        out.extend(item.as_ref().map(|item| Inline::text(format!("{lead}{}", item.value))));
    }
    if let Some(sleeve) = &end.sleeve {
        let count = if end.sleeves > 1 { format!("{} × ", end.sleeves) } else { String::new() };
        out.push(Inline::text(format!(", {count}{}", sleeve.value)));
    }
    match end.crimps {
        // FAA AC 43.13-1B 7-148: of three, the middle first, then next to the thimble, then the last.
        Some(3) => out.push(Inline::text(" pressed 3 times: middle, next to the thimble, last")),
        Some(1) => out.push(Inline::text(" pressed once")),
        Some(n) => out.push(Inline::text(format!(" pressed {n} times"))),
        None => {}
    }
    if let Some(tail) = &end.tail {
        out.extend([Inline::text(", "), Inline::Length(tail.value), Inline::text(" standing out")]);
    }
    if let Some(turnbuckle) = &end.turnbuckle {
        out.push(Inline::text(format!("; turnbuckle {}", turnbuckle.value)));
        if let Some(thread) = &end.thread {
            out.push(Inline::text(format!(", {}-hand thread towards the cable", thread.value.word())));
        }
        if let Some(safety) = &end.safety {
            out.push(Inline::text(format!(", secured: {}", safety.value)));
        }
        out.extend(wraps(end).map(Inline::text));
    }
    out.extend(fittings(end).map(|words| Inline::text(format!("; with {words}"))));
    out.push(Inline::text("."));
    out
}

/// The wire round each shank of a turnbuckle.
fn wraps(end: &CableEnd) -> Option<String> {
    end.wraps.as_ref().map(|n| format!(", safety wire {} turns round each shank", n.value))
}

/// `pin MS20392-2C15, 2 × AN960-10`
fn fittings(end: &CableEnd) -> Option<String> {
    let each = end.fittings.iter().map(|(item, n)| {
        let count = if *n > 1 { format!("{n} × ") } else { String::new() };
        format!("{count}{}", item.value)
    });
    let words = each.collect::<Vec<_>>().join(", ");
    (!words.is_empty()).then_some(words)
}

/// The strip of each cable that this step defines or closes an end of.
pub(super) fn drawings(c: &DocumentComposer, s: &ResolvedStep) -> Vec<Block> {
    let mut out = Vec::new();
    for item in s.step.cables.iter().filter(|i| i.defines() || i.ends().iter().any(Option::is_some)) {
        let Some(run) = c.cables.get(item.cable.value.as_str()) else { continue };
        out.push(drawn(s, "cables", item.index, drawing::cable(run, c.manual.settings.units), caption(c, run)));
    }
    out
}

fn caption(c: &DocumentComposer, run: &CableRun) -> Inlines {
    let mut out = vec![Inline::strong(name(run)), Inline::text(" of ")];
    out.extend(made_of(run));
    if let Some(sheath) = &run.use_.sheath {
        out.push(Inline::text(format!(", in a sheath of {}", sheath.value)));
        if let Some(length) = &run.use_.sheath_length {
            out.extend([Inline::text(" cut to "), Inline::Length(length.value)]);
        }
    }
    out.push(Inline::text(". Not to scale."));
    for (i, guide) in run.run.iter().enumerate() {
        let lead = if i == 0 { " Run: " } else { "; " };
        out.push(Inline::text(format!("{lead}{} {} ", i + 1, guide.kind.word())));
        out.push(guide_link(c, guide));
        out.extend(guide.at.as_ref().map(|at| Inline::text(format!(", {at}"))));
    }
    if !run.run.is_empty() {
        out.push(Inline::text("."));
    }
    if let Some(words) = proof_words(run) {
        out.push(Inline::text(format!(" {words}")));
    }
    out
}

/// The load that proves a cable, with where it comes from.
fn proof_words(run: &CableRun) -> Option<String> {
    if let Some(load) = &run.use_.proof_load {
        return Some(format!(
            "Proof load {} {}, designer's value.",
            decimal_text(load.value.value, 1),
            load.value.unit.word()
        ));
    }
    let (strength, proof) = (run.strength?, run.proof()?);
    Some(format!(
        "Proof load {} lb for 3 minutes: 60 % of {} lb ({}). The designer's value governs.",
        proof.value,
        strength.value,
        strength.source.words()
    ))
}

/// The same in a few words.
fn proof_short(run: &CableRun) -> String {
    match (&run.use_.proof_load, run.strength, run.proof()) {
        (Some(load), ..) => {
            format!("{} {}, designer's value", decimal_text(load.value.value, 1), load.value.unit.word())
        }
        (None, Some(strength), Some(proof)) => format!("{} lb, 60 % of {} lb", proof.value, strength.value),
        _ => "designer's value required".to_owned(),
    }
}

/// The cable sheet: every cable of the configuration with what it is cut to and proved with.
pub(super) fn sheet(c: &DocumentComposer) -> Option<Leaf> {
    if c.cables.is_empty() {
        return None;
    }
    let columns = vec![
        naming("Cable", Width::Share(2)),
        column("Steps", CellAlign::Start, Width::Fit),
        column("Of", CellAlign::Start, Width::Share(2)),
        column("Pin to pin", CellAlign::Start, Width::Fit),
        column("Cut to", CellAlign::Start, Width::Fit),
        column("End A", CellAlign::Start, Width::Share(3)),
        column("End B", CellAlign::Start, Width::Share(3)),
        column("Proof load", CellAlign::Start, Width::Share(2)),
    ];
    let rows = c.cables.values().map(|run| {
        let ids = std::iter::once(run.step).chain(run.ends.iter().flatten().map(|(_, s)| *s)).map(|s| &s.step.id.value);
        let end = |i: usize| run.ends[i].map_or_else(Inlines::new, |(e, _)| close_short(e));
        TableRow {
            cells: vec![
                text_cell(name(run)),
                cell(c.step_links(ids)),
                cell(made_of(run)),
                cell(vec![Inline::Length(run.length)]),
                cell(run.cut_length().map(Inline::Length).into_iter().collect()),
                cell(end(0)),
                cell(end(1)),
                text_cell(proof_short(run)),
            ],
            anchor: None,
            origin: Origin::default(),
        }
    });
    let table = Table { role: TableRole::Index, caption: Vec::new(), columns, rows: rows.collect() };
    let words = "A cable that parts under its proof load whips and can injure. Lay a guard over it before you load it. The designer's proof \
                 value governs; where none is given, 60 % of the published breaking strength is shown.";
    let caution = BlockKind::Safety { word: SafetyWord::Caution, blocks: vec![paragraph(words)] };
    let mut sources: Vec<_> = c.cables.values().filter_map(|r| r.strength).map(|s| s.source.words()).collect();
    sources.dedup();
    let source = if sources.is_empty() {
        String::new()
    } else {
        format!(" Breaking strengths: {}. A proof load is held for 3 minutes.", sources.join(", "))
    };
    let intro = "Every cable of this configuration. The length to cut is from pin to pin, less what reaches from a pin to its thimble, with the \
                 loop at each end. Measure under the same light pull each time.";
    Some(leaf(
        "cable-sheet",
        LeafRole::Index,
        "Cable sheet",
        vec![paragraph(format!("{intro}{source}")), block(caution), block(BlockKind::Table(table))],
    ))
}

fn close_short(end: &CableEnd) -> Inlines {
    let mut out = Inlines::new();
    let held = end.thimble.iter().chain(&end.sleeve).chain(&end.turnbuckle).chain(&end.nipple).chain(&end.ferrule);
    let held: Vec<_> = held.map(|d| d.value.to_string()).chain(fittings(end)).collect();
    out.push(Inline::text(held.join(", ")));
    if let Some(crimps) = end.crimps {
        out.push(Inline::text(format!(", {} × {crimps} presses", end.sleeves)));
    }
    if let Some(l) = &end.loop_ {
        out.extend([Inline::text(", loop "), Inline::Length(l.value)]);
    }
    if let Some(reach) = end.reach.filter(|r| r.value != Length::ZERO) {
        out.extend([Inline::text(", pin to thimble "), Inline::Length(reach.value)]);
    }
    if let Some(thread) = &end.thread {
        out.push(Inline::text(format!(", {}-hand thread towards the cable", thread.value.word())));
    }
    if let Some(safety) = &end.safety {
        out.push(Inline::text(format!(", {}", safety.value)));
    }
    out.extend(wraps(end).map(Inline::text));
    out
}

const CABLES: &[&str] = &[
    "cable",
    "label",
    "part",
    "construction",
    "diameter",
    "pin to pin",
    "cut to",
    "end",
    "step",
    "thimble",
    "sleeve",
    "sleeves",
    "crimps",
    "loop",
    "tail",
    "pin to thimble",
    "turnbuckle",
    "thread towards the cable",
    "safety",
    "turns of safety wire",
    "nipple",
    "ferrule",
    "fittings",
    "maker's value",
    "kind",
    "for",
    "sheath",
    "sheath length",
    "run",
    "breaking strength lb",
    "strength source",
    "proof load",
];

/// Every cable of a configuration as plain rows, one for each end.
pub fn cable_sheet(manual: &Manual, resolved: &Resolved) -> CsvSheet {
    cable_rows(manual, resolved, StepName::Number)
}

pub(in crate::document) fn cable_rows(manual: &Manual, resolved: &Resolved, names: StepName) -> CsvSheet {
    let words = |l: Length| plain(&l.pieces(manual.settings.units));
    let length = |l: Option<crate::source::Spanned<Length>>| l.map_or_else(String::new, |l| words(l.value));
    let name =
        |d: &Option<crate::source::Spanned<Designation>>| d.as_ref().map_or_else(String::new, |d| d.value.to_string());
    let mut rows = Vec::new();
    for run in cables(manual, resolved) {
        for (letter, end) in ["A", "B"].iter().zip(run.ends) {
            let Some((end, step)) = end else { continue };
            let guides: Vec<_> = run.run.iter().map(|g| format!("{} {}", g.kind.word(), g.name.value)).collect();
            rows.push(vec![
                run.id.to_owned(),
                run.use_.label.as_ref().map_or_else(String::new, |l| l.value.clone()),
                run.part.map_or_else(String::new, |p| p.number.value.to_string()),
                run.use_.construction.as_ref().map_or_else(String::new, |x| x.value.clone()),
                run.diameter.map_or_else(String::new, words),
                words(run.length),
                run.cut_length().map_or_else(String::new, words),
                (*letter).to_owned(),
                names.of(step),
                name(&end.thimble),
                name(&end.sleeve),
                end.sleeve.as_ref().map_or_else(String::new, |_| end.sleeves.to_string()),
                end.crimps.map_or_else(String::new, |n| n.to_string()),
                length(end.loop_),
                length(end.tail),
                length(end.reach),
                name(&end.turnbuckle),
                end.thread.map_or_else(String::new, |t| t.value.word().to_owned()),
                end.safety.as_ref().map_or_else(String::new, |s| s.value.clone()),
                end.wraps.as_ref().map_or_else(String::new, |n| n.value.to_string()),
                name(&end.nipple),
                name(&end.ferrule),
                fittings(end).unwrap_or_default(),
                end.maker_value.as_ref().map_or_else(String::new, |v| {
                    format!("{} {}", decimal_text(v.value.value, 1), v.value.unit.word())
                }),
                run.use_.kind.word().to_owned(),
                run.use_.for_.word().to_owned(),
                run.use_.sheath.as_ref().map_or_else(String::new, |s| s.value.clone()),
                length(run.use_.sheath_length),
                guides.join(", "),
                run.strength.map_or_else(String::new, |s| s.value.to_string()),
                run.strength.map_or_else(String::new, |s| s.source.words().to_owned()),
                proof_words(&run).unwrap_or_default(),
            ]);
        }
    }
    CsvSheet { columns: CABLES, rows }
}
