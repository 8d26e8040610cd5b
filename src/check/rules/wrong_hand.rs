//! A left step that uses a right part, a right step that uses a left one, or a part whose hand column says something
//! other than the ending of its number.
//!
//! It matters because a part of the wrong hand often fits until the last hole, and by then the first holes are
//! drilled.
//!
//! A step with `hand: left` may use left parts and parts of no hand; a step without `hand` may use both. Of a step
//! whose hand fits none of its parts the hand is blamed, unless the quantities show that the part is wrong.
//!
//! Wrong: `hand: left` in a step that pulls `KW-103-R`. Right: `KW-103-L` in that step, or no `hand` where it works
//! on both sides.
//!
//! To accept a part of the other hand in a step: `accept: [{ rule: wrong-hand, about: KW-103-R, reason: ... }]` in
//! the step's file.

use crate::check::HandFault;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Diagnostic, did_you_mean};
use crate::diag::{Level, Sink};
use crate::units::Hand;

pub const RULE: Rule = Rule {
    id: "wrong-hand",
    level: Level::Error,
    summary: "a left step that uses a right part, or a hand that is written two ways",
    source: "handedness as seen by someone facing forward: common practice (NAVEDTRA 14040)",
    bending: Leave::Allowed,
    file: include_str!("wrong_hand.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    ctx.hands.iter().map(finding).collect()
}

fn finding(fault: &HandFault) -> Diagnostic {
    match fault {
        HandFault::Cell { part, by_number } => {
            let written = part.hand.map_or("no hand".to_owned(), |h| format!("`{h}`"));
            RULE.found(format!(
                "{} is {by_number} by its number, and the hand column says {written}",
                part.number.value
            ))
            .at(part.hand_span.unwrap_or(part.number.span), format!("{written} for a number of the {by_number} hand"))
            .help(format!("write `{by_number}` in the hand column, or correct the number"))
            .about(&part.number.value)
        }
        HandFault::Same { part, other } => {
            let hand = part.hand.map_or("", Hand::word);
            RULE.found(format!("{} and its opposite {} are both {hand}", part.number.value, other.number.value))
                .at(part.hand_span.unwrap_or(part.number.span), "the same hand as its opposite")
                .note(other.hand_span.unwrap_or(other.number.span), "the other one")
                .help("correct the hand of one of the two")
                .about(&part.number.value)
        }
        HandFault::Step { step, hand, parts } => {
            let other = hand.opposite();
            let d = RULE
                .found(format!("step `{}` is {hand}, and its handed parts are {other}", step.id.value))
                .at(step.hand.map_or(step.id.span, |h| h.span), format!("{hand} here"))
                .help(format!("write `hand: {other}`, or take the parts of the {hand} hand"))
                .about(&step.id.value);
            parts.iter().fold(d, |d, (number, span)| d.note(*span, format!("a part of the {other} hand")).about(number))
        }
        HandFault::Part { step, hand, part, places } => {
            let other = hand.opposite();
            let help = match &part.opposite {
                Some(opposite) => did_you_mean(&opposite.value),
                None => "take the part of the step's hand, or leave `hand` out where the step works on both sides"
                    .to_owned(),
            };
            let d = RULE
                .found(format!("step `{}` is {hand}, and {} is a {other} part", step.id.value, part.number.value))
                .at(places[0], format!("a part of the {other} hand"))
                .help(help)
                .about(&part.number.value)
                .about(&step.id.value);
            let d = places[1..].iter().fold(d, |d, span| d.note(*span, "and here"));
            match step.hand {
                Some(written) => d.note(written.span, format!("the step is {hand}")),
                None => d,
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn the_hand_of_the_step() {
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "hand: left", "hand: right").findings(),
            ["wrong-hand steps/frame/20-left.md `right`"]
        );
        assert_eq!(sound().edit("steps/frame/20-left.md", "hand: left\n", "").findings(), [""; 0]);
    }

    #[test]
    fn a_part_of_the_wrong_hand() {
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "  - KW-103-L", "  - KW-103-R").findings(),
            ["wrong-hand steps/frame/20-left.md `KW-103-R`"]
        );
        assert_eq!(
            sound().edit_all("steps/frame/20-left.md", "KW-103-L", "KW-103-R").findings(),
            ["wrong-hand steps/frame/20-left.md `KW-103-R`"]
        );
        assert_eq!(
            sound().edit("steps/frame/21-right.md", "stack: [KW-103-R", "stack: [KW-103-L").findings(),
            ["wrong-hand steps/frame/21-right.md `KW-103-L`"]
        );
    }

    #[test]
    fn the_hand_column() {
        assert_eq!(
            sound().edit("parts.csv", "Bracket,left", "Bracket,right").findings(),
            ["wrong-hand parts.csv `right`"]
        );
        assert_eq!(
            sound().edit("parts.csv", "Bracket,left", "Bracket,").findings(),
            ["wrong-hand parts.csv `KW-103-L`"]
        );
        assert_eq!(
            sound()
                .edit("parts.csv", "Bracket,left", "Bracket,right")
                .edit("manual.yaml", "hand-suffixes: { left: -L, right: -R }", "")
                .findings(),
            ["wrong-hand parts.csv `right`"]
        );
    }
}
