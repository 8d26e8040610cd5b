//! A clevis pin whose grip is shorter than what it goes through, or leaves more than 1/8 in of play.
//!
//! It matters because the cotter pin then does not go in, or the fork works to and fro on the pin.
//!
//! Wrong: `AN393-11` (grip 11/32 in) through 3/8 in. Right: `AN393-13`.
//!
//! To accept: `accept: [{ rule: pin-does-not-fit, about: fork-pin, reason: ... }]` in the step's file.

use crate::check::fastened::{about_joint, called, no_stronger_than, words};
use crate::check::{Bending, Context, Rule, Run};
use crate::diag::{Level, Sink};
use crate::trade::Form;
use crate::units::Length;

pub const RULE: Rule = Rule {
    id: "pin-does-not-fit",
    level: Level::Error,
    summary: "a clevis pin too short or too long for what it goes through",
    source: "common practice",
    bending: Bending::Allowed,
    file: include_str!("pin_does_not_fit.rs"),
    run: Run::Manual(run),
};

/// Most play along a pin, inches (common practice).
const PLAY: (i64, i64) = (1, 8);

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for seen in &ctx.joints {
        let Some(Form::ClevisPin) = seen.reading.form() else { continue };
        let grip = seen.reading.fastener.as_ref().and_then(|f| f.grip);
        let (Some(grip), Some(stack)) = (grip, seen.reading.clamped_with_washers()) else { continue };
        let fastener = &seen.joint.fastener;
        let by = if grip.value < stack.value {
            format!("{} too short", words(ctx, stack.value - grip.value))
        } else if grip.value > stack.value + Length::inches(PLAY.0, PLAY.1) {
            format!("{} too long", words(ctx, grip.value - stack.value))
        } else {
            continue;
        };
        let d = RULE
            .found(format!("{} is {by} for {}", fastener.value, called(seen)))
            .at(fastener.span, format!("grip {}, stack with washers {}", words(ctx, grip.value), words(ctx, stack.value)))
            .help(format!("take a pin with a grip of {} or a little more, or change the washers", words(ctx, stack.value)));
        sink.push(about_joint(no_stronger_than(d, grip.source), seen));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    /// AN393: grip in 1/32 in (from memory, so it warns). The stack is .058 in.
    #[test]
    fn the_grip_is_the_stack() {
        let with = |pin: &str| {
            sound()
                .edit("hardware.csv", "AN380-2-2", &format!("{pin},Pin,clevis pin,each\nAN380-2-2"))
                .edit("steps/frame/20-left.md", "    places: 2\n", &format!("    places: 2\n  - {{ fastener: {pin}, stack: [{{ part: KW-101, through: wall }}], pin: AN380-2-2 }}\n"))
                .check()
                .0
                .iter()
                .any(|d| d.rule == "pin-does-not-fit" && d.level == crate::diag::Level::Warning)
        };
        assert!(with("AN393-1") && with("AN393-11") && !with("AN393-3"));
    }
}
