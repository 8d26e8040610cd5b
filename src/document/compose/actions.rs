//! What each action of a step needs at hand: the fastener with its washers and nut, the torque, the drill, the cut, the measure.
//!
//! Owns: the lines below an action. Must not know: how an action is tied to its data.

use std::collections::BTreeMap;

use super::DocumentComposer;
use super::fastening::{hardware_link, members, place_of, washers};
use super::holes::sizes;
use super::tables::{cut_words, part_link, wanted};
use super::torques::{CRITICAL, DRAG, DRAG_IS, tighten};
use super::{field, item_anchor};
use crate::action::{Action, ActionPlace, Deed, KnownBy, Tie, actions, linked_items};
use crate::document::LiesIn;
use crate::document::block::Field;
use crate::document::inline::{Anchor, Inline, Inlines, plain_text};
use crate::joint::read;
use crate::model::{CutKind, Joint, OwnLink, StepItem};
use crate::resolve::ResolvedStep;
use crate::units::{Designation, PartNumber, Quantity};

/// The lines of each action that has any.
pub(super) fn values(c: &DocumentComposer, s: &ResolvedStep) -> BTreeMap<ActionPlace, Vec<Field>> {
    let all = actions(c.manual, &s.step);
    let lines = all.iter().map(|action| (action.place, lines(c, s, action)));
    let mut lines: BTreeMap<ActionPlace, Vec<Field>> = lines.filter(|(_, lines)| !lines.is_empty()).collect();
    // What drag is, where it is first felt.
    let has_drag = |line: &&mut Field| plain_text(&line.value, c.manual.settings.units).contains(DRAG);
    if let Some(line) = lines.values_mut().flatten().find(has_drag) {
        line.value.push(Inline::text(DRAG_IS));
    }
    lines
}

/// What a link to a value prints, in the units of the manual; none where the step has no such value. Where several items have
/// the name the first with a value tells: that all say the same is a rule's matter.
pub(super) fn value(c: &DocumentComposer, s: &ResolvedStep, kind: OwnLink, name: &str) -> Option<Inlines> {
    let step = &s.step;
    let units = c.manual.settings.units;
    let items = |deed| linked_items(step, deed, name);
    match kind {
        OwnLink::Torque => items(Deed::Tighten).into_iter().find_map(|i| {
            let joint = &step.joints[i];
            Some(tighten(joint, &read(c.manual, &c.items, joint), units)).filter(|words| !words.is_empty())
        }),
        OwnLink::Drill => items(Deed::Drill).into_iter().find_map(|i| {
            let words = sizes(c, &step.holes[i]);
            (!words.is_empty()).then(|| vec![Inline::text(words)])
        }),
        OwnLink::Length => {
            let cut = items(Deed::Cut).into_iter().find_map(|i| step.cuts[i].length.as_ref());
            let cable = || step.cables.iter().find(|k| k.cable.value == name)?.length.as_ref();
            let wire = || step.wires.iter().find(|w| w.wire.value == name).map(|w| &w.length);
            let of_part = || c.part(&PartNumber::new(name))?.cut_length.as_ref();
            let length = cut.or_else(cable).or_else(wire).or_else(of_part)?;
            Some(vec![Inline::Length(length.value)])
        }
        OwnLink::Angle => {
            let angle = items(Deed::Cut).into_iter().find_map(|i| step.cuts[i].angle);
            let bend = || items(Deed::Bend).into_iter().find_map(|i| step.bends[i].angles.first().copied());
            Some(vec![Inline::Angle(angle.or_else(bend)?.value)])
        }
        OwnLink::Count => {
            let part = step.parts.iter().find(|p| p.part.value.as_str() == name).map(|p| Quantity::each(p.quantity));
            let hardware = || s.hardware.iter().find(|h| h.designation.as_str() == name).map(|h| h.quantity);
            Some(vec![Inline::Quantity(part.or_else(hardware)?)])
        }
        OwnLink::Target => {
            let measure = &step.measures[*items(Deed::Measure).first()?];
            Some(wanted(measure)).filter(|words| !words.is_empty())
        }
        _ => None,
    }
}

/// The row of a table that a link leads to: the first of what it names; none where no row shows it.
pub(super) fn row_of(s: &ResolvedStep, kind: OwnLink, name: &str) -> Option<Anchor> {
    let step = &s.step;
    let first = |deed| linked_items(step, deed, name).first().copied();
    let (list, item) = match kind {
        OwnLink::Joint => ("joints", step.joints[first(Deed::Fit)?].index),
        OwnLink::Hole => ("holes", step.holes[first(Deed::Drill)?].index),
        OwnLink::Cut => ("cuts", step.cuts[first(Deed::Cut)?].index),
        _ => return None,
    };
    Some(item_anchor(&step.id.value, list, item))
}

