//! A step's leaf, and the opening of a section.

use super::tables::{self};
use super::text::{ComposedText, step_text};
use super::{
    DocumentComposer, block, field, group, item_anchor, paragraph, row_anchor, section_anchor, section_title, spoken,
    step_anchor,
};
use crate::document::bars::SECTION;
use crate::document::block::{
    Arrow, Block, BlockKind, Callout, ContentsEntry, Figure, ListItem, Origin, Region, RegionRole, StepHead,
};
use crate::document::inline::{Anchor, Inline, Inlines};
use crate::document::leaf::{Leaf, LeafRole};
use crate::document::table::{Table, TableRow};
use crate::figure::Crop;
use crate::model::{CalloutTarget, FigureUse, Inspect, StepItem};
use crate::resolve::{ResolvedSection, ResolvedStep};
use crate::units::{FigureName, StepId};

/// The opening of a section: what it is about, its steps, its hours.
pub(super) fn section(c: &DocumentComposer, section: &ResolvedSection) -> Leaf {
    let steps = &c.resolved.steps[section.steps.clone()];
    let mut blocks = Vec::new();
    if let Some(intro) = &section.intro {
        let item = section.number as usize - 1;
        blocks.push(Block { origin: Origin { step: None, field: SECTION, item }, ..paragraph(intro) });
    }
    let hours: crate::units::Rational = steps.iter().filter_map(|s| s.step.hours.as_ref()).map(|h| h.value).sum();
    if *hours.numer() != 0 {
        let words = match steps.iter().all(|s| s.step.hours.is_some()) {
            true => format!("Allow about {} for this section.", hours_words(hours)),
            false => format!(
                "Allow at least {} for this section; not every step says how long it takes.",
                hours_words(hours)
            ),
        };
        blocks.push(paragraph(words));
    }
    let entries = steps
        .iter()
        .map(|s| ContentsEntry {
            level: 2,
            number: Some(s.number.to_string().into()),
            title: match c.resolved.waits.contains_key(&s.step.id.value) {
                true => super::around::waiting(&[Inline::text(&s.step.title.value)]),
                false => vec![Inline::text(&s.step.title.value)],
            },
            to: step_anchor(&s.step.id.value),
        })
        .collect();
    blocks.push(block(BlockKind::Contents(entries)));
    Leaf {
        anchor: section_anchor(section),
        role: LeafRole::Section,
        number: Some(section.number.to_string().into()),
        title: vec![Inline::text(&section.title)],
        parent: None,
        blocks,
    }
}

/// `1.5 hours`
pub(super) fn hours_words(hours: crate::units::Rational) -> String {
    let quantity = crate::units::Quantity { value: hours, unit: crate::units::Unit::Each };
    let word = if hours == crate::units::Rational::from_integer(1) { "hour" } else { "hours" };
    format!("{quantity} {word}")
}

/// A step's leaf: safety first, then what to pull, then figure and actions with their values, then what to measure and sign;
/// what is looked up comes last.
pub(super) fn step(c: &DocumentComposer, s: &ResolvedStep) -> Leaf {
    let step = &s.step;
    let id = &step.id.value;
    let section = c.resolved.sections.iter().find(|x| x.number == s.number.section);
    let mut blocks = vec![head(c, s)];
    for item in &step.safety {
        let text = block(BlockKind::Paragraph(vec![Inline::text(&item.text.value)]));
        let origin = Origin { step: Some(id.clone()), field: "safety", item: item.index };
        blocks.push(Block { kind: BlockKind::Safety { word: item.word, blocks: vec![text] }, origin, anchor: None });
    }
    blocks.extend(super::kit::at_step(c, s));
    if let Some(table) = super::bonds::waits(c, s) {
        let stop =
            "Do not begin before what is glued has cured. Break the test piece first: where it fails, stop and ask.";
        blocks.push(group("cured", "Wait for the glue", vec![paragraph(stop), block(BlockKind::Table(table))], id));
    }
    blocks.extend(pull(c, s));
    // What this step closes is inspected before its work, not after it.
    let closed_here = |i: &&StepItem<Inspect>| step.closes.iter().any(|c| c.value.value == i.what.value);
    let (first, last): (Vec<_>, Vec<_>) = step.inspects.iter().partition(closed_here);
    blocks.extend(inspections(
        &first,
        "Inspect before you close",
        "Stop here. Close nothing before each point is as it must be.",
        id,
    ));
    blocks.extend(region(RegionRole::Work, Vec::new(), work(c, s)));
    if let Some(table) = tables::measures(s) {
        blocks.push(group("measure", "Measure and write down", vec![block(BlockKind::Table(table))], id));
    }
    blocks.extend(inspections(
        &last,
        "Inspect before you go on",
        "Stop here. Go on only when each point is as it must be.",
        id,
    ));
    if !step.sign_off.is_empty() {
        let signs = step.sign_off.iter().enumerate().map(|(item, role)| Block {
            kind: BlockKind::SignOff { role: vec![Inline::text(&role.value)] },
            origin: Origin { step: Some(id.clone()), field: "sign-off", item },
            anchor: None,
        });
        blocks.push(group("sign-off", "Sign off", signs.collect(), id));
    }
    blocks.extend(region(RegionRole::Lookup, Vec::new(), lookup(c, s)));
    Leaf {
        anchor: step_anchor(id),
        role: LeafRole::Step,
        number: Some(s.number.to_string().into()),
        title: vec![Inline::text(&step.title.value)],
        parent: section.map(section_anchor),
        blocks,
    }
}

