//! A solid rivet in a joint that is marked `closed-behind: yes`.
//!
//! It matters because a solid rivet is headed from behind: there must be room for the bucking bar.
//!
//! Wrong: `MS20470AD4-5` with `closed-behind: yes`. Right: a blind rivet, or the joint before it is closed.
//!
//! To accept: `accept: [{ rule: rivet-closed-behind, about: skin-rivets, reason: ... }]` in the step's file.

use crate::check::fastened::{about_joint, called};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::trade::ItemForm;

pub const RULE: Rule = Rule {
    id: "rivet-closed-behind",
    level: Level::Error,
    summary: "a solid rivet where there is no room behind",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("rivet_closed_behind.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for seen in &ctx.joints {
        let (Some(ItemForm::SolidRivet(_)), Some(closed)) = (seen.reading.form(), seen.joint.closed_behind) else {
            continue;
        };
        let d = RULE
            .found(format!("{} has a solid rivet and no room behind", called(seen)))
            .at(seen.joint.fastener.span, "headed from behind")
            .note(closed, "said to be closed here")
            .help("take a blind rivet, or rivet it in a step before it is closed");
        sink.push(about_joint(d, seen));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn there_is_room_for_the_bar() {
        let joint = "    places: 2\n  - { fastener: MS20470AD3-5, stack: [{ part: KW-101, through: wall }], closed-behind: yes }\n";
        let (found, _) = sound()
            .edit("hardware.csv", "AN380-2-2", "MS20470AD3-5,Rivet,solid rivet,each\nAN380-2-2")
            .edit("steps/frame/20-left.md", "    places: 2\n", joint)
            .check();
        assert!(found.iter().any(|d| d.rule == "rivet-closed-behind"));
    }
}
