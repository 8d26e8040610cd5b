//! A part or hardware that a step takes and that nothing in the step uses: no joint, hole, cut, cable, bond, wire, callout or
//! link names it, and no sentence has a word of its name.
//!
//! It matters because a line that was left behind takes from the crate what another step waits for, and because the line may
//! be the wrong one of two.
//!
//! It is a question: the text may call a thing by another word.
//!
//! Wrong: two cotter pins in a step that has no bolt with a hole and no sentence about pins. Right: the step that fits them.
//!
//! To accept: `accept: [{ rule: listed-without-use, about: AN380-2-2, reason: ... }]` in the step's file.

use std::collections::BTreeSet;

use crate::check::tools::said;
use crate::check::{Context, Leave, Rule, Run, prose};
use crate::diag::{Level, Sink};
use crate::joint::Items;
use crate::model::{CalloutTarget, HardwareAction, HardwareKind, PartAction, Step};
use crate::resolve::Resolved;
use crate::trade::ItemForm;
use crate::units::Designation;

pub const RULE: Rule = Rule {
    id: "listed-without-use",
    level: Level::Question,
    summary: "a part or hardware that a step takes and does not use",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("listed_without_use.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for s in r.steps.iter().filter(|s| !ctx.excuses.steps.contains(&s.step.id.value)) {
        let step = &s.step;
        let (mut names, text) = (names(step), said(step));
        let mut ask = |name: &str, title: &str, kind: &str, span| {
            if names.contains(name) || is_said(&text, name, title) || is_said(&text, name, kind) {
                return;
            }
            sink.push(
                RULE.found(format!("what does step `{}` do with {name}?", step.id.value))
                    .at(span, format!("{title}: nothing in the step uses it"))
                    .help("take the line out, correct the name, or say in the text what is done with it")
                    .about(name)
                    .about(&step.id.value),
            );
            names.insert(name.to_owned());
        };
        for item in step.parts.iter().filter(|p| matches!(p.action, PartAction::Pull | PartAction::TrialFit)) {
            let Some(part) = ctx.manual.parts.get(&item.part.value) else { continue };
            if item.becomes.is_empty() && !ctx.in_doubt(r, &item.part.value) {
                ask(item.part.as_str(), &part.name, "", item.part.span);
            }
        }
        let fits = |a: HardwareAction| matches!(a, HardwareAction::Fit | HardwareAction::FitTemporarily);
        for item in step.hardware.iter().filter(|h| fits(h.action)) {
            let Some(row) = ctx.manual.hardware.get(&item.hardware.value) else { continue };
            let goes_along = goes_along(row.kind) && has_fastener(&ctx.items, step, &item.hardware.value);
            if !goes_along && !ctx.excuses.hardware.contains(&item.hardware.value) {
                ask(item.hardware.as_str(), &row.name, row.kind.word(), item.hardware.span);
            }
        }
    }
    sink
}

/// What a sentence about a bolt need not name.
fn goes_along(kind: HardwareKind) -> bool {
    kind.is_nut() || matches!(kind, HardwareKind::Washer | HardwareKind::CotterPin)
}

/// Whether the step has a fastener that a nut, washer or pin may belong to: of its thread, where both are known.
fn has_fastener(items: &Items, step: &Step, small: &Designation) -> bool {
    let of_joints = step.joints.iter().map(|j| &j.fastener.value);
    let of_list = step.hardware.iter().map(|h| &h.hardware.value);
    let of_holes = step.holes.iter().filter_map(|h| h.for_.as_ref()).map(|f| &f.value);
    let of_cables =
        step.cables.iter().flat_map(|c| c.ends()).flatten().flat_map(|e| e.hardware()).map(|(d, _)| &d.value);
    of_joints.chain(of_list).chain(of_holes).chain(of_cables).filter(|d| *d != small).any(|d| {
        let (small, fastener) = (items.get(small), items.get(d));
        match small.zip(fastener) {
            Some((small, fastener)) => {
                let threads = small.thread.zip(fastener.thread).filter(|_| matches!(small.form, ItemForm::Nut(_)));
                threads.is_none_or(|(small, fastener)| small.value == fastener.value)
            }
            None => true,
        }
    })
}

