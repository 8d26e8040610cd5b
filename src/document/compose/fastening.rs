//! Joints as documents show them: the table of a step, and the registers of joints and holes.

use super::in_short::in_order;
use super::tables::{cell, column, naming, out_already, text_cell};
use std::collections::BTreeSet;

use super::holes::{drill_words, tools};
use super::torques::{CRITICAL, tighten};
use super::{DocumentComposer, block, hardware_anchor, leaf, paragraph};
use crate::document::LiesIn;
use crate::document::block::{Block, BlockKind, Drawn, ListItem, Origin};
use crate::document::inline::{Inline, Inlines};
use crate::document::leaf::{Leaf, LeafRole};
use crate::document::table::{CellAlign, Table, TableRole, TableRow, Width};
use crate::drawing::{Drawing, Hatching, joint_section};
use crate::joint::{Reading, Tightening, read};
use crate::model::{HardwareAction, Joint, StackMember, StepItem, ThreadedInto, Through};
use crate::resolve::ResolvedStep;
use crate::source::Spanned;
use crate::trade::{SafetyWord, Source, hole_for, reamed_hole};
use crate::units::{Designation, Length, Quantity, decimal_text};

/// What is fastened where: the order from the head, how thick it is, the hole, how tight.
pub(super) fn joints(c: &DocumentComposer, s: &ResolvedStep) -> Option<Table> {
    if s.step.joints.is_empty() {
        return None;
    }
    let columns = vec![
        naming("Fastener", Width::Share(2)),
        column("Places", CellAlign::End, Width::Fit),
        column("From the head", CellAlign::Start, Width::Share(4)),
        column("Stack and hole", CellAlign::Start, Width::Share(3)),
        column("Tighten to", CellAlign::Start, Width::Share(3)),
    ];
    let rows = s.step.joints.iter().map(|joint| {
        let reading = read(c.manual, &c.items, joint);
        let mut fastener = vec![hardware_link(&joint.fastener.value)];
        if let Some(note) = &joint.note {
            fastener.extend([Inline::LineBreak, Inline::text(note)]);
        }
        TableRow {
            cells: vec![
                cell(fastener),
                cell(vec![Inline::Quantity(Quantity::each(joint.places))]),
                text_cell(order(joint).join(", ")),
                cell(stack_and_hole(c, joint, &reading)),
                cell(tightened(c, joint, &reading)),
            ],
            anchor: None,
            origin: Origin { step: Some(s.step.id.value.clone()), field: "joints", item: joint.index },
        }
    });
    let rows = rows.collect();
    Some(super::tables::filled(TableRole::Joints, columns, rows))
}

/// A drawing, what is hatched in it, and the joints that it shows.
type Alike<'a> = (Drawing, Vec<Hatching>, Vec<&'a StepItem<Joint>>);

/// The bolted joints of a step in section. Joints that look alike share a drawing.
pub(super) fn drawings(c: &DocumentComposer, s: &ResolvedStep) -> Vec<Block> {
    let mut drawn: Vec<Alike> = Vec::new();
    for joint in &s.step.joints {
        let reading = read(c.manual, &c.items, joint);
        let Some(drawing) = joint_section(joint, &reading, c.manual.settings.units) else { continue };
        let mut hatchings: Vec<Hatching> = reading.members.iter().map(Hatching::of).collect();
        hatchings.sort();
        hatchings.dedup();
        match drawn.iter_mut().find(|(other, _, joints)| *other == drawing && joints[0].fastener == joint.fastener) {
            Some((_, _, joints)) => joints.push(joint),
            None => drawn.push((drawing, hatchings, vec![joint])),
        }
    }
    drawn
        .into_iter()
        .map(|(drawing, hatchings, joints)| {
            let mut caption =
                vec![Inline::strong(joints[0].fastener.value.as_str()), Inline::text(" in section, from the head: ")];
            for (at, joint) in joints.iter().enumerate() {
                if at > 0 {
                    caption.push(Inline::text("; or "));
                }
                for (i, thing) in order(joint).into_iter().enumerate() {
                    caption.push(Inline::text(if i > 0 { ", " } else { "" }));
                    caption.push(Inline::strong(format!("{}", i + 1)));
                    caption.push(Inline::text(format!("\u{a0}{thing}")));
                }
            }
            let key = hatchings.iter().map(|h| h.words()).collect::<Vec<_>>().join("; ");
            let first = key.chars().next().map(|c| c.to_uppercase().to_string()).unwrap_or_default();
            caption.push(Inline::text(format!(". {first}{}.", key.get(1..).unwrap_or(""))));
            Block {
                kind: BlockKind::Drawing(Drawn { drawing, caption }),
                origin: joint_origin(s, joints[0]),
                anchor: None,
            }
        })
        .collect()
}

