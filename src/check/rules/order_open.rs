//! Two steps that drill, cut, bend or finish the same part while no `after` leads from one to the other: they stand in the order
//! of their files.
//!
//! It matters because a renamed file turns the two round, and the part is drilled through its paint.
//!
//! It is a question: the order of the files may be what is meant. Holes of different names may be drilled in either order, and
//! steps in different sections are in the order of the sections.
//!
//! Wrong: a step that drills `KW-105`, a step that paints it, and no `after` in either. Right: `after: [drill-rail]` in the
//! second.
//!
//! To accept: `accept: [{ rule: order-open, about: paint-rail, reason: ... }]` in the step's file.

use std::collections::{BTreeMap, BTreeSet};

use indexmap::IndexMap;

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Diagnostic, Level, Sink};
use crate::model::{By, HoleAction, Opposite, PartAction, Step};
use crate::resolve::Resolved;
use crate::source::Span;
use crate::units::{PartNumber, StepId};

pub const RULE: Rule = Rule {
    id: "order-open",
    level: Level::Question,
    summary: "two steps that work on one part, with no `after` between them",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("order_open.rs"),
    run: Run::Configuration(run),
};

/// What is done to a part.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Work<'a> {
    /// Holes of this name; those of others may come before or after.
    Drills(Option<&'a str>),
    Shapes,
    Finishes,
}

impl Work<'_> {
    fn minds(self, other: Self) -> bool {
        match (self, other) {
            (Self::Drills(a), Self::Drills(b)) => a.is_some() && a == b,
            _ => true,
        }
    }
}

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let direct = direct(ctx);
    // Most steps share no part with another: what comes before a step is followed where it is asked for.
    let mut before: BTreeMap<&StepId, BTreeSet<&StepId>> = BTreeMap::new();
    let mut worked: BTreeMap<&PartNumber, Vec<(&Step, Work, Span)>> = BTreeMap::new();
    for s in r.steps.iter().filter(|s| !ctx.excuses.steps.contains(&s.step.id.value)) {
        for (part, work, span) in work(&s.step) {
            worked.entry(part).or_default().push((&s.step, work, span));
        }
    }
    // One question for each step, with all that it does not wait for.
    let mut open: IndexMap<&StepId, (Diagnostic, BTreeSet<&StepId>)> = IndexMap::new();
    for (part, works) in worked {
        // Two pieces of one number are two.
        if r.ledger.parts.get(part).is_none_or(|account| account.listed != 1) {
            continue;
        }
        for (i, (second, later, here)) in works.iter().enumerate() {
            let b = &second.id.value;
            for (first, earlier, there) in &works[..i] {
                let a = &first.id.value;
                let made = matches!(&second.opposite, Opposite::Of(of) if of == a);
                if first.section.value != second.section.value || a == b || made || !earlier.minds(*later) {
                    continue;
                }
                if before.entry(b).or_insert_with(|| all_before(&direct, b)).contains(a) {
                    continue;
                }
                let ask = || {
                    let headline = format!("must step `{a}` come before step `{b}`, which works on {part} as well?");
                    let d = RULE.found(headline).at(*here, "in this order by the names of the files alone");
                    (d.note(*there, format!("worked on in step `{a}`")).about(b), BTreeSet::new())
                };
                open.entry(b).or_insert_with(ask).1.insert(a);
            }
        }
    }
    let help = |b: &StepId, all: &BTreeSet<&StepId>| {
        // Who waits for a step waits for what comes before it.
        let early: BTreeSet<&StepId> = all.iter().flat_map(|o| all_before(&direct, o)).collect();
        let last = all.iter().filter(|a| !early.contains(*a));
        let names: Vec<&str> = last.map(|a| a.as_str()).collect();
        format!("write `after: [{}]` in step `{b}`, or accept this where the order does not matter", names.join(", "))
    };
    open.into_iter().map(|(b, (d, all))| d.help(help(b, &all))).collect()
}

/// What the builder drills, cuts, bends and finishes in a step.
fn work(step: &Step) -> impl Iterator<Item = (&PartNumber, Work<'_>, Span)> {
    let drills = |a: HoleAction| !matches!(a, HoleAction::Deburr | HoleAction::Prime);
    let holes = step.holes.iter().filter(move |h| h.by == By::Builder && drills(h.action));
    let holes = holes.map(|h| (&h.part, Work::Drills(h.hole.as_ref().map(|name| name.value.as_str()))));
    let cuts = step.cuts.iter().filter(|c| c.by == By::Builder).map(|c| &c.part);
    let bends = step.bends.iter().filter(|b| b.by == By::Builder).map(|b| &b.part);
    let flat = step.flattened.iter().filter(|f| f.by == By::Builder).map(|f| &f.part);
    let finished = step.parts.iter().filter(|p| p.action == PartAction::Finish).map(|p| (&p.part, Work::Finishes));
    let shaped = cuts.chain(bends).chain(flat).map(|p| (p, Work::Shapes));
    holes.chain(shaped).chain(finished).map(|(part, work)| (&part.value, work, part.span))
}

/// What each step names under `after`, whatever the conditions.
fn direct<'a>(ctx: &Context<'a>) -> BTreeMap<&'a StepId, Vec<&'a StepId>> {
    ctx.manual.steps.iter().map(|s| (&s.id.value, s.after.iter().map(|a| &a.value.value).collect())).collect()
}

/// All steps that come before one by `after`.
fn all_before<'a>(direct: &BTreeMap<&'a StepId, Vec<&'a StepId>>, id: &StepId) -> BTreeSet<&'a StepId> {
    let mut found = BTreeSet::new();
    let mut next: Vec<&StepId> = direct.get(id).into_iter().flatten().copied().collect();
    while let Some(step) = next.pop() {
        if found.insert(step) {
            next.extend(direct.get(step).into_iter().flatten());
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn who_works_on_one_part_is_tied() {
        let right = "steps/frame/21-right.md";
        let with = |hole: &str, after: &str| {
            let hole = format!("part: KW-101, hole: {hole}, count: 2, do: match-drill");
            sound()
                .edit(right, "part: KW-101, hole: right, count: 2, do: match-drill", &hole)
                .edit(right, "after: [left-bracket]", after)
                .questions("order-open")
        };
        assert_eq!(with("right", "after: [left-bracket]"), [""; 0]);
        assert_eq!(with("right", "after: [keel]"), [""; 0]);
        assert_eq!(with("left", "after: [left-bracket]"), [""; 0]);
        assert_eq!(with("left", "after: [keel]"), [format!("order-open {right} `KW-101`")]);
        // The keel is cut in the first step.
        let untied = sound().edit("steps/frame/20-left.md", "after: [keel]\n", "").questions("order-open");
        assert_eq!(
            untied,
            ["order-open steps/frame/20-left.md `KW-101`", "order-open steps/frame/21-right.md `KW-101`"]
        );
    }
}
