//! An item of the hardware list that no joint and no step's `hardware` uses.
//!
//! It matters because a bag nobody opens is paid for and shipped, and because the item may be one that a step forgot.
//!
//! Wrong: a row for `AN4-11A` and no step with it. Right: a step that fits it, or no row.
//!
//! To accept: `accept: [{ rule: unused-hardware, about: AN4-11A, reason: ... }]` in manual.yaml.

use crate::check::is_fitted;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unused-hardware",
    level: Level::Warning,
    summary: "hardware of the list that no step fits",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("unused_hardware.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for (designation, item) in &ctx.manual.hardware {
        let held_back = ctx.excuses.steps_unread || ctx.excuses.hardware.contains(designation);
        if held_back || item.replaced_by.is_some() || is_fitted(&ctx.names, designation) {
            continue;
        }
        sink.push(
            RULE.found(format!("no step fits {designation}"))
                .at(item.designation.span, "used nowhere")
                .help("add it to the joint or the `hardware` of the step that fits it, or delete the row")
                .about(designation),
        );
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_row_without_a_step() {
        assert_eq!(
            sound().add("hardware.csv", "AN4-11A,Bolt,bolt,each\n").findings(),
            ["unused-hardware hardware.csv `AN4-11A`"]
        );
        assert_eq!(
            sound().edit("steps/frame/40-paint.md", "MS20470AD4-5", "MS20470AD4-6").findings(),
            ["unknown-hardware steps/frame/40-paint.md `MS20470AD4-6`"]
        );
    }
}
