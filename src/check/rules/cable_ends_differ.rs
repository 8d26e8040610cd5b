//! Cable ends that are made of the same things and not made alike: a sleeve pressed more often than at another end, a
//! longer loop or tail round the same thimble and sleeve, another reach of the same turnbuckle.
//!
//! It matters because one of the two is wrong: a sleeve that is pressed too seldom lets go under load, and a cable whose
//! loop or reach is wrong is cut too short.
//!
//! Wrong: `crimps: 3` at one end and `crimps: 2` at another with the same sleeve. Right: what its maker prescribes, at
//! every end.
//!
//! To accept: `accept: [{ rule: cable-ends-differ, about: CS-1/8, reason: ... }]` in the step's file.

use std::collections::BTreeMap;

use indexmap::IndexMap;

use crate::check::fastened::words;
use crate::check::{Context, Leave, MOST_NOTES, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::CableEnd;
use crate::source::Span;
use crate::units::{Length, StepId};

pub const RULE: Rule = Rule {
    id: "cable-ends-differ",
    level: Level::Error,
    summary: "cable ends of the same things that are not made alike",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("cable_ends_differ.rs"),
    run: Run::Manual(run),
};

/// What must be the same wherever an end is made of the same things.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Value {
    Times(i64),
    Long(Length),
}

/// A value at an end: its key, what it goes by, and where it stands.
struct CableEndSaid<'a> {
    value: Value,
    step: &'a StepId,
    span: Span,
}

fn run(ctx: &Context) -> Sink {
    let mut said: IndexMap<(&str, String), Vec<CableEndSaid>> = IndexMap::new();
    for step in ctx.manual.written_steps() {
        for end in step.cables.iter().flat_map(|c| c.ends()).flatten() {
            for (key, of, value, span) in values(end) {
                said.entry((key, of)).or_default().push(CableEndSaid { value, step: &step.id.value, span });
            }
        }
    }
    let show = |value: Value| match value {
        Value::Times(times) => format!("{times} times"),
        Value::Long(length) => words(ctx, length),
    };
    let mut sink = Sink::new();
    for ((key, of), ends) in said {
        let mut counts: BTreeMap<Value, usize> = BTreeMap::new();
        ends.iter().for_each(|e| *counts.entry(e.value).or_default() += 1);
        // What most ends have is taken for right; of two that are as frequent, the larger.
        let Some(usual) = counts.iter().max_by_key(|(value, n)| (**n, **value)).map(|(value, _)| *value) else {
            continue;
        };
        for end in ends.iter().filter(|e| e.value != usual) {
            let mut d = RULE
                .found(format!("`{key}` of {of} is {} here, and {} at other ends", show(end.value), show(usual)))
                .at(end.span, "not as at other ends")
                .help("write the same at every end that is made of the same things")
                .about(&of)
                .about(end.step);
            // Two makers of loops may both be right.
            if key != "crimps" {
                d.level = Level::Warning;
            }
            let others = ends.iter().filter(|e| e.value == usual).take(MOST_NOTES);
            sink.push(others.fold(d, |d, other| d.note(other.span, show(usual))));
        }
    }
    sink
}

/// The values of an end, each with the key it stands under and what it goes by.
fn values(end: &CableEnd) -> Vec<(&'static str, String, Value, Span)> {
    let mut values = Vec::new();
    if let (Some(sleeve), Some(crimps)) = (&end.sleeve, end.crimps) {
        values.push(("crimps", sleeve.value.to_string(), Value::Times(crimps), end.span));
    }
    if let (Some(thimble), Some(sleeve)) = (&end.thimble, &end.sleeve) {
        let of = format!("{} with {}", thimble.value, sleeve.value);
        let lengths = [("loop", end.loop_), ("tail", end.tail)];
        values
            .extend(lengths.into_iter().filter_map(|(key, l)| Some((key, of.clone(), Value::Long(l?.value), l?.span))));
    }
    if let (Some(turnbuckle), Some(reach)) = (&end.turnbuckle, end.reach) {
        values.push(("reach", turnbuckle.value.to_string(), Value::Long(reach.value), reach.span));
    }
    values
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn ends_of_the_same_things_are_made_alike() {
        let found = |loop_: &str, crimps: u8| {
            let end = |loop_: &str, n: u8| {
                format!("{{ loop: {loop_}, thimble: AN365-428A, sleeve: AN960-416, crimps: {n} }}")
            };
            let cable = format!(
                "cables:\n  - {{ cable: stay, part: KW-200, construction: 7x7, length: 20, end-a: {}, end-b: {} }}\ntools: [saw]",
                end("2", 3),
                end(loop_, crimps)
            );
            let case = sound().edit("steps/frame/10-keel.md", "tools: [saw]", &cable);
            case.check().0.into_iter().filter(|f| f.rule == "cable-ends-differ").map(|f| f.headline).collect::<Vec<_>>()
        };
        assert_eq!(found("2", 3), [""; 0]);
        assert_eq!(found("2", 2), ["`crimps` of AN960-416 is 2 times here, and 3 times at other ends"]);
        assert_eq!(found("3", 3), ["`loop` of AN365-428A with AN960-416 is 2 in here, and 3 in at other ends"]);
    }
}
