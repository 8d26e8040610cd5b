//! Hardware that a step removes though no earlier step has fitted as much of it.
//!
//! It matters because the count of what comes off tells the builder whether something was left inside.
//!
//! Wrong: two bolts fitted temporarily, three removed. Right: the same number, or a step that fits the third.
//!
//! To accept: `accept: [{ rule: hardware-not-fitted, about: AN4-10A, reason: ... }]` in the step's file.

use super::used_before_there::circles;
use crate::check::MOST_NOTES;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::HardwareAction;
use crate::resolve::{PartFault, PartFaultKind, Resolved};
use crate::units::Designation;

pub const RULE: Rule = Rule {
    id: "hardware-not-fitted",
    level: Level::Error,
    summary: "more hardware removed than was fitted",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("hardware_not_fitted.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    let off = faults(ctx, r, |kind| match kind {
        PartFaultKind::HardwareNotThere(item) => Some(item),
        _ => None,
    });
    for (fault, item) in off {
        let mut d = RULE
            .found(format!("step `{}` removes more {item} than is fitted", fault.step))
            .at(fault.span, "not fitted at this point")
            .help("correct the quantity here or where it is fitted, or put the steps in order with `after`")
            .about(item)
            .about(&fault.step);
        for s in &r.steps {
            let fitted = s.hardware.iter().filter(|n| n.designation == *item && n.action != HardwareAction::Remove);
            for need in fitted.take(MOST_NOTES) {
                d = d.note(need.span, format!("{} fitted in step `{}`", need.quantity, s.step.id.value));
            }
        }
        sink.push(d);
    }
    sink
}

/// The faults of the account of hardware that are of a kind, each with the item, less those that another finding explains.
pub(super) fn faults<'a>(
    ctx: &Context,
    r: &'a Resolved,
    kind: impl Fn(&'a PartFaultKind) -> Option<&'a Designation>,
) -> Vec<(&'a PartFault, &'a Designation)> {
    let circle = circles(r);
    let all = r.ledger.faults.iter().filter_map(|fault| Some((fault, kind(&fault.kind)?)));
    all.filter(|(fault, item)| {
        ctx.manual.hardware.contains_key(*item)
            && !ctx.excuses.hardware.contains(*item)
            && !ctx.excuses.steps_unread
            && !ctx.excuses.steps.contains(&fault.step)
            && !circle.contains(&fault.step)
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn no_more_comes_off_than_was_on() {
        assert_eq!(
            sound()
                .edit(
                    "steps/frame/40-paint.md",
                    "{ hardware: AN4-10A, quantity: 2, do: remove }",
                    "{ hardware: AN4-10A, quantity: 7, do: remove }"
                )
                .findings(),
            ["hardware-not-fitted steps/frame/40-paint.md `AN4-10A`"]
        );
        assert_eq!(
            sound()
                .edit(
                    "steps/frame/40-paint.md",
                    "{ hardware: AN4-10A, quantity: 2, do: remove }",
                    "{ hardware: AN4-10A, quantity: 6, do: remove }"
                )
                .findings(),
            ["not-put-back steps/frame/40-paint.md `AN4-10A`"]
        );
    }
}
