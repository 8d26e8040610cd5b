//! Step files.

mod bonds;
mod figure;
mod joints;
mod tubes;

use std::collections::BTreeMap;

pub(super) use self::joints::tightened;
use self::joints::{hole, joint};
use super::fields::Fields;
use super::items::{counted, items, measured, named, positive};
use super::settings::accepts;
use crate::diag::{Diagnostic, Sink};
use crate::model::manual::Accept;
use crate::model::schema::{Holds, STEP, walk};
use crate::model::step::*;
use crate::source::{Span, Spanned};
use crate::syntax::{Condition, Node, StepFile, parse_condition};
use crate::trade::SafetyWord;
use crate::units::{AssemblyId, ConsumableId, Designation, Hand, PartNumber, Rational, SectionId, StepId, ToolId};

/// The step of a file, and the acceptances in it. None where it has no id: the fault was reported.
pub(in crate::model) fn step(file: StepFile, path: &str, sink: &mut Sink) -> Option<(Step, Vec<Accept>)> {
    let front = file.front.as_ref()?;
    let f = &Fields::new(front, &STEP, sink);
    let id = f.required("step", "this step", "add `step:` and a permanent id, for example `step: fit-mast-foot`", sink);
    let title = f.required("title", "this step", "add `title:` and what the step does", sink);
    let section = f.required("section", "this step", "add `section:` and the id of a section of manual.yaml", sink);
    let accepts = accepts(f, Some(file.file), sink);
    let id = id?;
    check_id(&id, sink);
    let here = id.span;
    let (parts, assemblies) = parts(f, sink);
    let step = Step {
        file: file.file,
        path: path.to_owned(),
        title: title.unwrap_or_else(|| Spanned::new(id.value.clone(), here)),
        section: section.unwrap_or_else(|| Spanned::new(String::new(), here)).map(SectionId::new),
        only: f.only(sink),
        hand: hand(f, sink),
        opposite: opposite(f, sink),
        after: ids(f, "after", "step", StepId::new, sink),
        makes: ids(f, "makes", "assembly", AssemblyId::new, sink),
        parts,
        assemblies,
        hardware: hardware(f, sink),
        joints: items(f, "joints", sink, needs_keys, joint),
        cuts: items(f, "cuts", sink, needs_keys, cut),
        bends: items(f, "bends", sink, needs_keys, tubes::bend),
        flattened: items(f, "flattened", sink, needs_keys, tubes::flattened),
        cables: items(f, "cables", sink, needs_keys, tubes::cable),
        bonds: bonds::bonds(f, sink),
        cured: bonds::cured(f, sink),
        wires: bonds::wires(f, sink),
        holes: items(f, "holes", sink, needs_keys, hole),
        offsets: items(f, "offsets", sink, needs_keys, tubes::offset),
        one_jig: tubes::one_jig(f, sink),
        tools: ids(f, "tools", "tool", ToolId::new, sink),
        consumables: ids(f, "consumables", "consumable", ConsumableId::new, sink),
        safety: items(f, "safety", sink, needs_keys, safety),
        figures: items(f, "figures", sink, figure::short, figure::figure),
        measures: items(f, "measure", sink, needs_keys, measure),
        inspects: items(f, "inspect", sink, needs_keys, inspect),
        closes: ids(f, "closes", "assembly", AssemblyId::new, sink),
        already_built: items(f, "if-already-built", sink, needs_keys, already_built),
        sign_off: sign_off(f, sink),
        hours: f.text("hours", sink).and_then(|t| {
            super::fields::value(&t, "write hours as a number, for example `1.5`", hours, sink)
                .map(|v| Spanned::new(v, t.span))
        }),
        conditions: conditions(front),
        front: std::sync::Arc::new(front.clone()),
        body: file.body,
        id: id.map(StepId::new),
    };
    Some((step, accepts))
}

/// The conditions of the front matter, by where they are written. Their faults are reported by who reads them.
fn conditions(front: &Node) -> std::sync::Arc<BTreeMap<Span, Condition>> {
    let mut all = BTreeMap::new();
    walk(front, &STEP, &mut |leaf| {
        if matches!(leaf.holds, Holds::Condition) {
            all.insert(leaf.span, parse_condition(leaf.text, leaf.span, &mut Sink::new()));
        }
    });
    std::sync::Arc::new(all)
}

fn check_id(id: &Spanned<String>, sink: &mut Sink) {
    let good = !id.value.is_empty()
        && id.value.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-')
        && !id.value.starts_with('-');
    if !good {
        sink.push(
            Diagnostic::error("bad-id", format!("`{}` can't be a step's id", id.value))
                .at(id.span, "not lower case words joined by `-`")
                .help("use lower case letters, digits and `-`, for example `fit-mast-foot`")
                .about(&id.value),
        );
    }
}

