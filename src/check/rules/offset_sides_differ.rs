//! Two offsets of one step whose words differ in left and right alone, and which go equally far to one side, or differ in
//! how far they go.
//!
//! It matters because a seat that sits to one side, or a tang an inch further out, is in most crafts a mistyped number.
//!
//! It looks at offsets from one datum that name a left and a right place. It does not look at those of different steps.
//!
//! Wrong: `Left belt tang, left: 6 1/2` and `Right belt tang, left: 6 1/2`. Right: `right: 6 1/2` for the right one.
//!
//! To accept what is uneven on purpose: `accept: [{ rule: offset-sides-differ, about: step-id, reason: ... }]` in the
//! step's file.

use super::measure_sides_differ::mirrored;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::Side;
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "offset-sides-differ",
    level: Level::Warning,
    summary: "an offset to the left and one to the right that are no mirror images",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("offset_sides_differ.rs"),
    run: Run::Configuration(run),
};

fn run(_: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for s in &r.steps {
        for (i, second) in s.step.offsets.iter().enumerate() {
            let other = mirrored(&second.place.value);
            let is_other = |place: &str| place != second.place.value && place == other;
            let first =
                s.step.offsets[..i].iter().find(|o| is_other(&o.place.value) && o.from.value == second.from.value);
            let Some(first) = first else { continue };
            let there = |side: Side| first.away.iter().find(|(own, _)| *own == side);
            let wrong = second
                .away
                .iter()
                .find(|(side, length)| there(opposite(*side)).is_none_or(|(_, same)| same.value != length.value));
            let Some((_, length)) = wrong else { continue };
            sink.push(
                RULE.found(format!("{} and the other side are no mirror images", second.place.value))
                    .at(length.span, "not what the other side has")
                    .note(first.place.span, "the other side")
                    .help("write the same length, to the other side")
                    .about(&s.step.id.value)
                    .about(&second.place.value),
            );
        }
    }
    sink
}

fn opposite(side: Side) -> Side {
    match side {
        Side::Left => Side::Right,
        Side::Right => Side::Left,
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn both_sides_are_mirror_images() {
        let with = |right: &str| {
            let offsets = format!(
                "offsets:\n  - {{ place: Left tang, from: mid, left: 4 }}\n  - {{ place: Right tang, from: mid, {right} }}\ntools: [saw]"
            );
            let case = sound().edit("manual.yaml", "kerf: 1/16\n", "kerf: 1/16\ndatums:\n  mid: Middle line\n");
            case.edit("steps/frame/10-keel.md", "tools: [saw]", &offsets).findings()
        };
        assert_eq!(with("right: 4"), [""; 0]);
        assert_eq!(with("right: 5"), ["offset-sides-differ steps/frame/10-keel.md `5`"]);
        assert_eq!(with("left: 4"), ["offset-sides-differ steps/frame/10-keel.md `4`"]);
    }
}
