//! A place in a step with `opposite: yes` where it can't be told what the step for the other hand says: a word of
//! turning, a side word in a table or a quotation, lettering in a drawing. Also such a step without a hand.
//!
//! It matters because nuts tighten the same way on both sides, while an arm swings the other way; a wrong word here
//! loosens a bolt.
//!
//! Wrong: `Turn the barrel to the right` with nothing that marks it. Right: the phrase in `opposite-keep`, where it stays
//! as it is, or in `opposite-swap`, where it changes. For lettering: name the other drawing as the figure's `opposite`,
//! or write `opposite: same`.
//!
//! It can't be accepted; mark the place.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::{Opposite, UnclearKind, unclear};

pub const RULE: Rule = Rule {
    id: "opposite-unclear",
    level: Level::Error,
    summary: "a place where the step for the other hand is not clear",
    source: "common practice: threads turn the same way on both sides",
    bending: Leave::Refused,
    file: include_str!("opposite_unclear.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in &ctx.manual.steps {
        let id = &step.id.value;
        if let (Opposite::Made { at, .. }, None) = (&step.opposite, step.hand) {
            sink.push(
                RULE.found(format!("step {id} has an opposite and no hand"))
                    .at(*at, "of which hand is the step that is written?")
                    .help("add `hand: left` or `hand: right`, the hand of the step as it is written")
                    .about(id),
            );
        }
        for place in unclear(ctx.manual, step) {
            let (label, help) = match place.kind {
                UnclearKind::Turning => (
                    "a way of turning",
                    "write the phrase under `opposite-keep`, where it stays, or under `opposite-swap`, where it changes",
                ),
                UnclearKind::Table => {
                    ("a side word in a table", "write the phrase under `opposite-keep` or `opposite-swap`")
                }
                UnclearKind::Quotation => {
                    ("a side word in a quotation", "write the phrase under `opposite-keep` or `opposite-swap`")
                }
                UnclearKind::Lettering => (
                    "a side word in the drawing",
                    "draw the other hand and name it as the figure's `opposite`, or write `opposite: same`",
                ),
                UnclearKind::Face => (
                    "a face without a plain other one",
                    "add `opposite-face-up:` and the face that is up for the other hand",
                ),
            };
            sink.push(
                RULE.found(format!("can't tell what the opposite of step {id} says for `{}`", place.words))
                    .at(place.span, label)
                    .help(help)
                    .about(id),
            );
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{Case, sound};

    const LEFT: &str = "steps/frame/20-left.md";

    /// The left bracket's step stands for both.
    fn once() -> Case {
        sound().remove("steps/frame/21-right.md").edit(LEFT, "hand: left", "hand: left\nopposite: yes")
    }

    #[test]
    fn what_can_not_be_told_is_marked() {
        let found =
            |case: Case| case.findings().into_iter().filter(|f| f.starts_with("opposite-unclear")).collect::<Vec<_>>();
        assert_eq!(found(once()), [""; 0]);
        let turning = once().add(LEFT, "\nTurn the nut to the right.\n");
        assert_eq!(found(turning.clone()), [format!("opposite-unclear {LEFT} `Turn the nut to the right.`")]);
        assert_eq!(
            found(turning.edit(LEFT, "opposite: yes", "opposite: yes\nopposite-keep: [Turn the nut to the right]")),
            [""; 0]
        );
        assert_eq!(found(once().add(LEFT, "\n| left | b |\n|---|---|\n| 1 | 2 |\n")).len(), 1);
        assert_eq!(found(once().add(LEFT, "\n> It says left here.\n")).len(), 1);
        assert_eq!(found(once().edit(LEFT, "hand: left\n", "")), [format!("opposite-unclear {LEFT} `yes`")]);
    }
}
