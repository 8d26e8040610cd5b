//! A link to a joint, hole, cut, bend, cable, bond, wire or measure that the step does not have, or to a value that it does not
//! say.
//!
//! It matters because the action then shows nothing of what it needs, or prints no value where one was meant.
//!
//! Wrong: `[](joint:keel-bolt)` in a step whose joint is `keel-bolts`. Right: `[](joint:keel-bolts)`.
//!
//! It can't be accepted.

use crate::action::{Deed, deeds_of, linked_items};
use crate::check::{Context, Leave, Rule, Run, prose};
use crate::diag::{Level, Sink, did_you_mean_or, nearest};
use crate::model::{OwnLink, Step};
use crate::resolve::{Resolved, ResolvedStep};
use crate::source::Spanned;

pub const RULE: Rule = Rule {
    id: "not-of-this-step",
    level: Level::Error,
    summary: "a link to something of the step that the step does not have",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("not_of_this_step.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for s in r.steps.iter().filter(|s| !ctx.excuses.steps.contains(&s.step.id.value)) {
        for to in prose::links(&s.step.body) {
            let Some((_, _, span)) = prose::reference(to) else { continue };
            let Some((kind, name)) = OwnLink::of(&to.value) else { continue };
            if has(s, kind, name) {
                continue;
            }
            let known = names(&s.step, kind);
            let all = if known.is_empty() {
                format!(
                    "the step has no {} of its own; write it in the front matter, or take the link out",
                    kind.word()
                )
            } else {
                format!("it can be one of {}", known.join(", "))
            };
            let near = nearest(name, known.iter().map(String::as_str));
            sink.push(
                RULE.found(format!("step `{}` has no {} `{name}`", s.step.id.value, kind.word()))
                    .at(span, "not of this step")
                    .help(near.map_or(all.clone(), |near| did_you_mean_or(near, &all)))
                    .about(name)
                    .about(&s.step.id.value),
            );
        }
    }
    sink
}

/// Whether a step links what it does not have.
pub(super) fn links_astray(s: &ResolvedStep) -> bool {
    let astray = |to: &Spanned<String>| OwnLink::of(&to.value).is_some_and(|(kind, name)| !has(s, kind, name));
    prose::links(&s.step.body).into_iter().any(astray)
}

fn has(s: &ResolvedStep, kind: OwnLink, name: &str) -> bool {
    let items = |deed: &Deed| linked_items(&s.step, *deed, name);
    match kind {
        OwnLink::Count => {
            s.step.parts.iter().any(|p| p.part.value.as_str() == name)
                || s.hardware.iter().any(|h| h.designation.as_str() == name)
        }
        OwnLink::Length => {
            s.step.parts.iter().any(|p| p.part.value.as_str() == name)
                || s.step.cuts.iter().any(|c| c.part.value.as_str() == name)
                || s.step.cables.iter().any(|c| c.cable.value == name)
                || s.step.wires.iter().any(|w| w.wire.value == name)
        }
        OwnLink::Angle => {
            !linked_items(&s.step, Deed::Cut, name).is_empty() || !linked_items(&s.step, Deed::Bend, name).is_empty()
        }
        _ => deeds_of(kind).iter().any(|deed| !items(deed).is_empty()),
    }
}

/// What the link could name.
fn names(step: &Step, kind: OwnLink) -> Vec<String> {
    let mut out: Vec<String> = match kind {
        OwnLink::Joint | OwnLink::Torque => step
            .joints
            .iter()
            .map(|j| j.id.as_ref().map_or_else(|| j.fastener.value.to_string(), |id| id.value.clone()))
            .collect(),
        OwnLink::Hole | OwnLink::Drill => step
            .holes
            .iter()
            .map(|h| match &h.hole {
                Some(hole) => format!("{}/{}", h.part.value, hole.value),
                None => h.part.value.to_string(),
            })
            .collect(),
        OwnLink::Cut | OwnLink::Angle | OwnLink::Length => step.cuts.iter().map(|c| c.part.value.to_string()).collect(),
        OwnLink::Bend => step.bends.iter().map(|b| b.part.value.to_string()).collect(),
        OwnLink::Cable => step.cables.iter().map(|c| c.cable.value.clone()).collect(),
        OwnLink::Bond => step.bonds.iter().map(|b| b.bond.value.clone()).collect(),
        OwnLink::Wire => step.wires.iter().map(|w| w.wire.value.clone()).collect(),
        OwnLink::Measure | OwnLink::Target => step.measures.iter().map(|m| m.what.value.clone()).collect(),
        OwnLink::Count => step.parts.iter().map(|p| p.part.value.to_string()).collect(),
    };
    out.dedup();
    out
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_link_names_what_the_step_has() {
        let with = |link: &str| {
            sound().edit("steps/frame/20-left.md", "2. Fit the bolts.", &format!("2. Fit the [bolts]({link})."))
        };
        assert_eq!(with("joint:AN4-10A").findings(), [""; 0]);
        assert_eq!(with("hole:KW-103-L/A").findings(), [""; 0]);
        assert_eq!(with("joint:AN4-11A").findings(), ["not-of-this-step steps/frame/20-left.md `AN4-11A`"]);
        assert_eq!(with("cable:left").findings(), ["not-of-this-step steps/frame/20-left.md `left`"]);
    }
}
