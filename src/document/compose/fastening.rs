//! Joints as documents show them: the table of a step, and the registers of joints and holes.

use super::tables::{cell, column, naming, push_note, text_cell};
use super::{Composer, block, hardware_anchor, leaf, paragraph, part_anchor};
use crate::document::block::{Block, BlockKind, Drawn, Origin};
use crate::document::inline::{Inline, Inlines};
use crate::document::leaf::{Leaf, LeafRole};
use crate::document::table::{Align, Row, Table, TableRole, Width};
use crate::drawing::{Drawing, joint_section};
use crate::joint::{HoleLedger, HoleRecord, Reading, Tightening, read};
use crate::model::{Item, Joint, Through, TorqueRange};
use crate::resolve::ResolvedStep;
use crate::source::Spanned;
use crate::trade::{Cited, Decoded, Drill, Form, Hole, SafetyWord, Source, adds_run_down_drag, hole_for, newton_metres};
use crate::units::{Designation, Measure, Quantity, decimal_text};

/// What is fastened where: the order from the head, how thick it is, the hole, how tight.
pub(super) fn joints(c: &Composer, s: &ResolvedStep) -> Option<Table> {
    if s.step.joints.is_empty() {
        return None;
    }
    let columns = vec![
        naming("Fastener", Width::Fit),
        column("Places", Align::End, Width::Fit),
        column("From the head", Align::Start, Width::Share(4)),
        column("Stack and hole", Align::Start, Width::Share(3)),
        column("Tighten to", Align::Start, Width::Share(3)),
    ];
    let rows = s.step.joints.iter().map(|joint| {
        let reading = read(c.manual, &c.items, joint);
        let mut tighten = tighten(joint, &reading);
        push_note(&mut tighten, joint.note.as_deref());
        Row {
            cells: vec![
                cell(vec![hardware_link(&joint.fastener.value)]),
                cell(vec![Inline::Quantity(Quantity::each(joint.places))]),
                text_cell(order(joint).join(", ")),
                cell(stack_and_hole(&reading)),
                cell(tighten),
            ],
            anchor: None,
            origin: Origin { step: Some(s.step.id.value.clone()), field: "joints", item: joint.index },
        }
    });
    let rows = rows.collect();
    Some(super::tables::filled(TableRole::Joints, columns, rows))
}

/// The bolted joints of a step in section. Joints that look alike share a drawing.
pub(super) fn drawings(c: &Composer, s: &ResolvedStep) -> Vec<Block> {
    let mut drawn: Vec<(Drawing, Vec<&Item<Joint>>)> = Vec::new();
    for joint in &s.step.joints {
        let reading = read(c.manual, &c.items, joint);
        let Some(drawing) = joint_section(&reading, c.manual.settings.units) else { continue };
        match drawn.iter_mut().find(|(other, joints)| *other == drawing && joints[0].fastener == joint.fastener) {
            Some((_, joints)) => joints.push(joint),
            None => drawn.push((drawing, vec![joint])),
        }
    }
    drawn
        .into_iter()
        .map(|(drawing, joints)| {
            let orders: Vec<String> = joints.iter().map(|j| order(j).join(", ")).collect();
            let mut caption = vec![Inline::strong(joints[0].fastener.value.as_str())];
            caption.push(Inline::text(format!(" in section, from the head: {}.", orders.join("; or "))));
            Block {
                kind: BlockKind::Drawing(Drawn { drawing, caption }),
                origin: joint_origin(s, joints[0]),
                anchor: None,
            }
        })
        .collect()
}

fn hardware_link(designation: &Designation) -> Inline {
    Inline::Link { to: hardware_anchor(designation), content: vec![Inline::text(designation.as_str())] }
}

/// Everything on the fastener, from the head, a word or two each.
pub(super) fn order(joint: &Joint) -> Vec<String> {
    let mut order = washers(&joint.under_head);
    order.extend(members(joint));
    order.extend(washers(&joint.under_nut));
    order.extend(joint.nut.iter().map(|n| n.value.to_string()));
    order.extend(joint.pin.iter().map(|p| format!("pin {}", p.value)));
    order
}

pub(super) fn members(joint: &Joint) -> Vec<String> {
    let words = |through| match through {
        Through::Thickness => "",
        Through::Wall => " (one wall)",
        Through::Tube => " (right through)",
        Through::BushedTube => " (right through, bushed)",
        Through::Length => " (along it)",
    };
    joint.stack.iter().map(|m| format!("{}{}", m.part.value, words(m.through))).collect()
}

