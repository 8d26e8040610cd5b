//! A callout number that in one figure of one configuration points at two different things.
//!
//! It matters because the table below the figure then says two things of one number. The same number may stand twice
//! where it points at the same thing.
//!
//! Wrong: `{ callout: 1, ..., part: KW-101 }` and `{ callout: 1, ..., part: KW-102 }`. Right: two numbers, or an
//! `only` on each.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::{CalloutTarget, CalloutUse};
use crate::resolve::Resolved;
use std::collections::BTreeMap;

pub const RULE: Rule = Rule {
    id: "callout-twice",
    level: Level::Error,
    summary: "a callout number that points at two things in one figure",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("callout_twice.rs"),
    run: Run::Configuration(run),
};

fn run(_: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for s in &r.steps {
        for figure in &s.step.figures {
            let mut seen: BTreeMap<i64, &CalloutUse> = BTreeMap::new();
            for callout in &figure.callouts {
                let number = callout.number.value;
                let first = *seen.entry(number).or_insert(callout);
                if target(&first.target) == target(&callout.target) {
                    continue;
                }
                sink.push(
                    RULE.found(format!("callout {number} of {} points at two things", figure.figure.value))
                        .at(callout.number.span, "the second one")
                        .note(first.number.span, "the first one")
                        .help("give one of the two another number")
                        .about(&figure.figure.value)
                        .about(&s.step.id.value)
                        .about(number),
                );
            }
        }
    }
    sink
}

/// What a callout points at, for comparison: the kind and the name.
fn target(target: &CalloutTarget) -> (u8, &str) {
    match target {
        CalloutTarget::Part(name) => (0, name.as_str()),
        CalloutTarget::Hardware(name) => (1, name.as_str()),
        CalloutTarget::Assembly(name) => (2, name.as_str()),
        CalloutTarget::Text(text) => (3, text),
    }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn one_number_one_thing() {
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "callout: 2", "callout: 1").findings(),
            ["callout-twice steps/frame/20-left.md `1`"]
        );
        assert_eq!(
            sound()
                .edit(
                    "steps/frame/20-left.md",
                    "callout: 2, at: [70, 30], hardware: AN4-10A",
                    "callout: 1, at: [70, 30], part: KW-103-L"
                )
                .findings(),
            [""; 0]
        );
    }
}
