//! A hole that is match-drilled from a part which no joint clamps together with the part that is drilled, while both
//! are clamped to others.
//!
//! It matters because the hole then lies where the other part has its holes, and no bolt goes through both.
//!
//! A part that is in no joint at all is taken for a jig.
//!
//! Wrong: `{ part: KW-101, do: match-drill, from: KW-104 }` where the joints hold `KW-103` on `KW-101`. Right: `from:
//! KW-103`.
//!
//! To accept: `accept: [{ rule: match-drill-elsewhere, about: KW-101, reason: ... }]` in the step's file.

use std::collections::{BTreeMap, BTreeSet};

use super::hole_without_fastener::{bent, other_holes_are_missing};
use super::{hole_without_fastener, match_drill_too_early, stack_not_known};
use crate::check::fastened::hole_faults;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::{HoleFault, HoleFaultKind};
use crate::model::HoleAction;
use crate::resolve::Resolved;
use crate::units::PartNumber;

pub const RULE: Rule = Rule {
    id: "match-drill-elsewhere",
    level: Level::Warning,
    summary: "a hole match-drilled from a part that no joint holds on it",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("match_drill_elsewhere.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut clamped: BTreeMap<&PartNumber, BTreeSet<&PartNumber>> = BTreeMap::new();
    for joint in r.steps.iter().flat_map(|s| &s.step.joints) {
        let parts: BTreeSet<_> = joint.stack.iter().map(|m| &m.part.value).collect();
        for part in &parts {
            clamped.entry(part).or_default().extend(&parts);
        }
    }
    let mut sink = Sink::new();
    if other_holes_are_missing(ctx, r) || joints_are_missing(ctx, r) {
        return sink;
    }
    for s in &r.steps {
        for hole in s.step.holes.iter().filter(|h| h.action == HoleAction::MatchDrill) {
            let (part, Some(from)) = (&hole.part.value, &hole.from) else { continue };
            let (Some(with), true) = (clamped.get(part), clamped.contains_key(&from.value)) else { continue };
            let held_back = [part, &from.value]
                .iter()
                .any(|p| ctx.excuses.parts.contains(*p) || !ctx.manual.parts.contains_key(*p));
            if with.contains(&from.value) || held_back || ctx.excuses.steps_unread {
                continue;
            }
            let others: Vec<_> = with.iter().filter(|p| **p != part).map(|p| p.as_str()).collect();
            let with = if others.is_empty() { "nothing".to_owned() } else { others.join(", ") };
            sink.push(
                RULE.found(format!("{part} is match-drilled from {}, and no joint holds the two together", from.value))
                    .at(from.span, format!("joints hold {part} together with {with}"))
                    .help("name the part whose holes these are to meet, or correct the stack of the joint")
                    .about(part)
                    .about(&s.step.id.value),
            );
        }
    }
    sink
}

/// Whether joints do not say what they clamp, or holes stay empty: then a joint is at fault, and not the guide.
fn joints_are_missing(ctx: &Context, r: &Resolved) -> bool {
    let unsaid = r.steps.iter().flat_map(|s| &s.step.joints).any(|j| j.stack.is_empty());
    let left = |f: &HoleFault| matches!(f.kind, HoleFaultKind::LeftEmpty { .. } | HoleFaultKind::FromNotInPlace { .. });
    let rules = [hole_without_fastener::RULE.id, stack_not_known::RULE.id, match_drill_too_early::RULE.id];
    !rules.iter().any(|rule| bent(ctx, rule)) && (unsaid || hole_faults(ctx, r).any(left))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn holes_that_are_to_meet() {
        let rail = "holes:\n  - { part: KW-105, hole: X, drill: 1/4, for: AN4-10A }\njoints:\n  - { fastener: AN4-10A, stack: [{ part: KW-105, thickness: 1/2 }], under-nut: [AN960-416], nut: AN365-428A }\ntools: [saw]";
        let case = sound().edit("steps/frame/10-keel.md", "tools: [saw]", rail).edit(
            "steps/frame/20-left.md",
            "do: match-drill, from: KW-103-L",
            "do: match-drill, from: KW-105",
        );
        assert!(
            case.findings().contains(&"match-drill-elsewhere steps/frame/20-left.md `KW-105`".to_owned()),
            "{:?}",
            case.findings()
        );
        // Without a joint it is a jig.
        let jig =
            sound().edit("steps/frame/20-left.md", "do: match-drill, from: KW-103-L", "do: match-drill, from: KW-105");
        assert!(!jig.findings().iter().any(|f| f.starts_with("match-drill-elsewhere")), "{:?}", jig.findings());
    }
}
