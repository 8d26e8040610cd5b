//! A hole that the builder drills, opens up or reams, and that no step deburrs.
//!
//! It matters because a burr holds two sheets apart, cuts fingers, and starts a crack.
//!
//! A hole counts as deburred by a later `do: deburr` on the part, or where its step names the tool that manual.yaml
//! gives as `fastening: { deburr-with: ... }`.
//!
//! Wrong: a step that drills and neither lists the tool nor deburrs. Right: the deburring tool in `tools:`.
//!
//! To accept: `accept: [{ rule: hole-not-deburred, about: KW-213, reason: ... }]` in the step's file.

use std::collections::BTreeSet;

use indexmap::IndexMap;

use crate::check::fastened::hole_faults;
use crate::check::{Context, Leave, MOST_NOTES, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::{HoleFault, HoleFaultKind};
use crate::resolve::Resolved;
use crate::units::{PartNumber, StepId};

pub const RULE: Rule = Rule {
    id: "hole-not-deburred",
    level: Level::Warning,
    summary: "a hole that is drilled and never deburred",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("hole_not_deburred.rs"),
    run: Run::Configuration(run),
};

/// From so many parts on that a step leaves with burrs, the work is missing and not a line of it.
const WORK_MISSING: usize = 3;

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let tool = ctx.manual.settings.fastening.deburr_with.as_ref();
    // Where the tool of the manual does not exist, that is the finding, and every step would say it again.
    if tool.is_some_and(|t| !ctx.manual.settings.tools.contains_key(&t.value)) {
        return Sink::new();
    }
    let mut left: IndexMap<&StepId, Vec<(&HoleFault, &str)>> = IndexMap::new();
    for fault in hole_faults(ctx, r) {
        let HoleFaultKind::NeverDeburred { name } = &fault.kind else { continue };
        // A tool that does not exist may be the one that was meant.
        let step = ctx.step(fault.step);
        if !step.is_some_and(|s| s.tools.iter().any(|t| !ctx.manual.settings.tools.contains_key(&t.value.value))) {
            left.entry(fault.step).or_default().push((fault, name));
        }
    }
    let help = match tool {
        Some(tool) => format!("add `{}` to the tools of the step, or an item with `do: deburr`", tool.value),
        None => "add an item with `do: deburr`, or name the deburring tool in manual.yaml: `fastening: { deburr-with: ... }`".to_owned(),
    };
    let mut sink = Sink::new();
    for (step, faults) in left {
        let parts: BTreeSet<&PartNumber> = faults.iter().map(|(f, _)| f.part).collect();
        if parts.len() >= WORK_MISSING {
            let d =
                RULE.found(format!("the holes that step `{step}` makes in {} parts are never deburred", parts.len()));
            let d = d.at(faults[0].0.span, "drilled here").help(&help).about(step);
            sink.push(
                faults[1..]
                    .iter()
                    .take(MOST_NOTES)
                    .fold(d, |d, (f, _)| d.note(f.span, format!("and here, {}", f.part))),
            );
            continue;
        }
        sink.extend(faults.into_iter().map(|(fault, name)| {
            let hole = if name.is_empty() { "a hole".to_owned() } else { format!("hole {name}") };
            let d = RULE.found(format!("{hole} of {} is never deburred", fault.part));
            d.at(fault.span, "drilled here").help(&help).about(name).about(fault.part).about(fault.step)
        }));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn what_is_drilled_is_deburred() {
        let step = "steps/frame/20-left.md";
        let without = || sound().edit(step, "tools: [drill]", "tools: [saw]");
        assert_eq!(
            without().findings(),
            ["hole-not-deburred steps/frame/20-left.md `A`", "hole-not-deburred steps/frame/20-left.md `left`"]
        );
        let deburr = "  - { part: KW-103-L, do: deburr }\n  - { part: KW-101, do: deburr, hole: left }\njoints:\n";
        assert_eq!(without().edit(step, "joints:\n", deburr).findings(), [""; 0]);
        // Deburring that is missing altogether is one finding.
        let third = "  - { part: KW-105, hole: X, drill: 1/4 }\njoints:\n";
        assert_eq!(
            without().edit(step, "joints:\n", third).findings(),
            ["hole-not-deburred steps/frame/20-left.md `A`"]
        );
    }
}
