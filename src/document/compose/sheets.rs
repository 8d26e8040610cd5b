//! The registers of joints and holes as plain rows, every value with its source.

use super::fastening::{members, washers};
use super::holes::{done_besides, drill_words, place, sorted, supplied_size, tools};
use super::torques::torque_words;
use crate::document::sheet::{CsvSheet, StepName};
use crate::joint::{HoleLedger, Items, Tightening, read};
use crate::model::{Manual, TorqueRange};
use crate::resolve::Resolved;
use crate::trade::{Cited, Source, hole_for, reamed_hole};
use crate::units::{Length, UnitStyle, decimal_text, plain};

const JOINTS: &[&str] = &[
    "step",
    "number",
    "joint",
    "fastener",
    "what it is",
    "places",
    "under head",
    "stack",
    "under nut",
    "nut",
    "pin",
    "carries",
    "turns",
    "stack thickness",
    "stack source",
    "grip",
    "grip source",
    "margin in hole",
    "margin to thread",
    "threads past nut",
    "threads source",
    "hole drill",
    "hole source",
    "reamer",
    "reamer source",
    "torque",
    "torque source",
    "torque reason",
    "locked by",
    "threads",
    "drag included",
    "thread goes into",
    "clamps",
    "critical",
    "kind",
];

/// Every joint of a configuration.
pub fn joint_sheet(manual: &Manual, resolved: &Resolved) -> CsvSheet {
    joint_rows(manual, resolved, StepName::Number)
}

pub(in crate::document) fn joint_rows(manual: &Manual, resolved: &Resolved, names: StepName) -> CsvSheet {
    let items = Items::new(manual);
    let style = manual.settings.units;
    let mut rows = Vec::new();
    for s in &resolved.steps {
        for joint in &s.step.joints {
            let reading = read(manual, &items, joint);
            let fastener = reading.fastener.as_deref();
            let fit = reading.fit.as_ref().and_then(|f| f.as_ref().ok());
            let grip = fastener.and_then(|f| f.grip);
            let range = fastener.and_then(|f| f.grip_range);
            let grip_words = match (grip, range) {
                (Some(grip), _) => words(style, grip.value),
                (None, Some(range)) => {
                    let least =
                        range.value.least.map_or_else(|| "up to ".to_owned(), |l| format!("{} to ", words(style, l)));
                    format!("{least}{}", words(style, range.value.most))
                }
                (None, None) => String::new(),
            };
            let hole = fastener.and_then(hole_for);
            let reamed = fastener.and_then(reamed_hole);
            let past = fit.and_then(|f| f.threads_past);
            let (torque, torque_source) = torque(&reading.tightening, style);
            let name = |d: &Option<crate::source::Spanned<crate::units::Designation>>| {
                d.as_ref().map_or_else(String::new, |d| d.value.to_string())
            };
            rows.push(vec![
                s.step.id.value.to_string(),
                names.of(s),
                joint.id.as_ref().map_or_else(String::new, |id| id.value.clone()),
                joint.fastener.value.to_string(),
                fastener.map_or_else(String::new, |f| f.words()),
                joint.places.to_string(),
                washers(&joint.under_head).join(", "),
                members(joint).join(", "),
                washers(&joint.under_nut).join(", "),
                name(&joint.nut),
                name(&joint.pin),
                joint.carries.as_ref().map_or("", |c| c.value.word()).to_owned(),
                if joint.turns { "yes" } else { "no" }.to_owned(),
                reading.thickness.map_or_else(String::new, |t| words(style, t.value)),
                source(reading.thickness),
                grip_words,
                grip.map_or_else(|| source(range), |g| g.source.words().to_owned()),
                fit.and_then(|f| f.margins.hole).map_or_else(String::new, |m| words(style, m.value)),
                fit.and_then(|f| f.margins.nut).map_or_else(String::new, |m| words(style, m.value)),
                past.map_or_else(String::new, |p| decimal_text(p.value, 2)),
                source(past),
                hole.map_or_else(String::new, |h| drill_words(h.value.drill, style)),
                source(hole),
                reamed.map_or_else(String::new, |h| tools(Some(h.value.drill), Some(h.value.reamer), style)),
                source(reamed),
                torque,
                torque_source,
                joint.torque_reason.clone().unwrap_or_default(),
                joint.locked_by.as_ref().map_or_else(String::new, |l| l.value.clone()),
                joint.condition.as_ref().map_or("", |c| c.value.word()).to_owned(),
                if joint.drag_included { "yes" } else { "" }.to_owned(),
                joint.into.as_ref().map_or("", |i| i.value.word()).to_owned(),
                joint.clamps.as_ref().map_or("", |c| c.value.word()).to_owned(),
                if joint.critical.is_some() { "yes" } else { "" }.to_owned(),
                joint.kind.as_ref().map_or_else(String::new, |k| k.value.clone()),
            ]);
        }
    }
    CsvSheet { columns: JOINTS, rows }
}

