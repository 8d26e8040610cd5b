//! An offset to the right of a centre line in a left step, or to the left of it in a right one.
//!
//! It matters because the part then goes to the other side of the craft.
//!
//! Only offsets from a datum of manual.yaml whose words name a centre line are looked at.
//!
//! Wrong: `hand: left`, and `{ place: Middle of the tang, from: keel-line, right: 16 }`. Right: `left: 16`.
//!
//! To accept: `accept: [{ rule: offset-on-other-side, about: step-id, reason: ... }]` in the step's file.

use crate::check::{Context, HandFault, Leave, Rule, Run};
use crate::diag::{Level, Sink, did_you_mean};
use crate::model::{Side, Step};
use crate::units::Hand;

pub const RULE: Rule = Rule {
    id: "offset-on-other-side",
    level: Level::Error,
    summary: "an offset from a centre line to the side that is not the step's",
    source: "handedness as seen by someone facing forward: common practice (NAVEDTRA 14040)",
    bending: Leave::Allowed,
    file: include_str!("offset_on_other_side.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    // Where all its parts are of the other hand, the step's hand is the one to mend.
    let doubtful = |step: &Step| {
        ctx.hands.iter().any(|f| matches!(f, HandFault::Step { step: s, .. } if s.id.value == step.id.value))
    };
    for step in ctx.manual.written_steps().filter(|s| !doubtful(s)) {
        let Some(hand) = &step.hand else { continue };
        let other = match hand.value {
            Hand::Left => Side::Right,
            Hand::Right => Side::Left,
        };
        for offset in &step.offsets {
            let centre = ctx.manual.settings.datums.get(&offset.from.value).is_some_and(|datum| {
                let words = datum.value.to_lowercase();
                words.contains("centre line") || words.contains("center line")
            });
            let Some((_, length)) = offset.away.iter().find(|(side, _)| *side == other).filter(|_| centre) else {
                continue;
            };
            sink.push(
                RULE.found(format!(
                    "step `{}` is {}, and an offset goes to the {} of {}",
                    step.id.value,
                    hand.value,
                    other.word(),
                    offset.from.value
                ))
                .at(length.span, format!("to the {}", other.word()))
                .note(hand.span, format!("the step is {}", hand.value))
                .help(did_you_mean(format_args!("{}:", hand.value)))
                .about(&step.id.value)
                .about(&offset.place.value),
            );
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_left_step_goes_to_the_left() {
        let with = |datum: &str, side: &str| {
            let case = sound().edit("manual.yaml", "kerf: 1/16\n", &format!("kerf: 1/16\ndatums:\n  mid: {datum}\n"));
            case.edit(
                "steps/frame/20-left.md",
                "tools: [drill]",
                &format!("offsets:\n  - {{ place: Bracket, from: mid, {side}: 4 }}\ntools: [drill]"),
            )
            .findings()
        };
        assert_eq!(with("Centre line of the keel", "left"), [""; 0]);
        assert_eq!(with("Centre line of the keel", "right"), ["offset-on-other-side steps/frame/20-left.md `4`"]);
        assert_eq!(with("Outer face of the rail", "right"), [""; 0]);
    }
}