/// Nothing where nothing stands in it.
fn region(role: RegionRole, in_short: Inlines, blocks: Vec<Block>) -> Option<Block> {
    (!blocks.is_empty()).then(|| block(BlockKind::Region(Region { role, in_short, blocks })))
}

/// What the step takes: parts, hardware, tools.
fn pull(c: &DocumentComposer, s: &ResolvedStep) -> Option<Block> {
    let id = &s.step.id.value;
    let pulls = s.step.parts.iter().any(|p| c.fresh.contains_key(&(id, &p.part.value)));
    let title = if pulls { "Pull these parts" } else { "Parts at hand" };
    let mut blocks = Vec::new();
    let mut tabled = |role, title, table: Option<_>| {
        blocks.extend(table.map(|table| group(role, title, tables::gathered(table), id)));
    };
    tabled("pull", title, tables::parts(c, s));
    tabled("hardware", "Hardware", tables::hardware(c, s));
    blocks.extend(tools(c, s));
    region(RegionRole::Pull, super::in_short::pull(c, s), blocks)
}

/// Gives a row the place that the actions lead to. Of several rows of one item the first has it.
fn anchored(row: &mut TableRow, id: &StepId) {
    if row.anchor.is_none() {
        row.anchor = Some(item_anchor(id, row.origin.field, row.origin.item));
    }
}

/// Tables and drawings of the step, to be looked up: an action shows what it needs of them.
fn lookup(c: &DocumentComposer, s: &ResolvedStep) -> Vec<Block> {
    let id = &s.step.id.value;
    let mut blocks = Vec::new();
    let mut drawn = |role, title, table: Option<Table>, drawings: Vec<Block>| {
        if let Some(mut table) = table {
            table.rows.iter_mut().for_each(|row| anchored(row, id));
            tables::unique_anchors(&mut table.rows);
            let inner = tables::gathered(table).into_iter().chain(drawings).collect();
            blocks.push(group(role, title, inner, id));
        }
    };
    drawn("joints", "Joints", super::fastening::joints(c, s), super::fastening::drawings(c, s));
    drawn("cuts", "Cuts", tables::cuts(c, s), super::cuts::drawings(c, s));
    drawn("bends", "Bends", super::bends::table(c, s), super::bends::drawings(c, s));
    drawn("flattened", "Flattened ends", super::bends::flattened(c, s), super::bends::flat_drawings(c, s));
    drawn("cables", "Cables", super::cables::table(c, s), super::cables::drawings(c, s));
    drawn("bonds", "Glue", super::bonds::table(c, s), super::bonds::data(c, s));
    drawn("wires", "Wires", super::wires::table(c, s), Vec::new());
    drawn("offsets", "Set out", super::setting_out::offsets(c, s), Vec::new());
    drawn("holes", "Holes", super::holes::table(c, s), super::setting_out::rows(c, s));
    let jig = super::setting_out::one_jig(s);
    if !jig.is_empty() {
        blocks.push(group("one-jig", "Jig", jig, id));
    }
    blocks
}

