//! A hole that is made for a fastener which no joint puts there: more holes than fasteners, or holes for a fastener of
//! another designation than the joints of the part have.
//!
//! It matters because a hole that stays empty is a bolt that was forgotten, or a hole too many in a tube; and because
//! the builder reads the designation beside the hole and takes that bolt.
//!
//! The holes of a part are counted by the diameter of what they are `for`. Fasteners that stand in `hardware:` are not
//! counted: it is not said where they go.
//!
//! Wrong: `count: 6, for: AN4-15A`, and a joint with `places: 4`. Right: the same number in both.
//!
//! To accept: `accept: [{ rule: hole-without-fastener, about: KW-101, reason: ... }]` in the step's file.

use std::collections::BTreeSet;

use indexmap::IndexMap;

use super::{hole_too_small, used_before_there};
use crate::check::fastened::hole_faults;
use crate::check::{Context, Leave, MOST_NOTES, Rule, Run};
use crate::diag::{Diagnostic, Level, Note, Sink};
use crate::joint::{HoleFault, HoleFaultKind};
use crate::resolve::Resolved;
use crate::units::PartNumber;

pub const RULE: Rule = Rule {
    id: "hole-without-fastener",
    level: Level::Error,
    summary: "a hole made for a fastener that no joint puts there",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("hole_without_fastener.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let mut empty: Vec<Empty> = Vec::new();
    let mut others: IndexMap<(&str, String), Diagnostic> = IndexMap::new();
    for r in ctx.resolved.iter().filter(|r| !other_holes_are_missing(ctx, r)) {
        for fault in hole_faults(ctx, r) {
            match &fault.kind {
                HoleFaultKind::LeftEmpty { made, fitted, with, .. } => {
                    let parts: BTreeSet<&PartNumber> = with.iter().copied().chain([fault.part]).collect();
                    let excess = made - fitted;
                    match empty.iter_mut().find(|e| e.excess == excess && !e.parts.is_disjoint(&parts)) {
                        Some(first) => {
                            first.parts.extend(parts);
                            first.faults.push((fault, &r.name));
                        }
                        None => empty.push(Empty { excess, parts, faults: vec![(fault, &r.name)] }),
                    }
                }
                // A designation that is in no list is the mistake.
                HoleFaultKind::ForAnother { fitted, .. }
                    if fitted.iter().any(|f| !ctx.manual.hardware.contains_key(*f)) => {}
                HoleFaultKind::ForAnother { for_, fitted } => {
                    let (part, names) = (fault.part, fitted.iter().map(|f| f.as_str()).collect::<Vec<_>>().join(", "));
                    let d = RULE
                        .found(format!("a hole of {part} is for {for_}, and the joints of {part} have {names}"))
                        .at(fault.span, "no joint puts it there")
                        .help("correct `for`, or the fastener of the joint")
                        .about(for_)
                        .about(part)
                        .about(fault.step);
                    // One fastener named for another is one finding, in however many parts it has holes.
                    let first = others.entry((for_, names)).or_insert_with(|| d.clone());
                    first.configurations.insert(r.name.clone());
                    if first.span != d.span
                        && first.notes.len() < MOST_NOTES
                        && first.notes.iter().all(|n| n.span != fault.span)
                    {
                        first.notes.push(Note { span: fault.span, label: format!("and here, {part}") });
                    }
                }
                _ => {}
            }
        }
    }
    sink.extend(others.into_values());
    sink.extend(empty.iter().filter_map(Empty::finding));
    sink
}

/// A fastener that does not find its hole, or a part that is clamped before it is there, is the other side of the same
/// mistake. Nothing is held back where the author has accepted such a finding.
pub fn other_holes_are_missing(ctx: &Context, r: &Resolved) -> bool {
    let mut there: BTreeSet<&PartNumber> = BTreeSet::new();
    let missing = r.steps.iter().any(|s| {
        there.extend(
            s.step
                .parts
                .iter()
                .flat_map(|p| std::iter::once(&p.part.value).chain(p.becomes.iter().map(|b| &b.0.value))),
        );
        s.step.joints.iter().flat_map(|j| &j.stack).any(|m| !there.contains(&m.part.value))
    });
    let bent = bent(ctx, hole_too_small::RULE.id) || bent(ctx, used_before_there::RULE.id);
    !bent && (missing || hole_faults(ctx, r).any(|f| matches!(f.kind, HoleFaultKind::NoHoleForFastener { .. })))
}

/// Whether the author has accepted findings of a rule, or set its level.
pub fn bent(ctx: &Context, rule: &str) -> bool {
    ctx.manual.accepts.iter().any(|a| a.rule.value == rule) || ctx.manual.settings.levels.contains_key(rule)
}

/// Holes that stay empty in parts that are fastened together: one joint has too few places, or one is missing.
struct Empty<'a> {
    excess: i64,
    parts: BTreeSet<&'a PartNumber>,
    /// Each with its configuration.
    faults: Vec<(&'a HoleFault<'a>, &'a str)>,
}

impl Empty<'_> {
    fn finding(&self) -> Option<Diagnostic> {
        // The part that is there in most configurations speaks.
        let count = |part: &PartNumber| self.faults.iter().filter(|(f, _)| f.part == part).count();
        let (fault, _) = self.faults.iter().rev().max_by_key(|(f, _)| count(f.part))?;
        let HoleFaultKind::LeftEmpty { for_, made, fitted, .. } = &fault.kind else { return None };
        let part = fault.part;
        let others: Vec<_> = self.parts.iter().filter(|p| **p != part).map(|p| p.as_str()).collect();
        let too = if others.is_empty() { String::new() } else { format!(", in {} too", others.join(", ")) };
        let filled = if *fitted == 0 { "none".to_owned() } else { fitted.to_string() };
        let d = RULE
            .found(format!("{part} has {made} holes for {for_}, and joints fill {filled} of them"))
            .at(fault.span, format!("left empty: {}{too}", self.excess))
            .help("correct `count` here or `places` of the joint, or add the joint that is missing")
            .about(for_)
            .about(part)
            .about(fault.step);
        Some(self.faults.iter().fold(d, |d, (_, name)| d.in_configuration(name)))
    }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    const STEP: &str = "steps/frame/20-left.md";

    #[test]
    fn each_hole_gets_its_bolt() {
        assert_eq!(
            sound().edit(STEP, "count: 2, do: match-drill", "count: 3, do: match-drill").findings(),
            ["hole-without-fastener steps/frame/20-left.md `left`"]
        );
        let listed = sound().edit(STEP, "count: 2, do: match-drill", "count: 3, do: match-drill").edit(
            "steps/frame/10-keel.md",
            "tools: [saw]",
            "hardware:\n  - AN4-10A\ntools: [saw]",
        );
        assert_eq!(listed.findings(), [""; 0]);
    }

    #[test]
    fn a_hole_is_for_the_bolt_that_goes_in() {
        let bolt = || sound().add("hardware.csv", "AN4-11A,Bolt,bolt,each\n");
        let found = bolt().edit(STEP, "drill: 1/4, for: AN4-10A", "drill: 1/4, for: AN4-11A").findings();
        assert!(found.contains(&"hole-without-fastener steps/frame/20-left.md `AN4-11A`".to_owned()), "{found:?}");
    }
}
