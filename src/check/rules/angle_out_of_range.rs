//! A mitre of 0 or of more than 75 degrees off square, or a saddle of less than 15 or more than 90 degrees between
//! the axes.
//!
//! It matters because an angle is written in two ways, off square or off the axis, and one taken for the other spoils
//! the tube. Past these limits the cut runs almost along the tube, and the number is most likely the other angle.
//!
//! Wrong: `cut: mitre, angle: 80`. Right: `cut: mitre, angle: 10`, if the cut is 80 degrees off the axis. An obtuse
//! saddle of 120 is one of 60 seen from the other side.
//!
//! To accept: `accept: [{ rule: angle-out-of-range, about: KW-110, reason: ... }]` in the step's file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::CutKind;
use crate::units::Angle;

pub const RULE: Rule = Rule {
    id: "angle-out-of-range",
    level: Level::Error,
    summary: "an angle at which no tube is cut",
    source: "common practice: a mitre of more than 0 and at most 75 degrees off square, a saddle of 15 to 90 degrees between the axes",
    bending: Leave::Allowed,
    file: include_str!("angle_out_of_range.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in &ctx.manual.steps {
        for cut in &step.cuts {
            let Some(angle) = &cut.angle else { continue };
            let (label, help) = match cut.kind {
                CutKind::Mitre if !(angle.value > degrees(0) && angle.value <= degrees(75)) => (
                    "a mitre is more than 0 and at most 75 degrees off square",
                    "write degrees off square; a square end is `cut: square`",
                ),
                CutKind::Saddle if !(degrees(15)..=degrees(90)).contains(&angle.value) => (
                    "a saddle is from 15 to 90 degrees",
                    "write degrees between the two axes, the smaller of the two angles",
                ),
                CutKind::Square if angle.value != degrees(0) => {
                    ("a square end has no angle", "write `cut: mitre`, or take the angle out")
                }
                _ => continue,
            };
            sink.push(
                RULE.found(format!("{} is no angle for a {} on {}", angle.value, cut.kind.word(), cut.part.value))
                    .at(angle.span, label)
                    .help(help)
                    .about(&cut.part.value)
                    .about(&step.id.value),
            );
        }
    }
    sink
}

fn degrees(n: i64) -> Angle {
    Angle::degrees(n, 1)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn angles_have_limits() {
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "angle: 22.5", "angle: 75.5").findings(),
            ["angle-out-of-range steps/frame/10-keel.md `75.5`"]
        );
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "angle: 22.5", "angle: 0").findings(),
            ["angle-out-of-range steps/frame/10-keel.md `0`"]
        );
        assert_eq!(
            sound()
                .edit("steps/frame/10-keel.md", "cut: mitre, angle: 22.5", "cut: saddle, onto: KW-105, angle: 120")
                .findings(),
            ["angle-out-of-range steps/frame/10-keel.md `120`"]
        );
        assert_eq!(
            sound()
                .edit("steps/frame/10-keel.md", "cut: mitre, angle: 22.5", "cut: saddle, onto: KW-105, angle: 90")
                .findings(),
            [""; 0]
        );
        assert_eq!(sound().edit("steps/frame/10-keel.md", "angle: 22.5", "angle: 75").findings(), [""; 0]);
    }
}
