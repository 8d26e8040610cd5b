//! A joint, hole, cut, bend, cable, bond or wire in the front matter of a step that no action of its text does.
//!
//! It matters because what an action needs is shown at the action: what none does stands in a table behind the work, where it is
//! overlooked.
//!
//! It looks at the links of the actions and at their verbs (see `kitwright why STEP`). Only in English texts are verbs read.
//! A measure is asked for by its own table, a joint without a designer's torque need not be tightened by words, and a hole or a
//! cut that the maker makes is done already. Where a step links nothing, one hint names all that it found.
//!
//! Wrong: two joints, and a text that only says `Torque the nuts.` Right: `Fit the bolts and torque the nuts.`, or a link,
//! `Fit the [long bolts](joint:keel-bolts).`
//!
//! To accept: `accept: [{ rule: no-action-does-it, about: step-id, reason: ... }]` in the step's file.

use super::not_of_this_step::links_astray;
use super::value_differs::known_size;
use crate::action::{Action, Deed};
use crate::check::{Context, Leave, Rule, Run, prose};
use crate::diag::{Diagnostic, Level, Sink};
use crate::model::{By, HardwareAction, HoleAction, OwnLink, Step};
use crate::resolve::Resolved;
use crate::source::Span;

pub const RULE: Rule = Rule {
    id: "no-action-does-it",
    level: Level::Hint,
    summary: "a joint, hole, cut, bend, cable, bond or wire that no action of the text does",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("no_action_does_it.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for s in r.steps.iter().filter(|s| !ctx.excuses.steps.contains(&s.step.id.value)) {
        let step = &s.step;
        let links = prose::links(&step.body).iter().any(|to| OwnLink::of(&to.value).is_some());
        if step.body.is_empty() || !(ctx.manual.settings.is_english() || links) {
            continue;
        }
        // A link that leads nowhere, or a bit that no hole has, may be the cause, and is told already.
        if links_astray(s) {
            continue;
        }
        let astray = ctx.actions(s).iter().flat_map(|a| &a.bits).any(|bit| !known_size(ctx, s, *bit));
        let open = left(step, ctx.actions(s), !astray);
        let finding = |span: Span, what: String| -> Diagnostic {
            RULE.found(format!("no action of step `{}` {what}", step.id.value))
                .at(span, "shown by no action")
                .help("write the action with a verb that says what is done, or link it there, for example `[bolts](joint:NAME)`")
                .about(&step.id.value)
        };
        match open.as_slice() {
            [] => {}
            all if links => sink.extend(all.iter().map(|(span, what)| finding(*span, what.clone()))),
            [(span, what), rest @ ..] => {
                let mut d = finding(*span, what.clone());
                for (span, what) in rest.iter().take(crate::check::unknown::MOST_NOTES) {
                    d = d.note(*span, format!("nor one that {what}"));
                }
                sink.push(d);
            }
        }
    }
    sink
}

/// What no action does: where it stands, and what would have to be done; with or without holes.
fn left(step: &Step, actions: &[Action], with_holes: bool) -> Vec<(Span, String)> {
    let done = |deed: Deed, item: usize| actions.iter().any(|a| a.items(deed).any(|of| of == item));
    let mut out = Vec::new();
    for (i, hole) in step.holes.iter().enumerate().filter(|_| with_holes) {
        let made = !matches!(hole.action, HoleAction::Deburr | HoleAction::Prime);
        let sized = hole.drill.is_some() || hole.reamer.is_some();
        if made && sized && hole.by == By::Builder && !done(Deed::Drill, i) {
            let name = hole.hole.as_ref().map_or_else(String::new, |h| format!(" {}", h.value));
            out.push((hole.span, format!("drills {}{name}", hole.part.value)));
        }
    }
    for (i, cut) in step.cuts.iter().enumerate().filter(|(_, c)| c.by == By::Builder) {
        if !done(Deed::Cut, i) {
            out.push((cut.span, format!("cuts {}", cut.part.value)));
        }
    }
    for (i, bend) in step.bends.iter().enumerate().filter(|(_, b)| b.by == By::Builder) {
        if !done(Deed::Bend, i) {
            out.push((bend.span, format!("bends {}", bend.part.value)));
        }
    }
    for (i, cable) in step.cables.iter().enumerate() {
        let pressed = cable.end_a.iter().chain(&cable.end_b).any(|end| end.sleeve.is_some());
        if pressed && !done(Deed::Close, i) {
            out.push((cable.span, format!("presses the sleeves of {}", cable.cable.value)));
        }
    }
    for (_, bond) in step.bonds.iter().enumerate().filter(|(i, _)| !done(Deed::Glue, *i)) {
        out.push((bond.span, format!("glues {}", bond.bond.value)));
    }
    for (_, wire) in step.wires.iter().enumerate().filter(|(i, _)| !done(Deed::Crimp, *i)) {
        out.push((wire.span, format!("crimps {}", wire.wire.value)));
    }
    for (i, joint) in step.joints.iter().enumerate().filter(|(_, j)| j.action != HardwareAction::Remove) {
        let name = joint.id.as_ref().map_or(joint.fastener.value.as_str(), |id| id.value.as_str());
        if !done(Deed::Fit, i) {
            out.push((joint.span, format!("fits {name}")));
        }
        if joint.torque.is_some() && joint.action != HardwareAction::FitTemporarily && !done(Deed::Tighten, i) {
            out.push((joint.span, format!("tightens {name}")));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn what_the_front_matter_says_is_done_by_an_action() {
        let hint = |case: crate::check::testing::Case| case.findings();
        assert_eq!(
            hint(sound().edit("steps/frame/20-left.md", "2. Fit the bolts.", "2. Look at the bracket.")).len(),
            1
        );
        assert_eq!(
            hint(sound().edit(
                "steps/frame/10-keel.md",
                "1. Saw the end with the [](tool:saw).",
                "1. Look at the [](tool:saw)."
            ))
            .len(),
            1
        );
        let linked = "2. Look at the [bolts](joint:AN4-10A).";
        let whole = "2. Fit the bolts. Torque the nuts.";
        assert_eq!(hint(sound().edit("steps/frame/20-left.md", whole, linked)), [""; 0]);
    }
}
