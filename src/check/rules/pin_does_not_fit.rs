//! A clevis pin whose grip is shorter than what it goes through, or leaves more than 1/8 in of play; a cotter pin that is
//! too thick, too thin or too short for the bolt or pin it goes through. Of a cable's end the parts under `pin-through`, which
//! the pin passes beside the cable's own fitting.
//!
//! It matters because the cotter pin then does not go in, works loose, or can't be bent, and the fork works to and fro.
//!
//! The sizes of cotter pins are from memory, so that they warn: 1/16 in up to 5/16 in, 3/32 in up to 1/2 in, 1/8 in up to
//! 3/4 in, and as long as one and a half diameters.
//!
//! Wrong: `AN393-11` (grip 11/32 in) through 3/8 in; `AN380-2-2` in an AN6 bolt. Right: `AN393-13`; `AN380-3-3`.
//!
//! To accept: `accept: [{ rule: pin-does-not-fit, about: fork-pin, reason: ... }]` in the step's file.

use indexmap::IndexMap;

use crate::check::fastened::{about_joint, called, no_stronger_than, words};
use crate::check::{Context, Leave, MOST_NOTES, Rule, Run};
use crate::diag::{Diagnostic, Level, Note, Sink};
use crate::joint::{SeenJoint, passed_by_pin};
use crate::model::{CableEnd, Step};
use crate::source::Spanned;
use crate::trade::{CotterFault, Decoded, ItemForm, LockFault, cotter_faults};
use crate::units::{Designation, Length};

pub const RULE: Rule = Rule {
    id: "pin-does-not-fit",
    level: Level::Error,
    summary: "a clevis pin or cotter pin of the wrong size for what it goes through",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("pin_does_not_fit.rs"),
    run: Run::Manual(run),
};

/// Most play along a pin, inches (common practice).
const PLAY: (i64, i64) = (1, 8);

fn run(ctx: &Context) -> Sink {
    let mut sink = at_cables(ctx);
    for seen in &ctx.joints {
        sink.extend(cotter(ctx, seen));
        let Some(ItemForm::ClevisPin) = seen.reading.form() else { continue };
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
            .at(
                fastener.span,
                format!("grip {}, stack with washers {}", words(ctx, grip.value), words(ctx, stack.value)),
            )
            .help(format!(
                "take a pin with a grip of {} or a little more, or change the washers",
                words(ctx, stack.value)
            ));
        sink.push(about_joint(no_stronger_than(d, grip.source), seen));
    }
    sink
}

/// Cotter pins of cable ends, each against the clevis pin of its end.
fn at_cables(ctx: &Context) -> Sink {
    let mut found: IndexMap<(&Designation, &Designation, &str), Diagnostic> = IndexMap::new();
    for step in ctx.manual.written_steps() {
        for end in step.cables.iter().flat_map(|c| c.ends()).flatten() {
            let of = |form: ItemForm| {
                let found = end.fittings.iter().filter_map(move |(d, _)| Some((d, ctx.items.get(&d.value)?)));
                found.filter(move |(_, i)| i.form == form).collect::<Vec<_>>()
            };
            let clevises = of(ItemForm::ClevisPin);
            let [clevis] = clevises.as_slice() else { continue };
            reaches(ctx, end, clevis, step, &mut found);
            for (named, cotter) in of(ItemForm::CotterPin) {
                for fault in cotter_faults(clevis.1, cotter) {
                    let (what, help) = words_of(ctx, fault.value);
                    match found.get_mut(&(&named.value, &clevis.0.value, what)) {
                        Some(first) if first.notes.len() < MOST_NOTES => {
                            first.notes.push(Note { span: named.span, label: "and here".to_owned() });
                        }
                        Some(_) => {}
                        None => {
                            let d = RULE
                                .found(format!("{} is {what} for {}", named.value, clevis.0.value))
                                .at(named.span, format!("goes through {} ({})", clevis.0.value, fault.source.words()))
                                .help(help)
                                .about(&named.value)
                                .about(&step.id.value);
                            found.insert((&named.value, &clevis.0.value, what), no_stronger_than(d, fault.source));
                        }
                    }
                }
            }
        }
    }
    found.into_values().collect()
}

