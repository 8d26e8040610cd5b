//! An action that tightens or drills in a step that has no joint to tighten, or no hole to drill.
//!
//! It matters because the builder finds no torque and no drill on the page, and takes one from elsewhere.
//!
//! It looks at numbered actions that begin with torque, drill or ream, and at `tighten` before a bolt, a screw or a nut, in English texts.
//!
//! Wrong: `Torque the nuts.` in a step whose joints were forgotten. Right: the joints in the front matter, with their torque.
//!
//! To accept: `accept: [{ rule: action-without-data, about: step-id, reason: ... }]` in the step's file.

use crate::action::{Deed, deeds};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "action-without-data",
    level: Level::Warning,
    summary: "an action that tightens or drills what the step has no data for",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("action_without_data.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let english = ctx.manual.settings.is_english();
    let mut sink = Sink::new();
    for s in r.steps.iter().filter(|s| english && !ctx.excuses.steps.contains(&s.step.id.value)) {
        for action in ctx.actions(s).iter().filter(|a| a.place.item.is_some()) {
            for (clause, deed) in deeds(&action.clauses) {
                let (word, lacks, key) = match deed {
                    Deed::Tighten if s.step.joints.is_empty() => ("tightens", "joint", "joints"),
                    Deed::Drill if s.step.holes.is_empty() => ("drills", "hole", "holes"),
                    _ => continue,
                };
                sink.push(
                    RULE.found(format!("an action of step `{}` {word}, and the step has no {lacks}", s.step.id.value))
                        .at(clause.span, "no value for it on the page")
                        .help(format!("write what it works on into `{key}`, or say otherwise what is done here"))
                        .about(&s.step.id.value),
                );
            }
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn who_tightens_finds_a_torque() {
        let found = |text: &str| sound().edit("steps/finish/30-close.md", "1. Close the frame.", text).findings();
        assert_eq!(found("1. Torque the nuts."), ["action-without-data steps/finish/30-close.md `Torque the nuts.`"]);
        assert_eq!(found("1. Drill both ends."), ["action-without-data steps/finish/30-close.md `Drill both ends.`"]);
        assert_eq!(found("1. Tighten the clamps."), [""; 0]);
    }
}
