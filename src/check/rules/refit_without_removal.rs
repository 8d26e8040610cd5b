//! A part that is refitted though no step removed it, or removed though it was not fitted.
//!
//! It matters because a step in between was forgotten, and the builder finds the part bolted where it should lie on
//! the bench.
//!
//! Wrong: `do: trial fit` in one step, `do: refit` in the next. Right: a `do: remove` between the two, in numbers
//! that agree.
//!
//! To accept: `accept: [{ rule: refit-without-removal, about: KW-104, reason: ... }]` in the step's file.

use super::used_before_there::circles;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::resolve::PartFaultKind;
use crate::resolve::Resolved;
use crate::units::PartNumber;

pub const RULE: Rule = Rule {
    id: "refit-without-removal",
    level: Level::Error,
    summary: "a part refitted that was not removed, or removed that was not fitted",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("refit_without_removal.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    let circle = circles(r);
    for fault in &r.ledger.faults {
        let (part, what, label, help) = match &fault.kind {
            PartFaultKind::RemovedBeforeFitted(part) => (
                part,
                "removes more of",
                "not fitted at this point",
                "fit it in an earlier step, or correct the quantity",
            ),
            PartFaultKind::RefittedBeforeRemoved(part) => (
                part,
                "refits more of",
                "not removed at this point",
                "remove it in an earlier step, or correct the quantity",
            ),
            _ => continue,
        };
        let held_back = ctx.excuses.parts.contains(part)
            || ctx.excuses.steps_unread
            || ctx.excuses.steps.contains(&fault.step)
            || circle.contains(&fault.step)
            || ctx.balance.misfit(&r.name, part).is_some()
            || what.starts_with("refits") && opposite_removed(ctx, r, part);
        if held_back {
            continue;
        }
        let then = if what.starts_with("removes") { "is fitted" } else { "was removed" };
        sink.push(
            RULE.found(format!("step `{}` {what} {part} than {then}", fault.step))
                .at(fault.span, label)
                .help(help)
                .about(part)
                .about(&fault.step),
        );
    }
    sink
}

/// Whether the opposite of a part was removed in its place: then that is the finding.
fn opposite_removed(ctx: &Context, r: &Resolved, part: &PartNumber) -> bool {
    let opposite = ctx.manual.parts.get(part).and_then(|p| p.opposite.as_ref());
    opposite
        .is_some_and(|o| r.ledger.faults.iter().any(|f| f.kind == PartFaultKind::RemovedBeforeFitted(o.value.clone())))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn removal_lies_between() {
        assert_eq!(
            sound().edit("steps/frame/40-paint.md", "quantity: 2, do: remove }", "quantity: 3, do: use }").findings(),
            ["refit-without-removal steps/frame/40-paint.md `KW-104`"]
        );
        assert_eq!(
            sound()
                .edit(
                    "steps/frame/40-paint.md",
                    "part: KW-104, quantity: 2, do: remove }",
                    "part: KW-101, quantity: 2, do: remove }"
                )
                .findings(),
            [
                "refit-without-removal steps/frame/40-paint.md `KW-101`",
                "refit-without-removal steps/frame/40-paint.md `KW-104`"
            ]
        );
        assert_eq!(
            sound().edit("steps/frame/40-paint.md", "quantity: 2, do: refit", "quantity: 3, do: refit").findings(),
            ["refit-without-removal steps/frame/40-paint.md `KW-104`"]
        );
    }
}