fn lines(c: &DocumentComposer, s: &ResolvedStep, action: &Action) -> Vec<Field> {
    let mut out = Vec::new();
    for deed in Deed::ALL {
        let items: Vec<usize> = action.items(deed).collect();
        if items.is_empty() {
            continue;
        }
        let alike = |t: &Tie| t.deed == deed && matches!(t.known_by, KnownBy::Alike(_));
        if action.ties.iter().any(alike) {
            out.extend(in_common(c, s, deed, &items));
            continue;
        }
        match deed {
            Deed::Fit => out.extend(fit(c, s, &items)),
            Deed::Tighten => out.extend(torque(c, s, &items)),
            Deed::Drill => out.extend(drill(c, s, &items)),
            Deed::Cut => out.extend(items.iter().map(|&i| cut(c, s, i))),
            Deed::Bend => out.extend(items.iter().map(|&i| bend(s, i))),
            Deed::Flatten => out.extend(items.iter().map(|&i| flatten(s, i))),
            Deed::Close => out.extend(press(s, &items)),
            Deed::Glue => out.extend(items.iter().map(|&i| glue(c, s, i))),
            Deed::Crimp => out.extend(items.iter().map(|&i| crimp(s, i))),
            Deed::Measure => out.extend(items.iter().map(|&i| measure(s, i))),
        }
    }
    said_once(out)
}

/// Lines of one label under one.
fn said_once(lines: Vec<Field>) -> Vec<Field> {
    let mut out: Vec<Field> = Vec::new();
    for line in lines {
        match out.iter_mut().find(|other| other.label == line.label) {
            Some(other) => {
                other.value.push(Inline::LineBreak);
                other.value.extend(line.value);
            }
            None => out.push(line),
        }
    }
    out
}

/// What is the same for all of some items, of which an action does one or more.
fn in_common(c: &DocumentComposer, s: &ResolvedStep, deed: Deed, items: &[usize]) -> Vec<Field> {
    match deed {
        Deed::Drill => {
            let hole = &s.step.holes[items[0]];
            let sizes = sizes(c, hole);
            // Each of several rows may be made in another way to the same size.
            let same = items.iter().all(|&i| s.step.holes[i].action == hole.action);
            let label = if same { label_of(hole.action) } else { "Drill" };
            if sizes.is_empty() { Vec::new() } else { vec![field(label, vec![Inline::strong(sizes)])] }
        }
        Deed::Cut => {
            let cut = &s.step.cuts[items[0]];
            // Which way round and how long is of each cut alone.
            let mut value = vec![Inline::strong(cut.kind.word())];
            if let Some(angle) = &cut.angle {
                let from = if cut.kind == CutKind::Saddle { " between the axes" } else { " off square" };
                value.extend([Inline::text(", "), Inline::Angle(angle.value), Inline::text(from)]);
            }
            vec![field("Cut", value)]
        }
        Deed::Tighten => torque(c, s, items),
        Deed::Close => press(s, items),
        Deed::Fit => {
            vec![field("Fit", fastener(c, s, &s.step.joints[items[0]], false))]
        }
        Deed::Bend | Deed::Flatten | Deed::Glue | Deed::Crimp | Deed::Measure => Vec::new(),
    }
}

/// `AN4-17A (bag F2): under the nut AN960-416; MS21044N4`
fn fastener(c: &DocumentComposer, s: &ResolvedStep, joint: &Joint, stack: bool) -> Inlines {
    let mut value = vec![Inline::Strong(vec![hardware_link(&joint.fastener.value)])];
    value.extend(in_bag(c, s, &joint.fastener.value));
    let rest = with_it(joint, stack);
    if !rest.is_empty() {
        value.push(Inline::text(format!(": {}", rest.join("; "))));
    }
    value
}

/// ` (bag F2)`
fn in_bag(c: &DocumentComposer, s: &ResolvedStep, item: &Designation) -> Option<Inline> {
    let place = lies_in(c, s, item);
    (!place.is_empty()).then(|| Inline::text(format!(" ({place})")))
}

/// What goes on with a fastener, from the head.
fn with_it(joint: &Joint, stack: bool) -> Vec<String> {
    let mut out = Vec::new();
    if !joint.under_head.is_empty() {
        out.push(format!("under the head {}", washers(&joint.under_head).join(", ")));
    }
    if stack && !joint.stack.is_empty() {
        out.push(format!("through {}", members(joint).join(", ")));
    }
    if !joint.under_nut.is_empty() {
        out.push(format!("under the nut {}", washers(&joint.under_nut).join(", ")));
    }
    out.extend(joint.nut.iter().map(|n| n.value.to_string()));
    out.extend(joint.pin.iter().map(|p| format!("pin {}", p.value)));
    out
}

