//! A torque or a drill typed into a sentence, a caption or an alternative text of a step, of which the step has none such.
//!
//! It matters because a value that stands nowhere in the data is changed nowhere when the data change.
//!
//! It looks at torques where the step has joints with one, and at drills where the step has holes with one, in what no action is
//! tied to; of an action that is tied `value-differs` looks. A safety message may well name a limit, so it is not looked at.
//!
//! Wrong: a caption `The bolts, 60 in-lb`, in a step whose joints have 30 to 40 in-lb. Right: the caption without the value.
//!
//! To accept: `accept: [{ rule: value-not-of-step, about: step-id, reason: ... }]` in the step's file.

use super::value_differs::{RULE as DIFFERS, blocks_of, drills, known_size, torques, within};
use crate::action::{Deed, TypedKind, TypedValue, typed_in, typed_values};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::schema::{Holds, STEP, walk};
use crate::resolve::{Resolved, ResolvedStep};
use crate::syntax::markdown::{MdBlock, MdBlockKind};

pub const RULE: Rule = Rule {
    id: "value-not-of-step",
    level: Level::Hint,
    summary: "a torque or a drill in words that is none of the step's",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("value_not_of_step.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for s in ctx.written(r) {
        let torques = torques(ctx, s, 0..s.step.joints.len());
        let drills = drills(s, 0..s.step.holes.len());
        let known = |typed: &TypedValue| match &typed.kind {
            TypedKind::Torque(least, most) => {
                torques.is_empty() || torques.iter().any(|(low, high, _)| within(*least, *most, *low, *high))
            }
            TypedKind::Drill(drill) => drills.is_empty() || known_size(ctx, s, *drill),
            TypedKind::Length(_) => true,
        };
        for typed in loose(ctx, s).into_iter().filter(|typed| !known(typed)) {
            sink.push(
                RULE.found(format!("a value in the words of step `{}` is none of its own", s.step.id.value))
                    .at(typed.span, "in no joint and no hole of the step")
                    .help(format!(
                        "correct it, or take it out: the step prints its values itself (see `{}`)",
                        DIFFERS.id
                    ))
                    .about(&s.step.id.value),
            );
        }
    }
    sink
}

/// The values that no tied action holds.
fn loose(ctx: &Context, s: &ResolvedStep) -> Vec<TypedValue> {
    let mut out = Vec::new();
    walk(&s.step.front, &STEP, &mut |leaf| {
        if leaf.list == "figures" && matches!(leaf.holds, Holds::Words) {
            out.extend(typed_in(leaf.text, leaf.span));
        }
    });
    let actions = ctx.actions(s);
    let listed = actions.iter().any(|a| a.place.item.is_some());
    for action in actions {
        let tied = |deed| action.items(deed).next().is_some();
        out.extend(typed_values(blocks_of(s, action.place)).into_iter().filter(|typed| match typed.kind {
            TypedKind::Torque(..) => !tied(Deed::Tighten),
            TypedKind::Drill(_) => !tied(Deed::Drill),
            TypedKind::Length(_) => false,
        }));
    }
    let around = |b: &&MdBlock| {
        listed && matches!(b.kind, MdBlockKind::Paragraph(_) | MdBlockKind::Table { .. } | MdBlockKind::Quote(_))
    };
    for block in s.step.body.iter().filter(around) {
        out.extend(typed_values(std::slice::from_ref(block)));
    }
    out
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_caption_says_nothing_of_its_own() {
        let found = |caption: &str| {
            sound()
                .edit(
                    "steps/frame/20-left.md",
                    "    alt: The bracket on the keel\n",
                    &format!("    alt: The bracket on the keel\n    caption: {caption}\n"),
                )
                .findings()
        };
        assert_eq!(found("Drilled with the 1/4 in bit"), [""; 0]);
        assert_eq!(
            found("Drilled with the No. 30 bit"),
            ["value-not-of-step steps/frame/20-left.md `Drilled with the No. 30 bit`"]
        );
    }
}