pub(super) fn washers(list: &[(Spanned<Designation>, i64)]) -> Vec<String> {
    list.iter().map(|(w, n)| if *n == 1 { w.value.to_string() } else { format!("{n} × {}", w.value) }).collect()
}

/// `stack 1.43 in, hole 1/4 in (.250)`.
fn stack_and_hole(reading: &Reading) -> Inlines {
    let mut out = Inlines::new();
    if let Some(thickness) = reading.thickness {
        out.extend([Inline::text("stack "), Inline::Length(thickness.value)]);
    }
    if let Some(hole) = reading.fastener.as_deref().and_then(hole_for) {
        let lead = if out.is_empty() { "hole " } else { ", hole " };
        out.push(Inline::text(format!("{lead}{}", hole_words(hole))));
    }
    out
}

fn hole_words(hole: Cited<Hole>) -> String {
    format!("{}{}", drill_words(hole.value.drill), from_memory(hole.source))
}

fn from_memory(source: Source) -> &'static str {
    if source == Source::FromMemory { " (from memory)" } else { "" }
}

/// `No. 30 (.1285)`: a drill with its decimal size.
pub(super) fn drill_words(drill: Drill) -> String {
    match drill {
        Drill::Decimal(_) => drill.to_string(),
        _ => format!("{drill} ({})", drill.decimal()),
    }
}

/// How tight, in words, with where the value comes from.
fn tighten(joint: &Joint, reading: &Reading) -> Inlines {
    let mut out = Inlines::new();
    match &reading.tightening {
        Tightening::None => {}
        Tightening::Designer { range, .. } => out.push(Inline::text(format!("{}, designer's value", torque_words(*range)))),
        Tightening::Table(table) => {
            let (least, most) = table.value.inch_pounds();
            let range = torque_words(TorqueRange { least, most });
            let limit = table.value.limit;
            let drag = if drags(reading.nut.as_deref()) { "; add the drag of the nut as it runs down" } else { "" };
            out.push(Inline::text(format!(
                "{range}, table value{}, never above {limit} in-lb{drag}",
                from_memory(table.source)
            )));
        }
        Tightening::Required(why) => {
            out.push(Inline::strong("designer's value required"));
            out.push(Inline::text(format!(": {}", why.words())));
        }
    }
    if joint.turns {
        out.push(Inline::text(if out.is_empty() { "it must turn freely" } else { "; it must turn freely" }));
    }
    out
}

fn drags(nut: Option<&Decoded>) -> bool {
    nut.is_some_and(|nut| matches!(nut.form, Form::Nut(form) if adds_run_down_drag(form)))
}

/// `30 to 40 in-lb (3.4 to 4.5 N m)`.
pub(super) fn torque_words(range: TorqueRange) -> String {
    let words = |least: Measure, most: Measure| {
        let number = |m: Measure| decimal_text(m.value, 1);
        let unit = most.unit.word();
        if least == most { format!("{} {unit}", number(most)) } else { format!("{} to {} {unit}", number(least), number(most)) }
    };
    let given = words(range.least, range.most);
    match (newton_metres(range.least), newton_metres(range.most)) {
        (Some(least), Some(most)) if most.unit != range.most.unit => format!("{given} ({})", words(least, most)),
        _ => given,
    }
}

/// The joint register and the hole register.
pub(super) fn registers(c: &Composer) -> Vec<Leaf> {
    vec![
        leaf("joint-register", LeafRole::Index, "Joint register", joint_register(c)),
        leaf("hole-register", LeafRole::Index, "Hole register", hole_register(c)),
    ]
}