fn hand(f: &Fields, sink: &mut Sink) -> Option<Spanned<Hand>> {
    let words = [("left", Some(Hand::Left)), ("right", Some(Hand::Right)), ("none", None)];
    let word = f.word("hand", &words, |w| w.0, sink)?;
    word.value.1.map(|h| Spanned::new(h, word.span))
}

fn opposite(f: &Fields, sink: &mut Sink) -> Opposite {
    let Some(yes) = f.yes_no("opposite", sink).filter(|y| y.value) else { return Opposite::None };
    let phrases = |name, sink: &mut Sink| f.texts(name, sink).into_iter().map(|t| t.value).collect();
    Opposite::Made { at: yes.span, keep: phrases("opposite-keep", sink), swap: phrases("opposite-swap", sink) }
}

fn hours(text: &str) -> Result<Rational, crate::units::UnreadableNumber> {
    let error = crate::units::UnreadableNumber(format!("`{}` is not a number of hours", text.trim()));
    match crate::units::Length::parse(text) {
        Ok(value) if value >= crate::units::Length::ZERO && text.trim().chars().all(|c| !c.is_alphabetic()) => {
            Ok(value.as_inches())
        }
        _ => Err(error),
    }
}

pub(super) fn needs_keys<T>(text: Spanned<String>, sink: &mut Sink) -> Option<T> {
    sink.push(
        Diagnostic::error("wrong-type", format!("`{}` is written without its keys", text.value))
            .at(text.span, "keys and values are needed here")
            .help("write the item as `- { key: value, … }`; `kitwright keys` shows each kind"),
    );
    None
}

fn ids<T>(
    f: &Fields,
    list: &str,
    name: &str,
    make: impl Fn(String) -> T + Copy,
    sink: &mut Sink,
) -> Vec<StepItem<Spanned<T>>> {
    items(f, list, sink, |t, _| Some(t.map(make)), |f, sink| Some(named(f, name, sink)?.map(make)))
}

enum PartOrAssembly {
    Part(PartUse),
    Assembly(AssemblyUse),
}

fn parts(f: &Fields, sink: &mut Sink) -> (Vec<StepItem<PartUse>>, Vec<StepItem<AssemblyUse>>) {
    let short = |text: Spanned<String>, sink: &mut Sink| {
        let (name, quantity, quantity_span) = counted(&text, sink)?;
        let part = name.map(PartNumber::new);
        Some(PartOrAssembly::Part(PartUse {
            part,
            quantity,
            quantity_span,
            action: PartAction::Pull,
            becomes: Vec::new(),
        }))
    };
    let long = |f: &Fields, sink: &mut Sink| {
        if f.get("assembly").is_some() {
            let assembly = f.text("assembly", sink)?.map(AssemblyId::new);
            return Some(PartOrAssembly::Assembly(AssemblyUse { assembly }));
        }
        let part = named(f, "part", sink)?.map(PartNumber::new);
        let (quantity, quantity_span) = f.count("quantity", part.span, sink);
        let action = f.word("do", PartAction::ALL, PartAction::word, sink);
        let becomes = f
            .texts("becomes", sink)
            .iter()
            .filter_map(|t| counted(t, sink))
            .map(|(name, n, _)| (name.map(PartNumber::new), n))
            .collect();
        Some(PartOrAssembly::Part(PartUse {
            part,
            quantity,
            quantity_span,
            action: action.map_or(PartAction::Pull, |a| a.value),
            becomes,
        }))
    };
    let (mut parts, mut assemblies) = (Vec::new(), Vec::new());
    for item in items(f, "parts", sink, short, long) {
        let StepItem { value, only, span, index, note } = item;
        match value {
            PartOrAssembly::Part(value) => parts.push(StepItem { value, only, span, index, note }),
            PartOrAssembly::Assembly(value) => assemblies.push(StepItem { value, only, span, index, note }),
        }
    }
    (parts, assemblies)
}