fn head(c: &DocumentComposer, s: &ResolvedStep) -> Block {
    let step = &s.step;
    let section = c.resolved.sections.iter().find(|x| x.number == s.number.section);
    let mut facts = Vec::new();
    let before = c.step_links(&s.before);
    if !before.is_empty() {
        facts.push(field("Do first", before));
    }
    if !step.makes.is_empty() {
        let names: Vec<_> = step.makes.iter().map(|m| spoken(m.value.value.as_str())).collect();
        facts.push(field("Makes", vec![Inline::text(names.join(", "))]));
    }
    if !step.closes.is_empty() {
        let names: Vec<_> = step.closes.iter().map(|m| spoken(m.value.value.as_str())).collect();
        facts.push(field("Closes for good", vec![Inline::text(names.join(", "))]));
    }
    if let Some(hours) = &step.hours {
        facts.push(field("Time", vec![Inline::text(hours_words(hours.value))]));
    }
    let head = StepHead {
        number: s.number.to_string().into(),
        title: vec![Inline::text(&step.title.value)],
        section: section.map_or_else(Vec::new, section_title),
        hand: step.hand.as_ref().map(|h| h.value),
        effectivity: s.effectivity.as_ref().map(|e| vec![Inline::text(format!("Only: {e}"))]),
        facts,
    };
    let origin = Origin { step: Some(step.id.value.clone()), field: "title", item: 0 };
    Block { kind: BlockKind::StepHead(head), origin, anchor: None }
}

/// Tools and consumables, a line each.
fn tools(c: &DocumentComposer, s: &ResolvedStep) -> Option<Block> {
    let step = &s.step;
    let settings = &c.manual.settings;
    let with_note =
        |title: &str, note: Option<&String>| note.map_or_else(|| title.to_owned(), |n| format!("{title} ({n})"));
    let tools: Vec<_> = step
        .tools
        .iter()
        .map(|t| {
            let title = settings.tool_title(&t.value.value);
            with_note(title, t.note.as_ref())
        })
        .collect();
    let consumables: Vec<_> = step
        .consumables
        .iter()
        .map(|t| {
            let title = settings.consumable_title(&t.value.value);
            with_note(title, t.note.as_ref())
        })
        .collect();
    let mut consumables = consumables;
    for with in step.holes.iter().filter_map(|h| h.touch_up.as_ref()) {
        let title = settings.consumable_title(&with.value);
        if !step.consumables.iter().any(|c| c.value.value == with.value) && !consumables.iter().any(|c| c == title) {
            consumables.push(title.to_owned());
        }
    }
    if tools.is_empty() && consumables.is_empty() {
        return None;
    }
    let mut fields = Vec::new();
    if !tools.is_empty() {
        fields.push(field("Tools", vec![Inline::text(tools.join("; "))]));
    }
    if !consumables.is_empty() {
        fields.push(field("Consumables", vec![Inline::text(consumables.join("; "))]));
    }
    Some(group("tools", "Have ready", vec![block(BlockKind::Fields(fields))], &step.id.value))
}

/// The figures and the text that works from them. Where a text is in several lists, a figure that one of the later ones refers
/// to stands above that list.
fn work(c: &DocumentComposer, s: &ResolvedStep) -> Vec<Block> {
    let id = &s.step.id.value;
    let ComposedText { blocks, footnotes } = step_text(c, s);
    let mut figures: Vec<(&FigureName, Option<Block>)> =
        s.step.figures.iter().enumerate().map(|(i, f)| (&f.figure.value, Some(figure(c, s, i, &f.value)))).collect();
    let is_list = |block: &Block| matches!(block.kind, BlockKind::List { ordered: Some(_), .. });
    let mut work = Vec::new();
    let mut lists = 0;
    for (block, names) in blocks {
        lists += usize::from(is_list(&block));
        if lists > 1 {
            let named = figures.iter_mut().filter(|(name, _)| names.contains(name));
            work.extend(named.filter_map(|(_, figure)| figure.take()));
        }
        work.push(block);
    }
    work.extend(footnotes);
    let first: Vec<Block> = figures.into_iter().filter_map(|(_, figure)| figure).collect();
    let mut out: Vec<Block> = region(RegionRole::Figures, Vec::new(), first).into_iter().collect();
    if !work.is_empty() {
        out.push(group("do", "Do this", work, id));
    }
    out
}

