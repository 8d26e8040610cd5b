//! Hardware that stands in a step's joints and in its `hardware` list, in different numbers.
//!
//! It matters because the hardware of a joint is derived from it: the list is for what is in no joint, and is
//! compared, never added. The builder would get the joint's number.
//!
//! Wrong: a joint with two `AN4-10A`, and `3 x AN4-10A` in the list. Right: no list item, or the same number.
//!
//! To accept: `accept: [{ rule: joint-and-list-differ, about: AN4-10A, reason: ... }]` in the step's file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "joint-and-list-differ",
    level: Level::Error,
    summary: "hardware that a step lists in another number than its joints need",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("joint_and_list_differ.rs"),
    run: Run::Configuration(run),
};

fn run(_: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for s in &r.steps {
        for doubled in s.doubled.iter().filter(|d| d.joints != d.listed) {
            let item = &doubled.designation;
            sink.push(
                RULE.found(format!(
                    "step `{}` needs {} {item} in joints and lists {}",
                    s.step.id.value, doubled.joints, doubled.listed
                ))
                .at(doubled.listed_span, "not what the joints need")
                .note(doubled.joint_span, "in a joint here")
                .help("take the item out of `hardware`: what is in a joint is counted there")
                .about(item)
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
    fn a_joint_counts_its_own() {
        assert_eq!(
            sound()
                .edit("steps/frame/20-left.md", "tools: [drill]", "hardware:\n  - 3 x AN4-10A\ntools: [drill]")
                .findings(),
            ["joint-and-list-differ steps/frame/20-left.md `3`"]
        );
        assert_eq!(
            sound()
                .edit("steps/frame/20-left.md", "tools: [drill]", "hardware:\n  - 2 x AN4-10A\ntools: [drill]")
                .findings(),
            [""; 0]
        );
    }
}