fn words(style: UnitStyle, length: Length) -> String {
    plain(&length.pieces(style))
}

fn source<T>(value: Option<Cited<T>>) -> String {
    value.map_or_else(String::new, |v| v.source.words().to_owned())
}

fn torque(tightening: &Tightening, style: UnitStyle) -> (String, String) {
    match tightening {
        Tightening::None => Default::default(),
        Tightening::Table(table) => {
            let (least, most) = table.value.inch_pounds();
            let kind = if table.source == Source::FromMemory {
                "Table 7-1 of FAA AC 43.13-1B, the nut's column from memory"
            } else {
                table.source.words()
            };
            (torque_words(TorqueRange { least, most }, style), kind.to_owned())
        }
        Tightening::Designer { range, .. } => (torque_words(*range, style), "designer's value".to_owned()),
        Tightening::Required(why) => ("designer's value required".to_owned(), why.words().to_owned()),
    }
}

const HOLES: &[&str] = &[
    "part",
    "hole",
    "as supplied",
    "supplied size",
    "count",
    "place",
    "drill",
    "drill size",
    "reamer",
    "reamer size",
    "for",
    "hole for it",
    "hole source",
    "made by",
    "steps",
    "match-drilled from",
    "also",
];

/// Every hole of a configuration that a part comes with or that a step works on.
pub fn hole_sheet(manual: &Manual, resolved: &Resolved) -> CsvSheet {
    hole_rows(manual, resolved, StepName::Number)
}

pub(in crate::document) fn hole_rows(manual: &Manual, resolved: &Resolved, names: StepName) -> CsvSheet {
    let items = Items::new(manual);
    let ledger = HoleLedger::new(manual, &items, resolved);
    let style = manual.settings.units;
    let rows = sorted(&ledger).into_iter().map(|record| {
        let (drill, reamer) = record.tools();
        let mut makers: Vec<_> = record.work.iter().map(|w| w.hole.by.word()).collect();
        makers.dedup();
        let steps: Vec<_> =
            record.work.iter().map(|w| format!("{} {}", names.of(w.step), w.hole.action.word())).collect();
        let from: Vec<_> =
            record.work.iter().filter_map(|w| w.hole.from.as_ref()).map(|f| f.value.to_string()).collect();
        let right = record.for_.and_then(|f| items.get(f)).and_then(|f| hole_for(f));
        let decimal = |d: Option<crate::trade::Drill>| {
            d.map_or_else(String::new, |d| match style {
                UnitStyle::Millimetre => words(style, d.size().value),
                _ => format!("{} in", d.decimal()),
            })
        };
        let name = |d: Option<crate::trade::Drill>| d.map_or_else(String::new, |d| d.to_string());
        let count = record.count();
        vec![
            record.part.to_string(),
            record.name.to_owned(),
            record.supply.word().to_owned(),
            supplied_size(manual, record.part, record.name).trim_start_matches(", ").to_owned(),
            if count > 0 { count.to_string() } else { String::new() },
            crate::document::plain_text(&place(manual, record.part, record.name), style),
            name(drill),
            decimal(drill),
            name(reamer),
            decimal(reamer),
            record.for_.map_or_else(String::new, |f| f.to_string()),
            right.map_or_else(String::new, |h| drill_words(h.value.drill, style)),
            source(right),
            makers.join(", "),
            steps.join(", "),
            from.join(", "),
            done_besides(record).join(", "),
        ]
    });
    CsvSheet { columns: HOLES, rows: rows.collect() }
}
