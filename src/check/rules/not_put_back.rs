//! A part that a step removes and no later step fits again, hardware that is fitted temporarily and never removed, or
//! hardware that is fitted for good, removed and not refitted.
//!
//! It matters because at the end of the build something lies on the bench that belongs on the craft, or a bolt that
//! was to hold for an hour holds for good.
//!
//! Wrong: `do: remove` of two plates, `do: refit` of one. Right: the same number, or `do: fit` for a bolt that stays.
//! In a step of a conversion parts come off for good.
//!
//! To accept: `accept: [{ rule: not-put-back, about: KW-104, reason: ... }]` in the step's file.

use super::used_before_there::circles;
use crate::check::MOST_NOTES;
use crate::check::names::Kind;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::Diagnostic;
use crate::diag::{Level, Sink};
use crate::model::{HardwareAction, PartAction};
use crate::resolve::PartFaultKind;
use crate::resolve::Resolved;
use crate::source::Span;
use crate::units::{Designation, PartNumber, StepId, Unit};
use std::collections::BTreeMap;

pub const RULE: Rule = Rule {
    id: "not-put-back",
    level: Level::Error,
    summary: "a part or hardware removed and never refitted, or temporary hardware never removed",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("not_put_back.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    if ctx.excuses.steps_unread || !circles(r).is_empty() {
        return Sink::new();
    }
    let mut sink = Sink::new();
    let for_good = r.configuration.from.is_some();
    for (part, off) in parts(r).into_iter().filter(|_| !for_good) {
        if off.count > 0 && !ctx.in_doubt(r, part) {
            let headline = format!("{} of {part} removed and not refitted", off.count);
            sink.push(
                finding(headline, &off, "removed here", "refit it in a later step, or correct a quantity").about(part),
            );
        }
    }
    for (item, on) in temporary(r) {
        let held_back = !ctx.manual.hardware.contains_key(item) || ctx.excuses.hardware.contains(item);
        let left =
            on.count > 0 && r.ledger.faults.iter().all(|f| f.kind != PartFaultKind::HardwareNotThere(item.clone()));
        if left && !held_back {
            let headline = format!("{} {item} fitted temporarily and not removed", on.count);
            let help = "remove it in a later step, correct a quantity, or write `do: fit` if it stays";
            sink.push(finding(headline, &on, "fitted here", help).about(item));
        }
    }
    for (item, gone) in taken_off(ctx, r) {
        // A designation that does not exist may be what was fitted for a time.
        let misspelt = ctx.names.unknown(Kind::Hardware).next().is_some();
        let held_back = misspelt || !ctx.manual.hardware.contains_key(item) || ctx.excuses.hardware.contains(item);
        let faulty = r.ledger.faults.iter().any(|f| f.kind == PartFaultKind::HardwareNotThere(item.clone()));
        if gone.count > 0 && !held_back && !faulty {
            let headline =
                format!("{} {item} more are removed than were fitted temporarily, and not refitted", gone.count);
            let help = "write `do: fit temporarily` where it was to come off, refit it, or correct a quantity";
            sink.push(finding(headline, &gone, "removed here", help).about(item));
        }
    }
    sink
}

/// Hardware that was fitted for good, came off and is not on again at the end. What is replaced each time is left out.
fn taken_off<'a>(ctx: &Context, r: &'a Resolved) -> BTreeMap<&'a Designation, StillOff<'a>> {
    let mut off: BTreeMap<&Designation, StillOff> = BTreeMap::new();
    for s in &r.steps {
        for need in s.hardware.iter().filter(|n| n.quantity.unit == Unit::Each) {
            if ctx.manual.hardware.get(&need.designation).is_none_or(|h| h.one_use) {
                continue;
            }
            let open = off.entry(&need.designation).or_default();
            let count = need.quantity.value.to_integer();
            match need.action {
                HardwareAction::Fit => {}
                HardwareAction::FitTemporarily | HardwareAction::Refit => {
                    open.count -= count;
                    open.others.push(need.span);
                }
                HardwareAction::Remove => {
                    open.count += count;
                    open.last = Some((&s.step.id.value, need.span));
                }
            }
        }
    }
    off
}

/// What is off, or on for a time: how many, and the places that say so.
#[derive(Default)]
struct StillOff<'a> {
    count: i64,
    last: Option<(&'a StepId, Span)>,
    others: Vec<Span>,
}

fn finding(headline: String, open: &StillOff, label: &str, help: &str) -> Diagnostic {
    let d = RULE.found(headline).help(help);
    let Some((_, span)) = open.last else { return d };
    open.others.iter().filter(|s| **s != span).take(MOST_NOTES).fold(d.at(span, label), |d, s| d.note(*s, "and here"))
}

/// Parts that are off at the end of the build.
fn parts(r: &Resolved) -> BTreeMap<&PartNumber, StillOff<'_>> {
    let mut off: BTreeMap<&PartNumber, StillOff> = BTreeMap::new();
    for s in &r.steps {
        for item in &s.step.parts {
            let open = off.entry(&item.part.value).or_default();
            match item.action {
                PartAction::Remove => {
                    open.count += item.quantity;
                    open.last = Some((&s.step.id.value, item.quantity_span));
                }
                PartAction::Refit | PartAction::TrialFit | PartAction::Pull => {
                    open.count -= item.quantity.min(open.count);
                }
                PartAction::Finish | PartAction::Use => continue,
            }
            open.others.push(item.quantity_span);
        }
    }
    off
}

/// Hardware that is still on for a time at the end of the build. Amounts that are not counted are left out.
fn temporary(r: &Resolved) -> BTreeMap<&Designation, StillOff<'_>> {
    let mut on: BTreeMap<&Designation, StillOff> = BTreeMap::new();
    for s in &r.steps {
        for need in s.hardware.iter().filter(|n| n.quantity.unit == Unit::Each) {
            let open = on.entry(&need.designation).or_default();
            match need.action {
                HardwareAction::FitTemporarily => {
                    open.count += need.quantity.value.to_integer();
                    open.last = Some((&s.step.id.value, need.span));
                }
                HardwareAction::Remove => open.count -= need.quantity.value.to_integer().min(open.count),
                HardwareAction::Fit | HardwareAction::Refit => continue,
            }
            open.others.push(need.span);
        }
    }
    on
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn what_comes_off_goes_back() {
        assert_eq!(
            sound().edit("steps/frame/40-paint.md", "quantity: 2, do: refit", "quantity: 1, do: refit").findings(),
            ["not-put-back steps/frame/40-paint.md `2`"]
        );
        assert_eq!(
            sound()
                .edit("steps/frame/40-paint.md", "AN4-10A, quantity: 2, do: remove", "AN4-10A, quantity: 1, do: remove")
                .findings(),
            ["not-put-back steps/frame/30-plates.md `AN4-10A`"]
        );
    }
}