/// Whether the pin of an end reaches through the parts that it passes.
fn reaches<'a>(
    ctx: &'a Context,
    end: &'a CableEnd,
    clevis: &(&'a Spanned<Designation>, &std::sync::Arc<Decoded>),
    step: &Step,
    found: &mut IndexMap<(&'a Designation, &'a Designation, &'static str), Diagnostic>,
) {
    let all: Option<Vec<Length>> = end.pin_through.iter().map(|p| passed_by_pin(ctx.manual, &p.value)).collect();
    let (Some(all), Some(grip)) = (all.filter(|all| !all.is_empty()), clevis.1.grip) else { return };
    let through = all.into_iter().fold(Length::ZERO, |sum, length| sum + length);
    if grip.value >= through {
        return;
    }
    let named = clevis.0;
    let d = RULE
        .found(format!("{} does not reach through what it joins", named.value))
        .at(
            named.span,
            format!("grip {}, parts {}, without the cable's own fitting", words(ctx, grip.value), words(ctx, through)),
        )
        .help(format!("take a pin with a grip of more than {}", words(ctx, through)))
        .about(&named.value)
        .about(&step.id.value);
    found.entry((&named.value, &named.value, "too short for its parts")).or_insert(no_stronger_than(d, grip.source));
}

fn words_of(ctx: &Context, fault: CotterFault) -> (&'static str, String) {
    match fault {
        CotterFault::TooThick { right } => ("too thick", format!("take a cotter pin of {}", words(ctx, right))),
        CotterFault::TooThin { right } => ("too thin", format!("take a cotter pin of {}", words(ctx, right))),
        CotterFault::TooShort { least } => {
            ("too short", format!("take a cotter pin at least {} long", words(ctx, least)))
        }
    }
}

fn cotter<'a>(ctx: &'a Context, seen: &'a SeenJoint) -> impl Iterator<Item = Diagnostic> + use<'a> {
    // A bolt of another size than its nut is the other finding.
    let other = seen.reading.lock.iter().any(|f| matches!(f.value, LockFault::ThreadsDiffer));
    let through = seen.reading.fastener.as_deref().filter(|_| !other);
    let pair = through.zip(seen.reading.pin.as_deref()).zip(seen.joint.pin.as_ref());
    pair.into_iter().flat_map(move |((through, pin), named)| {
        cotter_faults(through, pin).into_iter().map(move |fault| {
            let (what, help) = words_of(ctx, fault.value);
            let d = RULE
                .found(format!("{} is {what} for {}", named.value, called(seen)))
                .at(named.span, format!("goes through {} ({})", seen.joint.fastener.value, fault.source.words()))
                .help(help)
                .about(what);
            about_joint(no_stronger_than(d, fault.source), seen)
        })
    })
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_cotter_pin_has_its_bolts_size() {
        let with = |pin: &str| {
            sound()
                .edit(
                    "hardware.csv",
                    "AN380-2-2",
                    &format!("AN4-10,Bolt,bolt,each\nAN310-4,Nut,nut,each\n{pin},Pin,cotter pin,each\nAN380-2-2"),
                )
                .edit("steps/frame/20-left.md", "fastener: AN4-10A", "fastener: AN4-10")
                .edit("steps/frame/20-left.md", "nut: AN365-428A", &format!("nut: AN310-4\n    pin: {pin}"))
                .findings()
        };
        let found = |pin| with(pin).into_iter().filter(|f| f.starts_with("pin-does-not-fit")).collect::<Vec<_>>();
        assert_eq!(found("AN380-2-3"), [""; 0]);
        assert_eq!(found("AN380-3-3"), ["pin-does-not-fit steps/frame/20-left.md `AN380-3-3`"]);
        assert_eq!(found("AN380-2-1"), ["pin-does-not-fit steps/frame/20-left.md `AN380-2-1`"]);
    }

    /// AN393: grip in 1/32 in (from memory, so it warns). The stack is .058 in.
    /// AN393-11 has a grip of 11/32 in: through a sheet of .058 in it reaches, through a bracket of 1/2 in it does not.
    #[test]
    fn the_pin_of_a_cable_reaches_through_what_it_joins() {
        let through = |parts: &str| {
            let end = format!(
                "{{ loop: 2, sleeve: CS-1/8, crimps: 3, fittings: [AN393-11, AN380-2-2], pin-through: [{parts}] }}"
            );
            let cable = format!(
                "cables:\n  - {{ cable: stay, part: KW-300, construction: 7x19, length: 20, end-a: {end}, end-b: {end} }}\ntools: [saw]"
            );
            let case = sound().edit("hardware.csv", "AN380-2-2", "AN393-11,Pin,clevis pin,each\nAN380-2-2").edit(
                "steps/frame/10-keel.md",
                "tools: [saw]",
                &cable,
            );
            let found = case.findings().into_iter();
            found.filter(|f| f.starts_with("pin-does-not-fit") && f.contains("AN393")).collect::<Vec<_>>()
        };
        assert_eq!(through("KW-104"), [""; 0]);
        assert_eq!(through("KW-104, KW-103-L"), ["pin-does-not-fit steps/frame/10-keel.md `AN393-11`"]);
    }

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