pub(super) fn hardware_link(designation: &Designation) -> Inline {
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
    let last = joint.stack.len().saturating_sub(1);
    let threaded = |at: usize| match joint.into.as_ref().filter(|_| at == last) {
        Some(into) => format!(" ({})", into.value.word()),
        None => String::new(),
    };
    let member = |(at, m): (usize, &StepItem<StackMember>)| {
        let countersunk = if m.countersunk.is_some() { " (countersunk)" } else { "" };
        format!("{}{}{countersunk}{}", m.part.value, words(m.through), threaded(at))
    };
    joint.stack.iter().enumerate().map(member).collect()
}

pub(super) fn washers(list: &[(Spanned<Designation>, i64)]) -> Vec<String> {
    list.iter().map(|(w, n)| if *n == 1 { w.value.to_string() } else { format!("{n} × {}", w.value) }).collect()
}

/// `stack 1.43 in, hole 1/4 in (.250)`.
fn stack_and_hole(c: &DocumentComposer, joint: &Joint, reading: &Reading) -> Inlines {
    let mut out = Inlines::new();
    if let Some(thickness) = reading.thickness {
        out.extend([Inline::text("stack "), Inline::Length(thickness.value)]);
    }
    if let Some(into) = &joint.into
        && let Some(thread) = reading.fastener.as_ref().and_then(|f| f.thread)
    {
        let drill = drill_words(thread.value.tap_drill(), c.manual.settings.units);
        let lead = if out.is_empty() { "" } else { ", " };
        // An insert has a drill of its maker's.
        let drill = if into.value == ThreadedInto::TappedHole { format!(", drill {drill}") } else { String::new() };
        out.push(Inline::text(format!("{lead}{} {}{drill}", into.value.word(), thread.value)));
    }
    let hole = hole_of(c, &joint.fastener.value);
    if !hole.is_empty() {
        let lead = if out.is_empty() { "hole " } else { ", hole " };
        out.push(Inline::text(format!("{lead}{hole}")));
    }
    out
}

/// The hole for a fastener: its drill, and its reamer where a step of the configuration reams for it or the hardware
/// list names one.
pub(super) fn hole_of(c: &DocumentComposer, fastener: &Designation) -> String {
    let Some(item) = c.items.get(fastener) else { return String::new() };
    let reamed = c.reamed.get(fastener);
    if let Some(hole) = reamed_hole(item).filter(|_| reamed.is_some() || item.reamer.is_some()) {
        let drill = reamed.and_then(|h| h.drill).map_or(hole.value.drill, |d| d.value);
        let reamer = reamed.and_then(|h| h.reamer).map_or(hole.value.reamer, |r| r.value);
        return format!("{}{}", tools(Some(drill), Some(reamer), c.manual.settings.units), from_memory(hole.source));
    }
    hole_for(item).map_or_else(String::new, |hole| {
        format!("{}{}", drill_words(hole.value.drill, c.manual.settings.units), from_memory(hole.source))
    })
}

/// Where an item of hardware that the step takes lies; nothing of what is out of its bag already.
pub(super) fn place_of<'a>(c: &'a DocumentComposer, s: &ResolvedStep, item: &Designation) -> Option<&'a str> {
    let taken = |a| matches!(a, HardwareAction::Fit | HardwareAction::FitTemporarily);
    let need = s.hardware.iter().find(|n| n.designation == *item && taken(n.action))?;
    let listed = c.hardware(item).filter(|_| out_already(c.resolved, s, need) != Some(need.quantity))?;
    let place = if c.place() == LiesIn::Bags { &listed.bag } else { &listed.bin };
    Some(place.as_str()).filter(|p| !p.is_empty())
}

/// The bags or bins that the hardware of a step lies in.
pub(super) fn places_of(c: &DocumentComposer, s: &ResolvedStep) -> Vec<String> {
    in_order(s.hardware.iter().filter_map(|n| place_of(c, s, &n.designation)).map(str::to_owned).collect())
}

/// How tight, and what else is asked for where lives hang on the joint.
fn tightened(c: &DocumentComposer, joint: &Joint, reading: &Reading) -> Inlines {
    let mut out = tighten(joint, reading, c.manual.settings.units);
    if joint.critical.is_some() {
        if !out.is_empty() {
            out.push(Inline::LineBreak);
        }
        out.extend([Inline::strong("Critical: "), Inline::text(CRITICAL)]);
    }
    out
}

