//! Two steps written by hand, one for each side, of which the second is what would be made of the first.
//!
//! It matters because a change to one of them has to be made in the other as well, and one day is not.
//!
//! Wrong: `20-left.md` and `21-right.md` that differ in nothing but the side. Right: one of them with `opposite: yes`.
//!
//! To accept: `accept: [{ rule: written-twice, about: ID, reason: ... }]` in the step's file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::{Opposite, Step, sides, step_units};
use crate::units::Hand;

pub const RULE: Rule = Rule {
    id: "written-twice",
    level: Level::Hint,
    summary: "a step for the other hand that could be made from this one",
    source: "common practice: what is true of both sides stands in one place",
    bending: Leave::Allowed,
    file: include_str!("written_twice.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let of = |hand: Hand| {
        let steps = ctx.manual.steps.iter();
        steps.filter(move |s| matches!(s.opposite, Opposite::None) && s.hand.is_some_and(|h| h.value == hand))
    };
    for left in of(Hand::Left) {
        let lines = lines(ctx, left, Hand::Left);
        let Some(right) = of(Hand::Right)
            .find(|r| r.section.value == left.section.value && self::lines(ctx, r, Hand::Right) == lines)
        else {
            continue;
        };
        sink.push(
            RULE.found(format!("step {} says what would be made of step {}", right.id.value, left.id.value))
                .at(right.id.span, "this step")
                .note(left.id.span, "its other hand")
                .help(format!("write `opposite: yes` in {} and delete this file", left.path))
                .about(&right.id.value)
                .about(&left.id.value),
        );
    }
    sink
}

/// What a step says, as the left hand would have it: sides and part numbers as words of one side, places of callouts,
/// figures and offsets left out.
fn lines(ctx: &Context, step: &Step, hand: Hand) -> Vec<String> {
    let sides = sides(ctx.manual, step);
    let left_number = |word: &str| {
        let bare = word.trim_matches(|c: char| !c.is_alphanumeric());
        let part = ctx.manual.parts.get(&crate::units::PartNumber::new(bare))?;
        let opposite = part.opposite.as_ref().filter(|_| part.hand == Some(Hand::Right))?;
        Some(word.replace(bare, opposite.as_str()))
    };
    step_units(step)
        .into_iter()
        .filter(|(label, _)| *label != "figures")
        .map(|(label, line)| {
            let line = if hand == Hand::Right { sides.swapped(&line) } else { line };
            let words: Vec<_> =
                line.split_whitespace().map(|w| left_number(w).unwrap_or_else(|| w.to_owned())).collect();
            format!("{label} {}", words.join(" ").replace("offset -", "offset "))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_step_is_written_once() {
        let found = |findings: Vec<String>| findings.into_iter().filter(|f| f.starts_with("written-twice")).count();
        let both =
            "---\nstep: SIDE-lug\ntitle: Drill the SIDE lug\nsection: frame\nhand: SIDE\n---\n1. Drill the SIDE lug.\n";
        let twice = sound()
            .add("steps/frame/80-left.md", &both.replace("SIDE", "left"))
            .add("steps/frame/81-right.md", &both.replace("SIDE", "right"));
        assert_eq!(found(twice.findings()), 1);
        assert_eq!(found(twice.edit("steps/frame/81-right.md", "1. Drill", "1. Mark and drill").findings()), 0);
    }
}