fn hardware(f: &Fields, sink: &mut Sink) -> Vec<StepItem<HardwareUse>> {
    let short = |text: Spanned<String>, sink: &mut Sink| {
        let (name, quantity, quantity_span) = measured(&text, sink)?;
        let hardware = name.map(Designation::new);
        Some(HardwareUse { hardware, quantity, quantity_span, action: HardwareAction::Fit })
    };
    let long = |f: &Fields, sink: &mut Sink| {
        let hardware = named(f, "hardware", sink)?.map(Designation::new);
        let text = f.text("quantity", sink);
        let quantity = text.as_ref().and_then(|t| positive(t, sink)).unwrap_or(crate::units::Quantity::each(1));
        let quantity_span = text.map_or(hardware.span, |t| t.span);
        let action = f.word("do", HardwareAction::ALL, HardwareAction::word, sink);
        let action = action.map_or(HardwareAction::Fit, |a| a.value);
        Some(HardwareUse { hardware, quantity, quantity_span, action })
    };
    items(f, "hardware", sink, short, long)
}

fn cut(f: &Fields, sink: &mut Sink) -> Option<Cut> {
    let part = named(f, "part", sink)?.map(PartNumber::new);
    if f.get("cut").is_none() && ["angle", "onto", "long-point", "offset"].iter().any(|key| f.get(key).is_some()) {
        f.required("cut", "this cut", "add `cut: mitre` or `cut: saddle`", sink);
    }
    Some(Cut {
        end: f.word("end", TubeEnd::ALL, TubeEnd::word, sink),
        kind: f.word("cut", CutKind::ALL, CutKind::word, sink).map_or(CutKind::Square, |k| k.value),
        angle: f.angle("angle", sink),
        long_point: f.clock("long-point", sink),
        onto: f.text("onto", sink).map(|t| t.map(PartNumber::new)),
        offset: f.length("offset", sink),
        length: f.length("length", sink),
        trim: f.length("trim", sink),
        by: by(f, sink),
        if_wrong: f.text("if-wrong", sink).map(|t| t.value),
        part,
    })
}

pub(super) fn by(f: &Fields, sink: &mut Sink) -> By {
    f.word("by", By::ALL, By::word, sink).map_or(By::Builder, |b| b.value)
}

fn safety(f: &Fields, sink: &mut Sink) -> Option<Safety> {
    for (name, word) in [
        ("danger", SafetyWord::Danger),
        ("warning", SafetyWord::Warning),
        ("caution", SafetyWord::Caution),
        ("notice", SafetyWord::Notice),
        ("note", SafetyWord::Note),
    ] {
        if let Some(text) = f.text(name, sink) {
            return Some(Safety { word, text });
        }
    }
    sink.push(
        Diagnostic::error("missing-key", "a safety message has no signal word")
            .at(f.span, "the signal word is missing here")
            .help("write it as `- warning: text`, with danger, warning, caution, notice or note"),
    );
    None
}

fn measure(f: &Fields, sink: &mut Sink) -> Option<MeasureUse> {
    let what = named(f, "measure", sink)?;
    Some(MeasureUse {
        target: f.measure("target", sink),
        tolerance: f.measure("tolerance", sink),
        min: f.measure("min", sink),
        max: f.measure("max", sink),
        what,
    })
}

fn inspect(f: &Fields, sink: &mut Sink) -> Option<Inspect> {
    let what = named(f, "inspect", sink)?.map(AssemblyId::new);
    let look_for = f.required("look-for", "this inspection", "add `look-for:` and what must be so", sink)?;
    Some(Inspect { what, look_for: look_for.value })
}

fn already_built(f: &Fields, sink: &mut Sink) -> Option<AlreadyBuilt> {
    let help = "add `release:` and the letter of the release that changes the step";
    let release = f.required("release", "this item", help, sink)?;
    let text = |name: &str, sink: &mut Sink| {
        f.text(name, sink).map(|t| t.value.split_whitespace().collect::<Vec<_>>().join(" "))
    };
    let [inspect, undo, redo] = ["inspect", "undo", "redo"].map(|name| text(name, sink));
    if inspect.is_none() && undo.is_none() && redo.is_none() {
        sink.push(
            Diagnostic::error("missing-key", "nothing is said of what to do")
                .at(f.span, "no `inspect`, `undo` or `redo`")
                .help("add at least one of `inspect`, `undo` and `redo`"),
        );
        return None;
    }
    let send = f.texts("send", sink).iter().filter_map(|t| measured(t, sink)).map(|(name, q, _)| (name, q)).collect();
    Some(AlreadyBuilt { release, inspect, undo, redo, send })
}

fn sign_off(f: &Fields, sink: &mut Sink) -> Vec<Spanned<String>> {
    let roles = f.texts("sign-off", sink);
    if let Some(third) = roles.get(2) {
        let span: Span = third.span;
        sink.push(
            Diagnostic::error("bad-count", "more than two persons sign this step")
                .at(span, "the third one")
                .help("name one or two roles, for example `[builder, second person]`"),
        );
    }
    roles.into_iter().take(2).collect()
}
