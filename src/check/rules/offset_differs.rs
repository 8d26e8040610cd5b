//! A measure of something that the same step sets out from a datum, with another value than the offset.
//!
//! It matters because the builder marks the one and measures the other, and moves the part until the wrong one agrees.
//!
//! A measure belongs to an offset where its words contain the words of `place`.
//!
//! Wrong: `{ place: Middle of the tang, from: keel-line, left: 16 }` and `{ measure: Middle of the tang to the keel, target:
//! 15 }`. Right: the same length in both.
//!
//! To accept: `accept: [{ rule: offset-differs, about: step-id, reason: ... }]` in the step's file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::units::MeasureUnit;

pub const RULE: Rule = Rule {
    id: "offset-differs",
    level: Level::Error,
    summary: "a measure with another value than the offset of the same place",
    source: "common practice: a dimension stands in one place, or says the same in both",
    bending: Leave::Allowed,
    file: include_str!("offset_differs.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in ctx.manual.written_steps() {
        for offset in &step.offsets {
            let place = offset.place.value.to_lowercase();
            let of_it = step.measures.iter().filter(|m| m.what.value.to_lowercase().contains(&place));
            for (measure, target) in of_it.filter_map(|m| Some((m, m.target?))) {
                // An angle or a force is another thing.
                let length = target.value.unit == MeasureUnit::Length;
                let same = offset.away.iter().any(|(_, l)| l.value.as_inches() == target.value.value);
                let Some((side, away)) = offset.away.first().filter(|_| length && !same) else { continue };
                sink.push(
                    RULE.found(format!("{} is set out and measured with two values", offset.place.value))
                        .at(target.span, "not the value of the offset")
                        .note(away.span, format!("the offset, {}", side.word()))
                        .help("correct one of the two")
                        .about(&step.id.value)
                        .about(&measure.what.value),
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
    fn a_place_has_one_value() {
        let with = |target: &str| {
            let case =
                sound().edit("manual.yaml", "kerf: 1/16\n", "kerf: 1/16\ndatums:\n  mid: Centre line of the keel\n");
            let more = format!(
                "offsets:\n  - {{ place: Middle of the bracket, from: mid, left: 4 }}\nmeasure:\n  - {{ measure: Middle of the bracket to the keel, target: {target}, tolerance: 1/16 }}\ntools: [drill]"
            );
            case.edit("steps/frame/20-left.md", "tools: [drill]", &more).findings()
        };
        assert_eq!(with("4"), [""; 0]);
        assert_eq!(with("4 1/2"), ["offset-differs steps/frame/20-left.md `4 1/2`"]);
        assert_eq!(with("90 deg").len(), 1, "the tolerance is of another unit");
    }
}