/// The most different stacks that an action shows; of more it shows the hardware alone, and the table of joints the rest.
const MOST_STACKS: usize = 6;

/// `2 × AN4-17A, bag F2: through SK-115, SK-101, SK-118; under the nut AN960-416; MS21044N4`.
fn fit(c: &DocumentComposer, s: &ResolvedStep, items: &[usize]) -> Vec<Field> {
    let joints: Vec<&StepItem<Joint>> = items.iter().map(|&i| &s.step.joints[i]).collect();
    let alike = |with_stack: bool| {
        let mut kinds: Vec<(&StepItem<Joint>, i64)> = Vec::new();
        for joint in &joints {
            let same = |other: &&StepItem<Joint>| {
                on_fastener(other) == on_fastener(joint) && (!with_stack || members(other) == members(joint))
            };
            match kinds.iter_mut().find(|(other, _)| same(other)) {
                Some((_, places)) => *places += joint.places,
                None => kinds.push((joint, joint.places)),
            }
        }
        kinds
    };
    let with_stacks = alike(true);
    let stacks = with_stacks.len() <= MOST_STACKS;
    let kinds = if stacks { with_stacks } else { alike(false) };
    let each = |(joint, places): (&StepItem<Joint>, i64)| {
        let mut value = vec![Inline::Quantity(Quantity::each(places)), Inline::text(" × ")];
        value.extend(fastener(c, s, joint, stacks));
        field("Fit", value)
    };
    kinds.into_iter().map(each).collect()
}

/// Everything that goes on with the fastener: what makes two joints the same to the hand.
fn on_fastener(joint: &Joint) -> (&Designation, Vec<String>, Vec<String>, Option<&Designation>, Option<&Designation>) {
    let nut = joint.nut.as_ref().map(|n| &n.value);
    let pin = joint.pin.as_ref().map(|p| &p.value);
    (&joint.fastener.value, washers(&joint.under_head), washers(&joint.under_nut), nut, pin)
}

/// `bag F2`; nothing of what is out of its bag already.
fn lies_in(c: &DocumentComposer, s: &ResolvedStep, item: &Designation) -> String {
    let word = if c.place() == LiesIn::Bags { "bag" } else { "bin" };
    place_of(c, s, item).map_or_else(String::new, |place| format!("{word}\u{a0}{place}"))
}

fn torque(c: &DocumentComposer, s: &ResolvedStep, items: &[usize]) -> Vec<Field> {
    // How tight, whether lives hang on it, and the fasteners of which both are so.
    let mut said: Vec<((Inlines, bool), Vec<&Designation>)> = Vec::new();
    for joint in items.iter().map(|&i| &s.step.joints[i]) {
        let words = tighten(joint, &read(c.manual, &c.items, joint), c.manual.settings.units);
        if words.is_empty() {
            continue;
        }
        let (words, fastener) = ((words, joint.critical.is_some()), &joint.fastener.value);
        match said.iter_mut().find(|(other, _)| *other == words) {
            Some((_, of)) if !of.contains(&fastener) => of.push(fastener),
            Some(_) => {}
            None => said.push((words, vec![fastener])),
        }
    }
    let several = said.len() > 1;
    let each = |((words, critical), of): ((Inlines, bool), Vec<&Designation>)| {
        let mut value = Inlines::new();
        if several {
            let of: Vec<&str> = of.iter().map(|d| d.as_str()).collect();
            value.push(Inline::text(format!("{}: ", of.join(", "))));
        }
        value.push(Inline::Strong(words));
        if critical {
            value.extend([Inline::text("; "), Inline::strong("critical: "), Inline::text(CRITICAL)]);
        }
        field("Torque", value)
    };
    said.into_iter().map(each).collect()
}

/// `1/4 in (.250): SK-101 sleeve, 2 holes`. Rows that are made with the same tools stand in one line.
fn drill(c: &DocumentComposer, s: &ResolvedStep, items: &[usize]) -> Vec<Field> {
    let mut kinds: Vec<(&'static str, String, Vec<Inlines>)> = Vec::new();
    for hole in items.iter().map(|&i| &s.step.holes[i]) {
        let sizes = sizes(c, hole);
        if sizes.is_empty() {
            continue;
        }
        let mut what = vec![part_link(&hole.part.value)];
        if let Some(name) = &hole.hole {
            what.push(Inline::text(format!(" {}", name.value)));
        }
        let holes = if hole.count == 1 { "1 hole".to_owned() } else { format!("{} holes", hole.count) };
        what.push(Inline::text(format!(", {holes}")));
        if let Some(from) = &hole.from {
            what.push(Inline::text(format!(" from {}", from.value)));
        }
        let label = label_of(hole.action);
        match kinds.iter_mut().find(|(l, s, _)| *l == label && *s == sizes) {
            Some((.., of)) => of.push(what),
            None => kinds.push((label, sizes, vec![what])),
        }
    }
    let each = |(label, sizes, of): (&'static str, String, Vec<Inlines>)| {
        let mut value = vec![Inline::strong(sizes), Inline::text(": ")];
        for (i, what) in of.into_iter().enumerate() {
            if i > 0 {
                value.push(Inline::text("; "));
            }
            value.extend(what);
        }
        field(label, value)
    };
    kinds.into_iter().map(each).collect()
}

fn label_of(action: crate::model::HoleAction) -> &'static str {
    use crate::model::HoleAction as A;
    match action {
        A::Drill => "Drill",
        A::MatchDrill => "Match-drill",
        A::OpenUp => "Open up",
        A::Ream => "Ream",
        A::Deburr => "Deburr",
        A::Prime => "Prime",
    }
}

