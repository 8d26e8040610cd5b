//! A bolt that does not fit its stack: its thread reaches into the hole, the nut runs onto the shank, too few or too
//! many threads show past the nut, or there are more washers than allowed.
//!
//! It matters because a thread in the hole wears and shears, and a nut on the shank holds nothing however tight it is.
//!
//! The stack is added up from the parts list: right through a tube counts its outside diameter, nested tubes the outer
//! one once. The limits are settable under `fastening` in manual.yaml. The help names bolts and washers that fit, those
//! already in the manual first; `kitwright fit` lists all of them.
//!
//! Wrong: `AN4-10A` through a 1 1/4 in tube. Right: the dash that the help names.
//!
//! To accept: `accept: [{ rule: bolt-does-not-fit, about: keel-bolts, reason: ... }]` in the step's file.

use crate::check::fastened::{about_joint, called, no_stronger_than, words};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::{SeenJoint, choices};
use crate::trade::fit::{FaultKind, FitFault, Unusable, each_bolt, lengths_known};
use crate::trade::{Motion, Source};
use crate::units::{Length, decimal_text};

pub const RULE: Rule = Rule {
    id: "bolt-does-not-fit",
    level: Level::Error,
    summary: "a bolt too short or too long for what it clamps",
    source: "FAA AC 43.13-1B, 7-37; counts of threads and washers: common practice, settable",
    bending: Leave::Allowed,
    file: include_str!("bolt_does_not_fit.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for seen in &ctx.joints {
        let reading = &seen.reading;
        let Some(thickness) = reading.thickness else { continue };
        let fastener = &seen.joint.fastener;
        let d = match &reading.fit {
            Some(Ok(fit)) if !fit.faults.is_empty() => {
                let strongest = fit.faults.iter().map(|f| f.source).max().unwrap_or(Source::FromMemory);
                let said: Vec<_> = fit.faults.iter().map(|f| said(ctx, f)).collect();
                let from_memory = if strongest.may_fail() { "" } else { " (from memory)" };
                let d = RULE
                    .found(format!(
                        "{} does not fit {}: {}{from_memory}",
                        fastener.value,
                        called(seen),
                        said.join(", ")
                    ))
                    .at(fastener.span, format!("stack {}", words(ctx, thickness.value)))
                    .help(format!("{}{}", help(ctx, seen), settings(ctx, &fit.faults)));
                no_stronger_than(d, strongest)
            }
            Some(Err(unusable)) => {
                let what = match unusable {
                    Unusable::NotPositive(length) => format!("a measure of {} is not above zero", words(ctx, *length)),
                    Unusable::TooLarge(length) => {
                        format!("a measure of {} is out of all proportion", words(ctx, *length))
                    }
                };
                RULE.found(format!("{} can't be judged: {what}", called(seen)))
                    .at(fastener.span, "with this fastener")
                    .help("correct the thicknesses in the lists of stock and hardware")
            }
            _ => continue,
        };
        sink.push(about_joint(d, seen));
    }
    sink
}

fn said(ctx: &Context, fault: &FitFault) -> String {
    let inches = || words(ctx, Length::from_inches(fault.by));
    match fault.kind {
        FaultKind::ThreadInHole => {
            let allowed = ctx.manual.settings.fastening.fit.thread_in_hole.value;
            let more = if allowed > Length::ZERO {
                format!(" further than the {} allowed", words(ctx, allowed))
            } else {
                String::new()
            };
            format!("too short, its thread reaches {}{more} into the hole", inches())
        }
        FaultKind::NutOnShank => format!("too long, the nut comes {} short of the thread's beginning", inches()),
        FaultKind::TooFewThreads => {
            format!("too short, {} threads are missing past the nut", decimal_text(fault.by, 1))
        }
        FaultKind::TooManyThreads => format!("too long, {} threads too many past the nut", decimal_text(fault.by, 1)),
        FaultKind::TooManyWashers if *fault.by.numer() == 1 => "one washer too many".to_owned(),
        FaultKind::TooManyWashers => format!("{} washers too many", decimal_text(fault.by, 0)),
    }
}

/// The settings that decided, with their values.
fn settings(ctx: &Context, faults: &[FitFault]) -> String {
    let rules = &ctx.manual.settings.fastening.fit;
    let set: Vec<String> = faults
        .iter()
        .filter_map(|fault| match fault.kind {
            FaultKind::ThreadInHole => Some(format!("thread-in-hole: {}", words(ctx, rules.thread_in_hole.value))),
            FaultKind::TooFewThreads => Some(format!("threads-past-nut: {}", rules.threads_past.value)),
            FaultKind::TooManyThreads => Some(format!("most-threads-past-nut: {}", rules.most_threads_past.value)),
            FaultKind::TooManyWashers => Some(format!("most-washers: {}", rules.washers.value)),
            // That a nut does not run on a shank is no matter of setting.
            FaultKind::NutOnShank => None,
        })
        .collect();
    if set.is_empty() { String::new() } else { format!("; decided by `fastening: {{ {} }}`", set.join(", ")) }
}

/// The combinations that fit, or what else can be done.
fn help(ctx: &Context, seen: &SeenJoint) -> String {
    let reading = &seen.reading;
    let (Some(bolt), Some(stack)) = (&reading.fastener, reading.thickness) else { return String::new() };
    let rules = &ctx.manual.settings.fastening.fit;
    if !lengths_known(bolt) {
        return "change the stack or the fastener; the lengths of this series are not in the table".to_owned();
    }
    let motion = if seen.joint.turns { Motion::Turns } else { Motion::Fixed };
    let rules = &rules.for_motion(motion);
    let found = choices(Some((ctx.manual, &ctx.items)), bolt, stack, reading.nut.as_deref(), rules);
    if found.is_empty() {
        return "change the stack or the fastener; no bolt of this series fits with the washers that are known"
            .to_owned();
    }
    let words: Vec<String> = each_bolt(&found).iter().map(|s| s.words()).collect();
    format!("fit {}; `kitwright fit` lists all", words.join(", or "))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    /// The published AN bolt tables: AN4-10A has grip 9/16 in, AN4-7A 7/16 in, AN4-12A 13/16 in; the stack is .558 in.
    #[test]
    fn the_dash_that_fits_is_named() {
        let step = "steps/frame/20-left.md";
        let with = |bolt: &str| {
            let row = format!("AN4-10A,Bolt,bolt,each\n{bolt},Bolt,bolt,each\n");
            sound().edit("hardware.csv", "AN4-10A,Bolt,bolt,each\n", &row).edit(
                step,
                "fastener: AN4-10A",
                &format!("fastener: {bolt}"),
            )
        };
        for (bolt, what) in [("AN4-7A", "too short"), ("AN4-12A", "too long")] {
            let (found, _) = with(bolt).check();
            let found: Vec<_> = found.iter().filter(|d| d.rule == "bolt-does-not-fit").collect();
            assert_eq!(found.len(), 1, "{bolt}");
            assert!(
                found[0].headline.contains(what) && found[0].help.contains("AN4-10A, AN960-416 under the nut"),
                "{:?}",
                found[0]
            );
        }
    }

    #[test]
    fn a_missing_washer_is_found() {
        let found = sound().edit("steps/frame/20-left.md", "    under-nut: [AN960-416]\n", "").only();
        assert_eq!(found.rule, "bolt-does-not-fit");
    }
}
