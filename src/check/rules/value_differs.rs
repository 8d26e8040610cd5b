//! A torque or a drill typed into an action that is tied to a joint or a hole with another value.
//!
//! It matters because the builder does what the sentence says.
//!
//! The size of a smaller bit that is among the tools of the step is that of a pilot.
//!
//! It looks at torques (in-lb, ft-lb, N m) in actions that tighten, and at sizes of drills in actions that drill. A torque may
//! be any part of the range that the joint has. Where the action is tied to nothing, `value-not-of-step` looks.
//!
//! Wrong: `Torque the nuts to 60 in-lb.` where the joint says `torque: 30..40 in-lb`. Right: `Torque the nuts.`, which prints
//! the value of the joint, or `Torque the nuts to [](torque:keel-bolts).`
//!
//! It can't be accepted.

use crate::action::{ActionPlace, Deed, TypedKind, typed_values};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::{Tightening, read};
use crate::resolve::{Resolved, ResolvedStep};
use crate::source::Span;
use crate::syntax::markdown::{MdBlock, MdBlockKind};
use crate::trade::{Drill, ToolKind, inch_pounds, tool_words};
use crate::units::{Rational, ToolId, decimal_text};

pub const RULE: Rule = Rule {
    id: "value-differs",
    level: Level::Error,
    summary: "a torque or a drill in a sentence that contradicts the step's own",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("value_differs.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for s in ctx.written(r) {
        for action in ctx.actions(s) {
            for typed in typed_values(blocks_of(s, action.place)) {
                let (right, of, key) = match &typed.kind {
                    TypedKind::Torque(least, most) => {
                        let all = torques(ctx, s, action.items(Deed::Tighten));
                        let fits = |(low, high, _): &(Rational, Rational, Span)| within(*least, *most, *low, *high);
                        if all.is_empty() || all.iter().any(fits) {
                            continue;
                        }
                        let (low, high, at) = all[0];
                        let words = format!("{} to {} in-lb", decimal_text(low, 1), decimal_text(high, 1));
                        (words, at, "torque:")
                    }
                    TypedKind::Drill(drill) => {
                        let all = drills(s, action.items(Deed::Drill));
                        let Some((first, at)) = all.first().copied().filter(|_| !known_size(ctx, s, *drill)) else {
                            continue;
                        };
                        (first.to_string(), at, "drill:")
                    }
                    TypedKind::Length(_) => continue,
                };
                sink.push(
                    RULE.found(format!("a value in step `{}` contradicts what the step says", s.step.id.value))
                        .at(typed.span, format!("the step says {right}"))
                        .note(of, "here")
                        .help(format!(
                            "take the value out of the sentence, since it is printed below the action, or link it with `[]({key}NAME)`"
                        ))
                        .about(&s.step.id.value),
                );
            }
        }
    }
    sink
}

/// The blocks of an action.
pub(super) fn blocks_of(s: &ResolvedStep, place: ActionPlace) -> &[MdBlock] {
    let Some(block) = s.step.body.get(place.block) else { return &[] };
    match (&block.kind, place.item) {
        (MdBlockKind::List { items, .. }, Some(item)) => items.get(item).map_or(&[], |i| &i.blocks),
        _ => std::slice::from_ref(block),
    }
}

/// Whether a size is that of a hole of the step, or of a pilot: smaller than some hole, and among the bits of the step.
pub(super) fn known_size(ctx: &Context, s: &ResolvedStep, drill: Drill) -> bool {
    let holes = drills(s, 0..s.step.holes.len());
    let size = drill.size().value;
    let bit = |id: &ToolId| {
        let tool = tool_words(ctx.manual.settings.tool_title(id));
        tool.kinds.contains(&ToolKind::DrillBit) && tool.sizes.iter().any(|s| s.size().value == size)
    };
    holes.iter().any(|(d, _)| same(*d, drill))
        || holes.iter().any(|(d, _)| size < d.size().value) && s.step.tools.iter().any(|t| bit(&t.value.value))
}

/// A value in N m is rounded to a tenth: half of that, in in-lb.
pub(super) fn within(least: Rational, most: Rational, low: Rational, high: Rational) -> bool {
    let slack = Rational::new(1, 2);
    least >= low - slack && most <= high + slack
}

pub(super) fn same(a: Drill, b: Drill) -> bool {
    a.size().value == b.size().value
}

/// The torques of joints, in-lb, with their places.
pub(super) fn torques(
    ctx: &Context,
    s: &ResolvedStep,
    items: impl Iterator<Item = usize>,
) -> Vec<(Rational, Rational, Span)> {
    let each = |i: usize| {
        let joint = &s.step.joints[i];
        let (least, most) = match read(ctx.manual, &ctx.items, joint).tightening {
            Tightening::Designer { range, .. } => (range.least, range.most),
            Tightening::Table(table) => table.value.inch_pounds(),
            Tightening::None | Tightening::Required(_) => return None,
        };
        let at = joint.torque.as_ref().map_or(joint.span, |t| t.span);
        Some((inch_pounds(least)?, inch_pounds(most)?, at))
    };
    items.filter_map(each).collect()
}

/// The drills and reamers of holes, with their places.
pub(super) fn drills(s: &ResolvedStep, items: impl Iterator<Item = usize>) -> Vec<(Drill, Span)> {
    let all = items.map(|i| &s.step.holes[i]);
    all.flat_map(|h| h.drill.iter().chain(&h.reamer)).map(|d| (d.value, d.span)).collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_sentence_does_not_contradict_the_joint() {
        let found = |text: &str| {
            sound()
                .edit("steps/frame/20-left.md", "    places: 2\n", "    places: 2\n    torque: 50..70 in-lb\n")
                .edit("steps/frame/20-left.md", "2. Fit the bolts.", text)
                .findings()
        };
        assert_eq!(found("2. Fit the bolts and torque the nuts to 50 to 70 in-lb."), [""; 0]);
        assert_eq!(found("2. Fit the bolts and torque the nuts to 60 in-lb."), [""; 0]);
        assert_eq!(
            found("2. Fit the bolts and torque the nuts to 90 in-lb."),
            ["value-differs steps/frame/20-left.md `90 in-lb.`"]
        );
        // 50 to 70 in-lb are 5.6 to 7.9 N m.
        assert_eq!(found("2. Fit the bolts and torque the nuts to 5.6 to 7.9 N m."), [""; 0]);
        assert_eq!(
            found("2. Fit the bolts and torque the nuts to 56 N m."),
            ["value-differs steps/frame/20-left.md `56 N m.`"]
        );
    }

    #[test]
    fn nor_the_hole() {
        let found = |bit: &str| {
            sound()
                .edit(
                    "steps/frame/20-left.md",
                    "1. Drill the holes, as",
                    &format!("1. Drill the holes with the {bit} bit, as"),
                )
                .findings()
        };
        assert_eq!(found("1/4 in"), [""; 0]);
        assert_eq!(found("No. 10"), ["value-differs steps/frame/20-left.md `No. 10`"]);
    }
}
