//! A bolted joint with a reason for its torque and no torque, or without a torque where no table applies: across a tube without a bushing, at a pivot, with wood, plastic
//! or fabric in the stack, or with a nut that the table does not have.
//!
//! It matters because a table torque crushes a tube and locks a pivot, and no torque at all leaves it to the builder's
//! arm. Until the designer gives a value, documents print "designer's value required".
//!
//! Wrong: a bolt right through a tube without `torque:`. Right: `torque: 30..40 in-lb` and `torque-reason:`.
//!
//! To accept: `accept: [{ rule: torque-required, about: keel-bolts, reason: ... }]` in the step's file.

use crate::check::fastened::{about_joint, called};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::Tightening;
use crate::units::UnitStyle;

pub const RULE: Rule = Rule {
    id: "torque-required",
    level: Level::Warning,
    summary: "a bolted joint without a torque where no table value applies",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("torque_required.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let fastening = &ctx.manual.settings.fastening;
    let metric = ctx.manual.settings.units == UnitStyle::Millimetre;
    let example = if metric { "4..5 N m" } else { "30..40 in-lb" };
    for step in ctx.manual.written_steps() {
        for joint in step.joints.iter().filter(|j| j.torque.is_none() && j.torque_reason.is_some()) {
            let name = joint.id.as_ref().map_or(joint.fastener.value.as_str(), |id| id.value.as_str());
            sink.push(
                RULE.found(format!("joint `{name}` gives a reason for its torque, and no torque"))
                    .at(joint.fastener.span, "`torque` is missing")
                    .help("add `torque:` with the designer's value, or take `torque-reason:` out")
                    .about(name)
                    .about(&step.id.value),
            );
        }
    }
    for seen in ctx.joints.iter().filter(|s| s.joint.torque_reason.is_none()) {
        let Tightening::Required(why) = &seen.reading.tightening else { continue };
        // What is not known of the stack is asked for first.
        let unknown = seen.joint.stack.is_empty() || seen.reading.members.iter().any(|m| m.layer.is_err());
        if unknown {
            continue;
        }
        let d = RULE
            .found(format!("{} has no torque: {}", called(seen), why.words()))
            .at(seen.joint.fastener.span, "no table value applies here")
            .help(if fastening.torque_wants_reason(seen.reading.fastener.as_deref()) {
                format!("add the designer's value, for example `torque: {example}`, and `torque-reason:`")
            } else {
                format!("add the designer's value, for example `torque: {example}`")
            });
        sink.push(about_joint(d, seen));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_pivot_has_no_table_value() {
        let case = sound().edit("steps/frame/20-left.md", "    places: 2\n", "    places: 2\n    turns: yes\n");
        assert!(
            case.findings().contains(&"torque-required steps/frame/20-left.md `AN4-10A`".to_owned()),
            "{:?}",
            case.findings()
        );
    }

    /// What comes off is not drawn tight.
    #[test]
    fn a_joint_that_comes_off_asks_for_no_torque() {
        let joint = "  - { fastener: AN4-10A, stack: [KW-103-L, { part: KW-101, through: wall }], under-nut: [AN960-416], nut: AN365-428A, places: 2, turns: yes, do: remove }\n";
        let found = sound().edit("steps/frame/21-right.md", "joints:\n", &format!("joints:\n{joint}")).findings();
        assert!(!found.iter().any(|f| f.starts_with("torque-required")), "{found:?}");
    }
}