/// All names that the data of a step have besides the lists of what it takes, and those that its text links to.
fn names(step: &Step) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    let mut has = |name: &dyn ToString| {
        names.insert(name.to_string());
    };
    for joint in &step.joints {
        joint.with_fastener().for_each(|d| has(&d.value));
        joint.stack.iter().for_each(|m| has(&m.part.value));
    }
    for hole in &step.holes {
        has(&hole.part.value);
        hole.from.iter().for_each(|p| has(&p.value));
        hole.for_.iter().for_each(|d| has(&d.value));
    }
    for cut in &step.cuts {
        has(&cut.part.value);
        cut.onto.iter().for_each(|p| has(&p.value));
    }
    step.bends.iter().for_each(|b| has(&b.part.value));
    step.flattened.iter().for_each(|f| has(&f.part.value));
    for cable in &step.cables {
        cable.part.iter().for_each(|p| has(&p.value));
        cable.sheath.iter().for_each(|s| has(&s.value));
        cable.run.iter().for_each(|g| has(&g.name.value));
        for end in cable.ends().into_iter().flatten() {
            end.hardware().for_each(|(d, _)| has(&d.value));
            end.pin_through.iter().for_each(|p| has(&p.value));
        }
    }
    step.bonds.iter().flat_map(|b| &b.parts).for_each(|p| has(&p.value));
    for wire in &step.wires {
        wire.hardware.iter().chain(wire.terminals.iter().flatten()).for_each(|d| has(&d.value));
        [&wire.from, &wire.to].into_iter().for_each(|place| has(&place.value));
    }
    for callout in step.figures.iter().flat_map(|f| &f.callouts) {
        match &callout.target {
            CalloutTarget::Part(part) => has(&part.value),
            CalloutTarget::Hardware(item) => has(&item.value),
            CalloutTarget::Assembly(_) | CalloutTarget::Text(_) => {}
        }
    }
    for to in prose::links(&step.body) {
        prose::reference(to).into_iter().for_each(|(_, name, _)| has(&name));
    }
    // What is done to a thing besides taking it.
    let other = step.parts.iter().filter(|p| !matches!(p.action, PartAction::Pull | PartAction::TrialFit));
    other.for_each(|p| has(&p.part.value));
    names
}

/// Whether a text has a thing's number, or a word of its name.
fn is_said(text: &str, name: &str, title: &str) -> bool {
    let title = title.to_lowercase();
    let mut words = title.split(|c: char| !c.is_alphabetic()).filter(|w| w.len() > 2);
    text.contains(&name.to_lowercase()) || words.any(|w| text.contains(w.strip_suffix('s').unwrap_or(w)))
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::check::testing::{Case, sound};

    const PLATES: &str = "steps/frame/30-plates.md";

    #[test]
    fn what_is_taken_is_used() {
        let asked = |case: Case| case.questions(RULE.id);
        // Its rails and bolts are in steps that say nothing of them.
        let terse = [
            "steps/finish/30-close.md `KW-202`",
            "steps/frame/10-keel.md `KW-105`",
            "steps/frame/30-plates.md `AN4-10A`",
        ];
        assert_eq!(asked(sound()), terse.map(|at| format!("listed-without-use {at}")));
        let told = || {
            sound()
                .edit("steps/finish/30-close.md", "1. Close the frame.", "1. Fit both [](part:KW-202).")
                .edit("steps/frame/10-keel.md", "2. Prime it", "2. Prime it and the rail")
                .edit(PLATES, "1. Hold the plates.", "1. Hold the plates with two bolts.")
        };
        assert_eq!(asked(told()), [""; 0]);
        let rivets = told().edit("steps/frame/40-paint.md", "2. Rivet them.", "2. Turn them round.");
        let rivets = rivets.edit("steps/frame/40-paint.md", "Paint and rivet the plates", "Paint the plates");
        assert_eq!(asked(rivets), ["listed-without-use steps/frame/40-paint.md `MS20470AD4-5`"]);
        let plates =
            told().edit(PLATES, "1. Hold the plates with", "1. Hold them with").edit(PLATES, "third plate", "third");
        let plates = plates.edit(PLATES, "title: Try the plates", "title: Try them");
        assert_eq!(asked(plates), [format!("listed-without-use {PLATES} `KW-104`")]);
    }
}