fn cut(c: &DocumentComposer, s: &ResolvedStep, item: usize) -> Field {
    let cut = &s.step.cuts[item];
    let mut value = vec![part_link(&cut.part.value)];
    if let Some(end) = &cut.end {
        value.push(Inline::text(format!(" end {}", end.value.word())));
    }
    value.push(Inline::text(format!(": {}, ", cut.kind.word())));
    value.extend(cut_words(cut));
    let of_part = || c.part(&cut.part.value)?.cut_length.as_ref();
    if let Some(length) = cut.length.as_ref().or_else(of_part) {
        value.extend([Inline::text("; length "), Inline::Strong(vec![Inline::Length(length.value)])]);
    }
    field("Cut", value)
}

fn bend(s: &ResolvedStep, item: usize) -> Field {
    let bend = &s.step.bends[item];
    let mut value = vec![part_link(&bend.part.value), Inline::text(": ")];
    for (i, angle) in bend.angles.iter().enumerate() {
        if i > 0 {
            value.push(Inline::text(", "));
        }
        value.push(Inline::Angle(angle.value));
    }
    for (i, radius) in bend.radii.iter().enumerate() {
        value.extend([Inline::text(if i == 0 { "; inside radius " } else { ", " }), Inline::Length(radius.value)]);
    }
    field("Bend", value)
}

fn flatten(s: &ResolvedStep, item: usize) -> Field {
    let flat = &s.step.flattened[item];
    let mut value = vec![part_link(&flat.part.value)];
    if let Some(end) = &flat.end {
        value.push(Inline::text(format!(" end {}", end.value.word())));
    }
    value.extend([Inline::text(": flat over "), Inline::Strong(vec![Inline::Length(flat.length.value)])]);
    field("Flatten", value)
}

/// `CS-1/8: 3 presses, 1/8 in stands out`: what is alike at both ends once.
fn press(s: &ResolvedStep, items: &[usize]) -> Vec<Field> {
    let mut said: Vec<Inlines> = Vec::new();
    for cable in items.iter().map(|&i| &s.step.cables[i]) {
        for end in cable.end_a.iter().chain(&cable.end_b) {
            let Some(sleeve) = &end.sleeve else { continue };
            let mut value = vec![Inline::strong(sleeve.value.as_str())];
            if let Some(presses) = end.crimps {
                value.push(Inline::text(format!(": {presses} presses")));
            }
            if let Some(tail) = &end.tail {
                value.extend([Inline::text(", "), Inline::Length(tail.value), Inline::text(" stands out")]);
            }
            if !said.contains(&value) {
                said.push(value);
            }
        }
    }
    said.into_iter().map(|value| field("Press", value)).collect()
}

fn glue(c: &DocumentComposer, s: &ResolvedStep, item: usize) -> Field {
    let bond = &s.step.bonds[item];
    let mut value = vec![Inline::strong(c.manual.settings.consumable_title(&bond.adhesive.value))];
    value.extend(bond.amount.iter().map(|amount| Inline::text(format!(", mix {amount}"))));
    value.extend(bond.clamped.iter().map(|how| Inline::text(format!("; clamped {how}"))));
    field("Glue", value)
}

fn crimp(s: &ResolvedStep, item: usize) -> Field {
    let wire = &s.step.wires[item];
    let value =
        vec![Inline::text(format!("{}: {}, ", wire.wire.value, wire.size.value)), Inline::Length(wire.length.value)];
    field("Wire", value)
}

/// What is asked for; where it is written down follows the work.
fn measure(s: &ResolvedStep, item: usize) -> Field {
    let measure = &s.step.measures[item];
    let mut value = vec![Inline::text(format!("{}: ", measure.what.value))];
    value.push(Inline::Strong(wanted(measure)));
    value.push(Inline::text("; write it down below"));
    field("Measure", value)
}