/// How tight a fastener is drawn in the joints of the configuration, each different value once.
pub(super) fn tighten_all(c: &DocumentComposer, fastener: &Designation) -> Inlines {
    let mut all: Vec<Inlines> = Vec::new();
    for joint in c.joints.get(fastener).into_iter().flatten() {
        let words = tighten(joint, &read(c.manual, &c.items, joint), c.manual.settings.units);
        if !words.is_empty() && !all.contains(&words) {
            all.push(words);
        }
    }
    let mut out = Inlines::new();
    for words in all {
        if !out.is_empty() {
            out.push(Inline::text("; or "));
        }
        out.extend(words);
    }
    out
}

fn from_memory(source: Source) -> &'static str {
    if source == Source::FromMemory { " (from memory)" } else { "" }
}

/// The joint register and the hole register.
pub(super) fn registers(c: &DocumentComposer) -> Vec<Leaf> {
    vec![
        leaf("joint-register", LeafRole::Index, "Joint register", joint_register(c)),
        leaf("hole-register", LeafRole::Index, "Hole register", super::holes::register(c)),
    ]
}

fn joint_register(c: &DocumentComposer) -> Vec<Block> {
    let columns = vec![
        naming("Step", Width::Fit),
        column("Fastener", CellAlign::Start, Width::Share(2)),
        column("Places", CellAlign::End, Width::Fit),
        column("From the head", CellAlign::Start, Width::Share(4)),
        column("Fit", CellAlign::Start, Width::Share(3)),
        column("Tighten to", CellAlign::Start, Width::Share(3)),
    ];
    let mut rows = Vec::new();
    for s in &c.resolved.steps {
        for joint in &s.step.joints {
            let reading = read(c.manual, &c.items, joint);
            rows.push(TableRow {
                cells: vec![
                    cell(vec![c.step_link(s)]),
                    cell(vec![hardware_link(&joint.fastener.value)]),
                    cell(vec![Inline::Quantity(Quantity::each(joint.places))]),
                    text_cell(order(joint).join(", ")),
                    cell(fit_words(&reading)),
                    cell(tightened(c, joint, &reading)),
                ],
                anchor: None,
                // Another place than the step's own row: it says more of the joint.
                origin: Origin { field: "joint-register", ..joint_origin(s, joint) },
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
    let mut blocks = vec![paragraph(intro), block(message), block(BlockKind::Table(table)), paragraph(sources(c))];
    blocks.extend(look_again(c));
    blocks
}

/// The critical joints, to be ticked when they were looked at after the first use.
fn look_again(c: &DocumentComposer) -> Vec<Block> {
    let joints = c.resolved.steps.iter().flat_map(|s| s.step.joints.iter().map(move |j| (s, j)));
    let critical = joints.filter(|(_, j)| j.critical.is_some() && j.action == HardwareAction::Fit);
    let items: Vec<ListItem> = critical
        .map(|(s, joint)| {
            let places = if joint.places > 1 { format!(", {} places", joint.places) } else { String::new() };
            let text = vec![
                Inline::strong(joint.fastener.value.as_str()),
                Inline::text(format!("{places}, through {}, step ", members(joint).join(", "))),
                c.step_link(s),
            ];
            ListItem { tick: true, blocks: vec![block(BlockKind::Paragraph(text))] }
        })
        .collect();
    if items.is_empty() {
        return Vec::new();
    }
    let words = "After the first use, look at each critical joint again: the paint mark is whole, the pin is in, nothing is loose. \
                 A joint that has moved is done again before the next use.";
    vec![paragraph(words), block(BlockKind::List { ordered: None, items })]
}

/// Where the values of the register come from, each source once.
fn sources(c: &DocumentComposer) -> String {
    let mut by_kind: [(&str, BTreeSet<&str>); 5] = [
        ("Stacks", BTreeSet::new()),
        ("Grips", BTreeSet::new()),
        ("Threads past the nut", BTreeSet::new()),
        ("Holes", BTreeSet::new()),
        ("Table torques", BTreeSet::new()),
    ];
    for joint in c.resolved.steps.iter().flat_map(|s| &s.step.joints) {
        let reading = read(c.manual, &c.items, joint);
        let fastener = reading.fastener.as_deref();
        let fit = reading.fit.as_ref().and_then(|f| f.as_ref().ok());
        let grip = fastener.and_then(|f| f.grip.map(|g| g.source).or(f.grip_range.map(|g| g.source)));
        let torque = if let Tightening::Table(torque) = &reading.tightening { Some(torque.source) } else { None };
        let found = [
            reading.thickness.map(|t| t.source),
            grip,
            fit.and_then(|f| f.threads_past).map(|t| t.source),
            fastener.and_then(hole_for).map(|h| h.source),
            torque,
        ];
        for ((_, sources), source) in by_kind.iter_mut().zip(found) {
            sources.extend(source.map(Source::words));
        }
    }
    let said = by_kind.iter().filter(|(_, sources)| !sources.is_empty());
    let said =
        said.map(|(kind, sources)| format!("{kind}: {}", sources.iter().copied().collect::<Vec<_>>().join("; ")));
    format!(
        "Where the values come from. {}. A designer's value is the maker's own.",
        said.collect::<Vec<_>>().join(". ")
    )
}

fn joint_origin(s: &ResolvedStep, joint: &StepItem<Joint>) -> Origin {
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
        let margin = reading.fit.as_ref().and_then(|f| f.as_ref().ok()).and_then(|f| f.margins.hole).map(|m| m.value);
        if let Some(margin) = margin.filter(|m| *m != Length::ZERO) {
            let (size, side) = if margin > Length::ZERO { (margin, "over") } else { (Length::ZERO - margin, "under") };
            out.extend([Inline::text(", "), Inline::Length(size), Inline::text(format!(" {side}"))]);
        }
    } else if let Some(range) = fastener.grip_range {
        out.push(Inline::text(format!("{}grip ", comma(&out))));
        match range.value.least {
            Some(least) => out.extend([Inline::Length(least), Inline::text(" to ")]),
            None => out.push(Inline::text("up to ")),
        }
        out.push(Inline::Length(range.value.most));
        out.extend((range.source == Source::FromMemory).then(|| Inline::text(" (from memory)")));
    } else if let Some(length) = fastener.length {
        // A screw of 20 mm is asked for in millimetres, in any manual.
        let length = crate::units::plain(&length.value.pieces(fastener.native_style()));
        out.push(Inline::text(format!("{}length {length}", comma(&out))));
    }
    if let Some(Ok(fit)) = &reading.fit
        && let Some(past) = fit.threads_past
    {
        out.push(Inline::text(format!(
            ", {} threads past the nut{}",
            decimal_text(past.value, 1),
            from_memory(past.source)
        )));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Mark;
    use crate::joint::Items;
    use crate::source::Memory;
    use crate::units::UnitStyle;

    /// Published AN bolt tables: AN4-17A, grip 1 7/16 in; a 1.25 tube between two plates of .090 is a stack of 1.43 in.
    #[test]
    fn the_section_is_to_scale() {
        let mut files = Memory::new();
        files
            .insert("manual.yaml", "title: T\nvariants:\n  A: { title: A }\nsections:\n  - { section: s, title: S }\n");
        files.insert("parts.csv", "number,name,material,stock,A\nP,Plate,4130 steel,S,2\nT,Tube,4130 steel,T,1\n");
        files.insert(
            "stock.csv",
            "stock,material,shape,outside diameter,wall\nS,4130 steel,sheet,,.090\nT,4130 steel,round tube,1.25,.058\n",
        );
        files.insert(
            "hardware.csv",
            "designation,name,kind\nAN4-17A,Bolt,bolt\nMS21044N4,Nut,nut\nAN960-416,Washer,washer\n",
        );
        let joint = "  - { fastener: AN4-17A, stack: [P, { part: T, through: tube }, P], under-nut: [AN960-416], nut: MS21044N4 }\n";
        files.insert("steps/1.md", format!("---\nstep: s\ntitle: T\nsection: s\njoints:\n{joint}---\n"));
        let manual = crate::model::read(&files).expect("memory can be listed").manual.expect("a manual");
        let items = Items::new(&manual);
        let reading = read(&manual, &items, &manual.steps[0].joints[0]);
        let drawing = joint_section(&manual.steps[0].joints[0], &reading, UnitStyle::InchFraction).expect("a drawing");
        let spans: Vec<f64> = drawing
            .marks
            .iter()
            .filter_map(|mark| if let Mark::Level { from, to, .. } = mark { Some(to.0 - from.0) } else { None })
            .collect();
        // Grip against stack: 1.4375 to 1.43.
        assert!((spans[0] / spans[1] - 1.4375 / 1.43).abs() < 1e-9, "{spans:?}");
        assert!(
            drawing.alt.contains("stack of 1.43 in") && drawing.alt.contains("threads past the nut"),
            "{}",
            drawing.alt
        );
    }
}
