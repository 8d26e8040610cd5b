//! Hardware that a step refits though no earlier step has taken as much of it off.
//!
//! It matters because what is refitted comes from no bag: the builder looks for a bolt that was never there.
//!
//! What is never used again (`one use` in the hardware list) is refitted as a new one, and is not looked at.
//!
//! Wrong: `do: refit` on a joint that is fitted here for the first time. Right: leave `do` out, or take the bolts off in an
//! earlier step with `do: remove`.
//!
//! To accept: `accept: [{ rule: hardware-not-removed, about: AN4-10A, reason: ... }]` in the step's file.

use super::hardware_not_fitted::faults;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::resolve::{PartFaultKind, Resolved};

pub const RULE: Rule = Rule {
    id: "hardware-not-removed",
    level: Level::Error,
    summary: "more hardware refitted than was taken off",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("hardware_not_removed.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    let on = faults(ctx, r, |kind| match kind {
        PartFaultKind::HardwareNotOff(item) => Some(item),
        _ => None,
    });
    for (fault, item) in on {
        // What comes off too often is the finding, where both are wrong.
        if r.ledger.faults.iter().any(|f| f.kind == PartFaultKind::HardwareNotThere(item.clone())) {
            continue;
        }
        sink.push(
            RULE.found(format!("step `{}` refits more {item} than was taken off", fault.step))
                .at(fault.span, "not taken off at this point")
                .help("leave `do: refit` out where it is fitted for the first time, or remove it in an earlier step")
                .about(item)
                .about(&fault.step),
        );
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    const LEFT: &str = "steps/frame/20-left.md";

    #[test]
    fn what_was_never_off_is_not_refitted() {
        let joint = sound().edit(LEFT, "    places: 2\n", "    places: 2\n    do: refit\n");
        let found = joint.findings();
        assert!(found.contains(&format!("hardware-not-removed {LEFT} `AN4-10A`")), "{found:?}");
        let listed = sound().edit(
            "steps/frame/30-plates.md",
            "{ hardware: AN4-10A, quantity: 2, do: fit temporarily }",
            "{ hardware: AN4-10A, quantity: 2, do: refit }",
        );
        let found = listed.findings();
        assert!(found.iter().any(|f| f.starts_with("hardware-not-removed steps/frame/30-plates.md")), "{found:?}");
    }

    /// Two bolts come off in the step before: they may go on again.
    #[test]
    fn what_came_off_goes_on_again() {
        let found = sound()
            .edit(
                "steps/frame/40-paint.md",
                "  - { hardware: AN4-10A, quantity: 2, do: remove }\n",
                "  - { hardware: AN4-10A, quantity: 2, do: remove }\n  - { hardware: AN4-10A, quantity: 2, do: refit }\n",
            )
            .findings();
        assert!(!found.iter().any(|f| f.starts_with("hardware-not-removed")), "{found:?}");
    }
}
