//! A blind rivet whose grip range does not fit the stack.
//!
//! It matters because below its range a blind rivet stays loose, and above it no head forms inside, where nobody sees
//! it.
//!
//! The range comes from the hardware list (`least grip` and `grip`) or the designation. What is from memory warns.
//!
//! Wrong: `MS20600AD4-2` through 3/16 in. Right: the number that the help names.
//!
//! To accept: `accept: [{ rule: blind-rivet-grip, about: gusset-rivets, reason: ... }]` in the step's file.

use crate::check::fastened::{about_joint, called, no_stronger_than, words};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::trade::{BlindRivet, Grip, ItemForm};
use crate::units::{Length, Rational};

pub const RULE: Rule = Rule {
    id: "blind-rivet-grip",
    level: Level::Error,
    summary: "a blind rivet whose grip range does not fit the stack",
    source: "the rivet's grip range; US Army TM 10-5410-221-14/1, Table 4-3",
    bending: Leave::Allowed,
    file: include_str!("blind_rivet_grip.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for seen in &ctx.joints {
        let Some(ItemForm::BlindRivet(_)) = seen.reading.form() else { continue };
        let (Some(rivet), Some(stack)) = (&seen.reading.fastener, seen.reading.clamped_with_washers()) else {
            continue;
        };
        let Some(range) = rivet.grip_range else { continue };
        let fastener = &seen.joint.fastener;
        let by = match range.value.judge(stack.value) {
            Grip::Holds | Grip::LeastUnknown => continue,
            Grip::TooThin(by) => format!("{} thinner than its least grip", words(ctx, by)),
            Grip::TooThick(by) => format!("{} thicker than its grip", words(ctx, by)),
        };
        let d = RULE
            .found(format!("{} does not fit {}: the stack is {by}", fastener.value, called(seen)))
            .at(fastener.span, format!("stack {}", words(ctx, stack.value)))
            .help(help(ctx, fastener.as_str(), rivet.diameter.map(|d| d.value), stack.value));
        sink.push(about_joint(no_stronger_than(d, range.source), seen));
    }
    sink
}

fn help(ctx: &Context, name: &str, diameter: Option<Length>, stack: Length) -> String {
    // MS20600 and its kin code the largest grip in sixteenths.
    if name.starts_with("MS2060")
        && let Some((lead, _)) = name.rsplit_once('-')
    {
        let sixteenths = (stack.as_inches() * Rational::from_integer(16)).ceil().to_integer();
        return format!("fit {lead}-{sixteenths}");
    }
    match diameter.and_then(|d| BlindRivet::holding(d, stack)) {
        Some(rivet) => {
            format!("fit a rivet of number {}, or one whose grip range fits {}", rivet.number, words(ctx, stack))
        }
        None => format!("take a rivet whose grip range fits {}", words(ctx, stack)),
    }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn the_grip_holds_the_stack() {
        let with = |stack: &str| {
            sound()
                .edit("hardware.csv", "AN380-2-2", "MS20600AD4-2,Rivet,blind rivet,each\nAN380-2-2")
                .edit(
                    "steps/frame/20-left.md",
                    "    places: 2\n",
                    &format!("    places: 2\n  - {{ fastener: MS20600AD4-2, stack: [{stack}] }}\n"),
                )
                .check()
                .0
                .into_iter()
                .filter(|d| d.rule == "blind-rivet-grip")
                .map(|d| d.help)
                .collect::<Vec<_>>()
        };
        // MS20600 counts the largest grip in sixteenths: -2 is 1/8 in, .558 in asks for -9.
        assert_eq!(with("KW-103-L, { part: KW-101, through: wall }"), ["fit MS20600AD4-9"]);
        assert!(with("{ part: KW-101, through: wall }").is_empty());
    }
}