fn joint_register(c: &Composer) -> Vec<Block> {
    let columns = vec![
        naming("Step", Width::Fit),
        column("Fastener", Align::Start, Width::Fit),
        column("Places", Align::End, Width::Fit),
        column("From the head", Align::Start, Width::Share(4)),
        column("Fit", Align::Start, Width::Share(3)),
        column("Tighten to", Align::Start, Width::Share(3)),
    ];
    let mut rows = Vec::new();
    for s in &c.resolved.steps {
        for joint in &s.step.joints {
            let reading = read(c.manual, &c.items, joint);
            rows.push(Row {
                cells: vec![
                    cell(vec![c.step_link(s)]),
                    cell(vec![hardware_link(&joint.fastener.value)]),
                    cell(vec![Inline::Quantity(Quantity::each(joint.places))]),
                    text_cell(order(joint).join(", ")),
                    cell(fit_words(&reading)),
                    cell(tighten(joint, &reading)),
                ],
                anchor: None,
                origin: joint_origin(s, joint),
            });
        }
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let caution = "Table values are for general use, for clean and dry threads in a solid stack of metal. The designer's \
                   drawing governs. A wrong joint can come apart in use: where the law asks for it, have the joints \
                   inspected by a licensed person before use.";
    let message = BlockKind::Safety { word: SafetyWord::Warning, blocks: vec![paragraph(caution)] };
    let intro = "Every joint of this configuration, with the thickness of its stack, how its fastener fits, and how tight \
                 it is. Torques without a note are for dry threads.";
    let table = Table { role: TableRole::Index, caption: Vec::new(), columns, rows };
    vec![paragraph(intro), block(message), block(BlockKind::Table(table))]
}

fn joint_origin(s: &ResolvedStep, joint: &Item<Joint>) -> Origin {
    Origin { step: Some(s.step.id.value.clone()), field: "joints", item: joint.index }
}

/// `stack 1.43 in, grip 1 7/16 in, 2.1 threads past the nut (from memory)`.
fn fit_words(reading: &Reading) -> Inlines {
    let mut out = Inlines::new();
    if let Some(thickness) = reading.thickness {
        out.extend([Inline::text("stack "), Inline::Length(thickness.value)]);
    }
    let Some(fastener) = &reading.fastener else { return out };
    let comma = |out: &Inlines| if out.is_empty() { "" } else { ", " };
    if let Some(grip) = fastener.grip {
        out.extend([Inline::text(format!("{}grip ", comma(&out))), Inline::Length(grip.value)]);
        out.extend((grip.source == Source::FromMemory).then(|| Inline::text(" (from memory)")));
    } else if let Some(range) = fastener.grip_range {
        out.push(Inline::text(format!("{}grip ", comma(&out))));
        match range.value.least {
            Some(least) => out.extend([Inline::Length(least), Inline::text(" to ")]),
            None => out.push(Inline::text("up to ")),
        }
        out.push(Inline::Length(range.value.most));
        out.extend((range.source == Source::FromMemory).then(|| Inline::text(" (from memory)")));
    } else if let Some(length) = fastener.length {
        out.extend([Inline::text(format!("{}length ", comma(&out))), Inline::Length(length.value)]);
    }
    if let Some(Ok(fit)) = &reading.fit
        && let Some(past) = fit.threads_past
    {
        out.push(Inline::text(format!(", {} threads past the nut{}", decimal_text(past.value, 1), from_memory(past.source))));
    }
    out
}

fn hole_register(c: &Composer) -> Vec<Block> {
    let columns = vec![
        naming("Part", Width::Fit),
        column("Hole", Align::Start, Width::Share(2)),
        column("As supplied", Align::Start, Width::Fit),
        column("Count", Align::End, Width::Fit),
        column("Drill", Align::Start, Width::Share(2)),
        column("For", Align::Start, Width::Share(2)),
        column("Work", Align::Start, Width::Share(4)),
    ];
    let ledger = HoleLedger::new(c.manual, &c.items, c.resolved);
    let mut records: Vec<&HoleRecord> = ledger.holes.values().filter(|r| !r.work.is_empty()).collect();
    records.sort_by(|a, b| a.part.cmp(b.part).then_with(|| crate::units::natural_cmp(a.name, b.name)));
    let rows: Vec<Row> = records.into_iter().map(|record| hole_row(c, record)).collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let intro = "Every hole that a step works on: how it comes, what is done to it in which step, and the drill it ends with.";
    let table = Table { role: TableRole::Index, caption: Vec::new(), columns, rows };
    vec![paragraph(intro), block(BlockKind::Table(table))]
}

fn hole_row(c: &Composer, record: &HoleRecord) -> Row {
    let mut work = Inlines::new();
    for done in &record.work {
        if !work.is_empty() {
            work.push(Inline::text("; "));
        }
        work.push(Inline::text(format!("{} in step ", done.hole.action.word())));
        work.push(c.step_link(done.step));
        if let Some(from) = &done.hole.from {
            work.push(Inline::text(format!(" from {}", from.value)));
        }
    }
    let drill = record.work.iter().rev().find_map(|w| w.hole.drill.as_ref());
    let link = Inline::Link { to: part_anchor(record.part), content: vec![Inline::text(record.part.as_str())] };
    Row {
        cells: vec![
            if c.part(record.part).is_some() { cell(vec![link]) } else { text_cell(record.part.as_str()) },
            text_cell(record.name),
            text_cell(record.supply.word()),
            cell(vec![Inline::Quantity(Quantity::each(record.count()))]),
            text_cell(drill.map_or_else(String::new, |d| drill_words(d.value))),
            text_cell(record.for_.map_or("", |f| f.as_str())),
            cell(work),
        ],
        anchor: None,
        origin: Origin::default(),
    }
}
