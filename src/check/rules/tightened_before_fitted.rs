//! An action that tightens a joint before the action that fits it.
//!
//! It matters because an order that can't be followed is followed somehow: a nut is torqued on a bolt that comes out again.
//!
//! It looks at the actions as they are tied to joints, by links and by their verbs.
//!
//! Wrong: `1. Torque the nuts.`, then `2. Fit the bolts.` Right: the other way round.
//!
//! To accept: `accept: [{ rule: tightened-before-fitted, about: step-id, reason: ... }]` in the step's file.

use crate::action::Deed;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "tightened-before-fitted",
    level: Level::Warning,
    summary: "a joint that is tightened before it is fitted",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("tightened_before_fitted.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for s in r.steps.iter().filter(|s| !ctx.excuses.steps.contains(&s.step.id.value)) {
        let actions = ctx.actions(s);
        let first = |deed: Deed, item: usize| {
            actions.iter().enumerate().find_map(|(at, a)| {
                let tie = a.ties.iter().find(|t| t.deed == deed && t.item == item)?;
                Some(((at, tie.known_by.span().start), tie.known_by.span()))
            })
        };
        let early = (0..s.step.joints.len()).find_map(|item| {
            let ((fits, fit), (tightens, tight)) = (first(Deed::Fit, item)?, first(Deed::Tighten, item)?);
            (tightens < fits).then_some((item, fit, tight))
        });
        if let Some((item, fit, tight)) = early {
            let joint = &s.step.joints[item];
            sink.push(
                RULE.found(format!("{} is tightened before it is fitted", joint.fastener.value))
                    .at(tight, "tightened here")
                    .note(fit, "fitted here")
                    .help("put the actions into the order in which they are done")
                    .about(&s.step.id.value),
            );
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn nuts_are_torqued_on_bolts_that_are_in() {
        let found = |text: &str| sound().edit("steps/frame/20-left.md", "2. Fit the bolts.", text).findings();
        assert_eq!(found("2. Fit the bolts and torque the nuts."), [""; 0]);
        assert_eq!(
            found("2. Torque the nuts.\n3. Fit the bolts."),
            ["tightened-before-fitted steps/frame/20-left.md `Torque the nuts.`"]
        );
    }
}
