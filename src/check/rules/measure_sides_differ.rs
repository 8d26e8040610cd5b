//! Two measures of one step whose words differ in left and right alone, and whose values differ.
//!
//! It matters because a rudder that goes further to one side, or a wire that is longer on one side, is in most crafts a
//! mistyped number.
//!
//! Wrong: `Travel to the left, min: 28 deg` and `Travel to the right, min: 26 deg`. Right: the same in both, where the
//! craft is to be even.
//!
//! To accept what is uneven on purpose: `accept: [{ rule: measure-sides-differ, about: step-id, reason: ... }]` in the
//! step's file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::MeasureUse;

pub const RULE: Rule = Rule {
    id: "measure-sides-differ",
    level: Level::Warning,
    summary: "a measure to the left and one to the right with other values",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("measure_sides_differ.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in ctx.manual.written_steps() {
        for (i, right) in step.measures.iter().enumerate() {
            let mirrored = mirrored(&right.what.value);
            let left = step.measures[..i].iter().find(|m| m.what.value != right.what.value && m.what.value == mirrored);
            let Some(left) = left.filter(|left| values(left) != values(right)) else { continue };
            let written = [right.target, right.min, right.max, right.tolerance];
            let differs = written.into_iter().flatten().find(|v| !values(left).contains(&Some(v.value)));
            let span = differs.map_or(right.what.span, |v| v.span);
            sink.push(
                RULE.found(format!("{} and the other side have other values", right.what.value))
                    .at(span, "not the value of the other side")
                    .note(left.what.span, "the other side")
                    .help("write the same values for both sides")
                    .about(&step.id.value)
                    .about(&right.what.value),
            );
        }
    }
    sink
}

fn values(m: &MeasureUse) -> [Option<crate::units::Measure>; 4] {
    [m.target, m.min, m.max, m.tolerance].map(|v| v.map(|v| v.value))
}

/// The words with left and right exchanged.
pub fn mirrored(words: &str) -> String {
    let swapped = words.split(' ').map(|word| match word {
        "left" => "right",
        "right" => "left",
        "Left" => "Right",
        "Right" => "Left",
        other => other,
    });
    swapped.collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn both_sides_are_alike() {
        let with = |right: &str| {
            let more = format!(
                "measure:\n  - {{ measure: Travel to the left, min: 28 deg, max: 30 deg }}\n  - {{ measure: Travel to the right, {right} }}\n  - {{ measure: Length"
            );
            sound().edit("steps/frame/10-keel.md", "measure:\n  - { measure: Length", &more).findings()
        };
        assert_eq!(with("min: 28 deg, max: 30 deg"), [""; 0]);
        assert_eq!(with("min: 26 deg, max: 30 deg"), ["measure-sides-differ steps/frame/10-keel.md `26 deg`"]);
    }
}
