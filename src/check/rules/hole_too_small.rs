//! A fastener that goes into a part which has no hole of its size by then: the hole is still at pilot size, or there are
//! fewer holes than fasteners.
//!
//! It matters because the bolt does not go in, and is driven in, or the hole is opened by eye with the paint on.
//!
//! The holes of a part are counted by size: what it comes with by holes.csv and what steps drilled or opened by then,
//! against what fasteners have taken.
//!
//! Wrong: a 1/4 in bolt through a gusset with `pilot holes A` that no step opens. Right: `{ part: KW-103, hole: A, do:
//! open up, drill: 1/4 }` before the joint.
//!
//! To accept: `accept: [{ rule: hole-too-small, about: KW-103, reason: ... }]` in the step's file.

use crate::check::fastened::{holes, no_stronger_than, words};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::HoleFaultKind;
use crate::resolve::{PartFaultKind, Resolved};
use crate::trade::hole_for;

pub const RULE: Rule = Rule {
    id: "hole-too-small",
    level: Level::Error,
    summary: "a fastener into a part without a hole of its size",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("hole_too_small.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    holes(ctx, r, |fault| {
        let part = fault.part;
        match &fault.kind {
            // A part that is not there is another finding.
            HoleFaultKind::NoHoleForFastener { .. }
                if r.ledger
                    .faults
                    .iter()
                    .any(|f| matches!(&f.kind, PartFaultKind::PartNotThere(p, _) if p == part)) =>
            {
                None
            }
            HoleFaultKind::NoHoleForFastener { joint, there, needed, pilot, .. } => {
                let fastener = &joint.fastener.value;
                let drill = ctx
                    .items
                    .get(fastener)
                    .and_then(|f| hole_for(f))
                    .map(|h| format!(" to {}", h.value.drill))
                    .unwrap_or_default();
                let (label, help) = if pilot.is_empty() {
                    (
                        format!("{there} holes, {needed} fasteners"),
                        format!(
                            "drill the holes{drill} in this step or an earlier one, or correct the number of places"
                        ),
                    )
                } else {
                    let names: Vec<_> =
                        pilot.iter().map(|name| if name.is_empty() { "without a name" } else { name }).collect();
                    (
                        format!("hole {} is still at pilot size", names.join(", ")),
                        format!("open it up{drill} in this step or an earlier one"),
                    )
                };
                Some(
                    RULE.found(format!("{part} has no hole for {fastener} by step `{}`", fault.step))
                        .at(fault.span, label)
                        .help(help)
                        .about(fastener),
                )
            }
            HoleFaultKind::TooSmall { size, fastener, for_ } => Some(no_stronger_than(
                RULE.found(format!("the hole in {part} is smaller than {for_}"))
                    .at(
                        fault.span,
                        format!("{}, and the fastener has {}", words(ctx, *size), words(ctx, fastener.value)),
                    )
                    .help("drill it to the fastener's size, or open it up in a later step")
                    .about(for_),
                fastener.source,
            )),
            _ => None,
        }
    })
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    const STEP: &str = "steps/frame/20-left.md";
    const OPEN: &str = "  - { part: KW-103-L, hole: A, count: 2, do: open up, drill: 1/4 }\n";

    #[test]
    fn a_bolt_goes_into_no_pilot_hole() {
        assert_eq!(sound().edit(STEP, OPEN, "").findings(), ["hole-too-small steps/frame/20-left.md `KW-103-L`"]);
        assert_eq!(
            sound().edit(STEP, OPEN, &OPEN.replace("1/4", "3/16")).findings(),
            ["hole-too-small steps/frame/20-left.md `KW-103-L`"]
        );
    }

    /// A bolt that is taken out leaves its hole free for the next.
    #[test]
    fn a_hole_is_free_again() {
        let joint = "fastener: AN4-10A, stack: [KW-103-L, { part: KW-101, through: wall }], under-nut: [AN960-416], nut: AN365-428A, places: 2";
        let next = "steps/frame/21-right.md";
        let found = |joints: &str| {
            let found = sound().edit(next, "joints:\n", &format!("joints:\n{joints}")).findings();
            found.into_iter().filter(|f| f.starts_with("hole-too-small")).count()
        };
        assert_eq!(found(&format!("  - {{ {joint} }}\n")), 1);
        assert_eq!(found(&format!("  - {{ {joint}, do: remove }}\n  - {{ {joint} }}\n")), 0);
        assert_eq!(found(&format!("  - {{ {joint}, do: remove }}\n  - {{ {joint}, do: refit }}\n")), 0);
    }

    #[test]
    fn a_hole_for_each_bolt() {
        assert_eq!(
            sound().edit(STEP, "count: 2, do: match-drill", "count: 1, do: match-drill").findings(),
            ["hole-too-small steps/frame/20-left.md `KW-101`"]
        );
    }
}
