//! A hole that is drilled, opened up or reamed and then not primed: where manual.yaml names what holes are primed with,
//! every hole that the builder makes; else holes that were primed before and are bare again.
//!
//! It matters because bare metal in a hole rusts or corrodes under the fastener, where nobody sees it.
//!
//! A hole is primed by a later `do: prime`, where its step names the consumable that manual.yaml gives as `fastening: {
//! prime-with: ... }`, or when the part is finished (`do: finish`).
//!
//! Wrong: prime hole A and open it up in a later step. Right: open it up first, or prime it again.
//!
//! To accept: `accept: [{ rule: hole-not-primed, about: KW-213, reason: ... }]` in the step's file.

use crate::check::fastened::holes;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::HoleFaultKind;
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "hole-not-primed",
    level: Level::Warning,
    summary: "a hole that is drilled and not primed, or bare again after priming",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("hole_not_primed.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let with = ctx.manual.settings.fastening.prime_with.as_ref();
    // Where the consumable of the manual does not exist, that is the finding, and every step would say it again.
    if with.is_some_and(|c| !ctx.manual.settings.consumables.contains_key(&c.value)) {
        return Sink::new();
    }
    holes(ctx, r, |fault| {
        let HoleFaultKind::NeverPrimed { name, again } = &fault.kind else { return None };
        // A consumable that does not exist may be the one that was meant.
        let listed = |s: &crate::model::Step| {
            s.consumables.iter().any(|c| !ctx.manual.settings.consumables.contains_key(&c.value.value))
        };
        if ctx.step(fault.step).is_some_and(listed) {
            return None;
        }
        let hole = if name.is_empty() { "a hole".to_owned() } else { format!("hole {name}") };
        let (what, label) = if *again {
            ("is bare again after priming", "made larger here, after it was primed")
        } else {
            ("is never primed", "drilled here")
        };
        let help = match with {
            Some(with) => format!("add `{}` to the consumables of the step, or an item with `do: prime`", with.value),
            None => "prime it again with `do: prime`, or do this work before it is primed".to_owned(),
        };
        Some(RULE.found(format!("{hole} of {} {what}", fault.part)).at(fault.span, label).help(help).about(name))
    })
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    const STEP: &str = "steps/frame/20-left.md";

    #[test]
    fn what_was_primed_is_primed_again() {
        let prime = "  - { part: KW-103-L, hole: A, do: prime, count: 2 }\n";
        let with = |items: &str| sound().edit(STEP, "joints:\n", &format!("{items}joints:\n"));
        assert_eq!(with(prime).findings(), [""; 0]);
        let later = with(prime)
            .edit(
                "steps/frame/30-plates.md",
                "hardware:\n",
                "tools: [drill]\nholes:\n  - { part: KW-103-L, hole: A, count: 2, do: ream, reamer: F }\nhardware:\n",
            )
            .edit("steps/frame/30-plates.md", "1. Hold the plates.", "1. Ream the holes and hold the plates.");
        assert_eq!(later.findings(), ["hole-not-primed steps/frame/30-plates.md `A`"]);
    }

    #[test]
    fn a_manual_may_ask_for_it_everywhere() {
        let asked = || sound().edit("manual.yaml", "fastening: {", "fastening: { prime-with: primer,");
        let found = asked().findings();
        assert!(found.len() == 4 && found.iter().all(|f| f.starts_with("hole-not-primed")), "{found:?}");
        let step = "tools: [drill]";
        let done = asked().edit(STEP, step, "tools: [drill]\nconsumables: [primer]").edit(
            "steps/frame/21-right.md",
            step,
            "tools: [drill]\nconsumables: [primer]",
        );
        assert_eq!(done.findings(), [""; 0]);
    }
}