fn figure(c: &DocumentComposer, s: &ResolvedStep, index: usize, f: &FigureUse) -> Block {
    let id = &s.step.id.value;
    let mut view = Vec::new();
    view.extend(f.view.clone());
    view.extend(f.up.as_ref().map(|up| format!("up is {}", toward(up))));
    view.extend(f.forward.as_ref().map(|forward| format!("forward is {}", toward(forward))));
    let crop = f.crop.map(|c| c.value);
    let shown = crop.unwrap_or(Crop::WHOLE);
    let callouts = f
        .callouts
        .iter()
        .filter_map(|callout| {
            let at = shown.place(callout.at.as_ref()?.value);
            let (text, to) = callout_target(c, s, &callout.target);
            Some(Callout { number: callout.number.value as u32, at, text, to })
        })
        .collect();
    let figure = Figure {
        name: f.figure.value.clone(),
        label: format!("Figure {}-{}", s.number, index + 1).into(),
        alt: f.alt.as_ref().map_or("", |a| a.value.as_str()).into(),
        caption: f.caption.iter().map(Inline::text).collect(),
        view: if view.is_empty() { Vec::new() } else { vec![Inline::text(view.join(", "))] },
        crop,
        callouts,
        arrows: f
            .arrows
            .iter()
            .map(|a| Arrow { from: shown.place(a.from.value), to: shown.place(a.to.value) })
            .collect(),
        width: f.width.as_ref().map(|w| w.value),
    };
    Block {
        kind: BlockKind::Figure(figure),
        origin: Origin { step: Some(id.clone()), field: "figures", item: index },
        anchor: Some(Anchor::new("figure", &format!("{id}-{}", index + 1))),
    }
}

/// `top` as it is said in a sentence: `at the top`.
fn toward(word: &str) -> String {
    match word {
        "top" | "bottom" => format!("at the {word}"),
        "left" | "right" => format!("to the {word}"),
        "away" => "away from the reader".to_owned(),
        other => other.to_owned(),
    }
}

/// What a callout says, and the row of this step that it is tied to.
fn callout_target(c: &DocumentComposer, s: &ResolvedStep, target: &CalloutTarget) -> (Inlines, Option<Anchor>) {
    let id: &StepId = &s.step.id.value;
    match target {
        CalloutTarget::Part(part) => {
            let number = &part.value;
            let name = c.part(number).map_or("", |p| p.name.as_str());
            let mut text = vec![Inline::strong(number.as_str()), Inline::text(format!(" {name}"))];
            if let Some(hand) = c.part(number).and_then(|p| p.hand) {
                text.extend([Inline::text(" "), Inline::Hand(hand)]);
            }
            let here = s.step.parts.iter().any(|p| p.part.value == *number);
            (text, here.then(|| row_anchor(id, number.as_str())))
        }
        CalloutTarget::Hardware(hardware) => {
            let designation = &hardware.value;
            let name = c.hardware(designation).map_or("", |h| h.name.as_str());
            let text = vec![Inline::strong(designation.as_str()), Inline::text(format!(" {name}"))];
            let here = s.hardware.iter().any(|h| h.designation == *designation);
            (text, here.then(|| row_anchor(id, designation.as_str())))
        }
        CalloutTarget::Assembly(assembly) => {
            let here = s.step.assemblies.iter().any(|a| a.assembly.value == assembly.value);
            let to = here.then(|| row_anchor(id, assembly.value.as_str()));
            (vec![Inline::text(spoken(assembly.value.as_str()))], to)
        }
        CalloutTarget::Text(text) => (vec![Inline::text(text)], None),
    }
}

/// Inspection holds: nothing goes on before these are ticked.
fn inspections(inspects: &[&StepItem<Inspect>], title: &str, stop: &str, id: &StepId) -> Option<Block> {
    if inspects.is_empty() {
        return None;
    }
    let items = inspects.iter().map(|i| {
        let name = spoken(i.what.value.as_str());
        let text = vec![Inline::strong(format!("Before closing {name}: ")), Inline::text(&i.look_for)];
        ListItem { tick: true, blocks: vec![block(BlockKind::Paragraph(text))] }
    });
    let list = block(BlockKind::List { ordered: None, items: items.collect() });
    Some(group("inspect", title, vec![paragraph(stop), list], id))
}
