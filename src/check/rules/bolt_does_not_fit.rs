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

use super::telescoping_fit;
use crate::check::fastened::{about_joint, called, no_stronger_than, words};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Diagnostic, Level, Sink};
use crate::joint::{SeenJoint, Threaded, choices, rules_for};
use crate::model::DecidedBy;
use crate::trade::Source;
use crate::trade::fit::{FaultKind, FitFault, FitLimit, FitRules, Unusable, each_bolt, lengths_known};
use crate::units::{Length, Rational, decimal_text};

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
        if let Some(threaded) = reading.threaded.filter(Threaded::too_short) {
            sink.push(about_joint(too_shallow(ctx, seen, threaded), seen));
            continue;
        }
        let d = match &reading.fit {
            // Tubes that no longer slide into one another are the finding.
            Some(Ok(fit)) if !fit.faults.is_empty() && telescoping_fit::parted(ctx, seen).is_some() => continue,
            Some(Ok(fit)) if !fit.faults.is_empty() => {
                let strongest = fit.faults.iter().map(|f| f.source).max().unwrap_or(Source::FromMemory);
                let rules = rules_for(ctx.manual, seen.joint, reading.fastener.as_deref());
                let said: Vec<_> = fit.faults.iter().map(|f| said(ctx, &rules, f)).collect();
                let from_memory = if strongest.may_fail() { "" } else { " (from memory)" };
                let d = RULE
                    .found(format!(
                        "{} does not fit {}: {}{from_memory}",
                        fastener.value,
                        called(seen),
                        said.join(", ")
                    ))
                    .at(fastener.span, format!("stack {}", words(ctx, thickness.value)))
                    .help(format!("{}{}", help(ctx, seen), settings(ctx, seen, &fit.faults)));
                no_stronger_than(d, strongest)
            }
            Some(Ok(_)) if reading.at_worst.is_some_and(|worst| worst < Rational::from_integer(0)) => {
                let short = Rational::from_integer(0) - reading.at_worst.unwrap_or_default();
                let d = RULE
                    .found(format!(
                        "{} fits {} only where its parts are as thick as they say: {} are missing with their tolerance",
                        fastener.value,
                        called(seen),
                        words(ctx, Length::from_inches(short))
                    ))
                    .at(fastener.span, format!("stack {}", words(ctx, thickness.value)))
                    .help(help(ctx, seen));
                no_stronger_than(d, Source::FromMemory)
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

/// A screw that reaches too little into the part that has its thread.
fn too_shallow(ctx: &Context, seen: &SeenJoint, threaded: Threaded) -> Diagnostic {
    let part = seen.joint.stack.last().map_or("the last part", |m| m.part.as_str());
    let (deep, least) = (threaded.deep.value.max(Length::ZERO), threaded.least.value);
    let source = threaded.deep.source.min(threaded.least.source);
    let d = RULE
        .found(format!(
            "{} does not fit {}: its thread goes {} into {part}, and {} are required",
            seen.joint.fastener.value,
            called(seen),
            words(ctx, deep),
            words(ctx, least)
        ))
        .at(seen.joint.fastener.span, source.words())
        .help("take a longer screw, or a part with more room for its thread: one diameter in steel, one and a half in aluminium, two in what is softer");
    no_stronger_than(d, source)
}

fn said(ctx: &Context, rules: &FitRules, fault: &FitFault) -> String {
    let inches = || words(ctx, Length::from_inches(fault.by));
    match fault.kind {
        FaultKind::ThreadInHole => {
            let allowed = rules.thread_in_hole.value;
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

/// What decided, with its values: the manual's own limits, its trade, or the usual limits with the keys that set them.
fn settings(ctx: &Context, seen: &SeenJoint, faults: &[FitFault]) -> String {
    let fastening = &ctx.manual.settings.fastening;
    let bolt = seen.reading.fastener.as_deref();
    let rules = rules_for(ctx.manual, seen.joint, bolt);
    let mut by: Vec<(DecidedBy, Vec<String>)> = Vec::new();
    for fault in faults {
        let (limit, value) = match fault.kind {
            FaultKind::ThreadInHole => (FitLimit::ThreadInHole, words(ctx, rules.thread_in_hole.value)),
            FaultKind::TooFewThreads => (FitLimit::ThreadsPast, rules.threads_past.value.to_string()),
            FaultKind::TooManyThreads => (FitLimit::MostThreadsPast, rules.most_threads_past.value.to_string()),
            FaultKind::TooManyWashers => (FitLimit::Washers, rules.washers.value.to_string()),
            // That a nut does not run on a shank is no matter of setting.
            FaultKind::NutOnShank => continue,
        };
        let set = format!("{}: {value}", limit.key());
        let decided = fastening.decided(limit, bolt);
        match by.iter_mut().find(|(other, _)| *other == decided) {
            Some((_, sets)) => sets.push(set),
            None => by.push((decided, vec![set])),
        }
    }
    by.iter()
        .map(|(decided, sets)| {
            let sets = format!("`fastening: {{ {} }}`", sets.join(", "));
            match decided {
                DecidedBy::Manual => format!("; decided by {sets}"),
                DecidedBy::Trade(name) => format!("; decided by `trade: {name}`, as if by {sets}"),
                DecidedBy::Published => {
                    format!(
                        "; decided by the published rule for this hardware, which no trade loosens, as if by {sets}"
                    )
                }
                DecidedBy::Usual => format!("; decided by the usual limits, as if by {sets}"),
            }
        })
        .collect()
}

/// The combinations that fit, or what else can be done.
fn help(ctx: &Context, seen: &SeenJoint) -> String {
    let reading = &seen.reading;
    let (Some(bolt), Some(stack)) = (&reading.fastener, reading.thickness) else { return String::new() };
    if !lengths_known(bolt) {
        return "change the stack or the fastener; the lengths of this series are not in the table".to_owned();
    }
    let rules = rules_for(ctx.manual, seen.joint, Some(bolt));
    let found =
        choices(Some((ctx.manual, &ctx.items)), bolt, stack, reading.nut.as_deref(), &rules, seen.joint.tolerance());
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

    /// AN4-10A has .004 in of its grip over the stack of .558 in, and a washer of .063 at its other end.
    #[test]
    fn the_tolerance_of_the_parts_is_counted() {
        let step = "steps/frame/20-left.md";
        let with = |tolerance: &str| {
            let member = format!("stack: [{{ part: KW-103-L, tolerance: {tolerance} }}, {{");
            sound().edit(step, "stack: [KW-103-L, {", &member).findings()
        };
        assert_eq!(with(".001"), [""; 0]);
        assert_eq!(with("1/16"), [format!("bolt-does-not-fit {step} `AN4-10A`")]);
    }

    /// What decided is said: the manual's own limit, its trade, or the usual ones.
    #[test]
    fn what_decided_is_said() {
        let step = "steps/frame/20-left.md";
        let help = |settings: &str| {
            let case = sound().edit(step, "    under-nut: [AN960-416]\n", "    under-nut: [4 x AN960-416]\n");
            let case = if settings.is_empty() { case } else { case.add("manual.yaml", settings) };
            let (found, _) = case.check();
            found.into_iter().find(|d| d.rule == "bolt-does-not-fit").expect("one washer too many").help
        };
        let usual = help("");
        assert!(usual.contains("decided by the usual limits") && usual.contains("most-washers: 3"), "{usual}");
        assert!(help("trade: aircraft-inch\n").contains("decided by `trade: aircraft-inch`"));
        assert!(help("trade: metric-general\n").contains("published rule for this hardware"));
    }

    /// ISO 4014 leaves thread in the hole of a clamped stack: wrong by the usual limits, right in general metric practice.
    #[test]
    fn a_metric_shank_goes_by_its_trade() {
        let step = "steps/frame/20-left.md";
        let usual = "fastening: { deburr-with: drill }";
        let limits = |trade: &str, fastening: &str| {
            let rows = "AN4-10A,Bolt,bolt,each\nISO 4014 M6x30 8.8,Bolt,bolt,each\nISO 7040 M6 8,Nut,nut,each\nISO 7089 6,Washer,washer,each\n";
            sound()
                .add("manual.yaml", trade)
                .edit("manual.yaml", usual, fastening)
                .edit("hardware.csv", "AN4-10A,Bolt,bolt,each\n", rows)
                .edit(step, "fastener: AN4-10A", "fastener: ISO 4014 M6x30 8.8")
                .edit(step, "nut: AN365-428A", "nut: ISO 7040 M6 8")
                .edit(step, "under-nut: [AN960-416]", "under-nut: [ISO 7089 6]")
                .findings()
                .into_iter()
                .filter(|f| f.starts_with("bolt-does-not-fit"))
                .collect::<Vec<_>>()
        };
        let with = |trade: &str| limits(trade, usual);
        assert_eq!(with("levels: {}\n").len(), 1);
        assert_eq!(with("trade: metric-general\n"), [""; 0]);
        // Each limit can be set alone.
        let own = "trade: metric-general\nlevels: {}\n";
        assert_eq!(with(own), [""; 0]);
        let strict = "fastening: { deburr-with: drill, thread-in-hole: 1/64 }";
        assert_eq!(limits("trade: metric-general\n", strict).len(), 1);
    }

    /// Into the bracket of 6061-T6, 1/2 in thick, the bolt goes .47 in deep; into the wall of .058 in it can't.
    #[test]
    fn a_thread_in_a_part_must_reach() {
        let step = "steps/frame/20-left.md";
        let tapped = |stack: &str| {
            let keys = "    into: tapped hole\n    locked-by: thread locker\n    torque: 40 in-lb\n    torque-reason: The drawing.\n";
            sound()
                .edit("hardware.csv", "AN4-10A,Bolt,bolt,each\n", "AN4-10A,Bolt,bolt,each\nAN4-4A,Bolt,bolt,each\n")
                .edit(step, "fastener: AN4-10A", "fastener: AN4-4A")
                .edit(step, "    under-nut: [AN960-416]\n    nut: AN365-428A\n", keys)
                .edit(step, "stack: [KW-103-L, { part: KW-101, through: wall }]", stack)
                .findings()
                .into_iter()
                .filter(|f| f.starts_with("bolt-does-not-fit"))
                .collect::<Vec<_>>()
        };
        assert_eq!(tapped("stack: [{ part: KW-101, through: wall }, KW-103-L]"), [""; 0]);
        let shallow = tapped("stack: [KW-103-L, { part: KW-101, through: wall }]");
        assert_eq!(shallow, [format!("bolt-does-not-fit {step} `AN4-4A`")]);
    }

    #[test]
    fn a_missing_washer_is_found() {
        let found = sound().edit("steps/frame/20-left.md", "    under-nut: [AN960-416]\n", "").only();
        assert_eq!(found.rule, "bolt-does-not-fit");
    }
}
