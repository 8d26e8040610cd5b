//! A part that is worked on, drilled, cut or clamped in a joint before a step has taken it, a piece before it is cut,
//! or an assembly before it is made.
//!
//! It matters because the builder stands there with a drill and nothing to drill, or takes the wrong thing for it.
//!
//! Wrong: a step drills `KW-104`, and a later step takes it from the crate. Right: `after` puts the steps in order,
//! or the first of the two takes the part.
//!
//! To accept: `accept: [{ rule: used-before-there, about: KW-104, reason: ... }]` in the step's file.

use crate::check::MOST_NOTES;
use crate::check::names::Kind;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::Diagnostic;
use crate::diag::{Level, Sink};
use crate::model::{By, Step};
use crate::resolve::Resolved;
use crate::resolve::{OrderFault, PartFaultKind};
use crate::source::Span;
use crate::units::{AssemblyId, PartNumber, StepId};
use std::collections::{BTreeMap, BTreeSet};

pub const RULE: Rule = Rule {
    id: "used-before-there",
    level: Level::Error,
    summary: "a part or an assembly used before it is there",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("used_before_there.rs"),
    run: Run::Configuration(run),
};

/// A thing that is not there: what is said of it, the steps that make or take it later, the places.
struct NotThereYet<'a> {
    later: Option<&'a StepId>,
    assembly: bool,
    places: Vec<(&'a StepId, Span)>,
}

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let circle: BTreeSet<&StepId> = circles(r);
    let held_back = |step: &StepId| ctx.excuses.steps.contains(step) || circle.contains(step);
    let mut missing: BTreeMap<&str, NotThereYet> = BTreeMap::new();
    for fault in &r.ledger.faults {
        let (name, later, assembly) = match &fault.kind {
            PartFaultKind::PartNotThere(part, later) if part_speaks(ctx, r, part) => (part.as_str(), later, false),
            PartFaultKind::AssemblyNotThere(id, later) if assembly_speaks(ctx, id) => (id.as_str(), later, true),
            _ => continue,
        };
        if !held_back(&fault.step) {
            let entry = NotThereYet { later: later.as_ref(), assembly, places: Vec::new() };
            missing.entry(name).or_insert(entry).places.push((&fault.step, fault.span));
        }
    }
    worked_on(ctx, r, &mut missing, &held_back);
    missing.into_iter().map(|(name, m)| finding(r, name, &m)).collect()
}

/// Parts that are cut, drilled or clamped before any step has named them among its parts.
fn worked_on<'a>(
    ctx: &'a Context,
    r: &'a Resolved,
    missing: &mut BTreeMap<&'a str, NotThereYet<'a>>,
    held_back: &dyn Fn(&StepId) -> bool,
) {
    let mut first: BTreeMap<&PartNumber, &StepId> = BTreeMap::new();
    for s in &r.steps {
        for number in named(&s.step) {
            first.entry(number).or_insert(&s.step.id.value);
        }
    }
    let mut seen: BTreeSet<&PartNumber> = BTreeSet::new();
    for s in &r.steps {
        let step = &s.step;
        seen.extend(named(step));
        if held_back(&step.id.value) {
            continue;
        }
        let cut = step.cuts.iter().filter(|c| c.by == By::Builder).map(|c| &c.part);
        let bent = step.bends.iter().filter(|b| b.by == By::Builder).map(|b| &b.part);
        let flat = step.flattened.iter().filter(|f| f.by == By::Builder).map(|f| &f.part);
        let cables = step.cables.iter().filter_map(|c| c.part.as_ref());
        let cut = cut.chain(bent).chain(flat).chain(cables);
        let holes = step.holes.iter().filter(|h| h.by == By::Builder);
        let drilled = holes.flat_map(|h| [Some(&h.part), h.from.as_ref()]).flatten();
        let clamped = step.joints.iter().flat_map(|j| &j.stack).map(|m| &m.part);
        // What a saddle fits, and what a cable is pinned to, may be taken later; where no step takes it, it never comes.
        let fitted = step.cuts.iter().filter_map(|c| c.onto.as_ref());
        let pinned = step.cables.iter().flat_map(|c| c.ends()).flatten().flat_map(|e| &e.pin_through);
        let fitted = fitted.chain(pinned).filter(|p| !first.contains_key(&p.value));
        // A fairlead or pulley that is a part is there when the cable is led through it.
        let threaded = step.cables.iter().filter(|c| c.thread.is_some()).flat_map(|c| &c.run);
        let guides = threaded
            .filter_map(|g| Some((ctx.manual.parts.get_key_value(&PartNumber::new(&g.name.value))?.0, g.name.span)));
        for (number, span) in cut.chain(drilled).chain(clamped).chain(fitted).map(|n| (&n.value, n.span)).chain(guides)
        {
            if seen.contains(number) || !ctx.manual.parts.contains_key(number) || !part_speaks(ctx, r, number) {
                continue;
            }
            let entry = NotThereYet { later: first.get(number).copied(), assembly: false, places: Vec::new() };
            missing.entry(number.as_str()).or_insert(entry).places.push((&step.id.value, span));
        }
    }
}

/// The parts a step takes, works on or makes.
fn named(step: &Step) -> impl Iterator<Item = &PartNumber> {
    step.parts
        .iter()
        .flat_map(|p| std::iter::once(&p.part.value).chain(p.becomes.iter().map(|(piece, _)| &piece.value)))
}

/// Whether no other finding explains that a part is not there. Pieces of which too many are taken are a matter of order
/// where a later step cuts some, else one of quantity.
fn part_speaks(ctx: &Context, r: &Resolved, part: &PartNumber) -> bool {
    !ctx.excuses.parts.contains(part) && ctx.balance.misfit(&r.name, part).is_none() && !ctx.excuses.steps_unread
}

fn assembly_speaks(ctx: &Context, id: &AssemblyId) -> bool {
    let known = ctx.names.is_known(Kind::Assembly, id.as_str());
    known && !ctx.excuses.assemblies.contains(id) && !ctx.excuses.steps_unread
}

/// Steps that wait for one another: their order means nothing.
pub fn circles(r: &Resolved) -> BTreeSet<&StepId> {
    let circles = r.order_faults.iter().filter_map(|f| match f {
        OrderFault::Circle { steps, .. } => Some(steps),
        OrderFault::Backward { .. } => None,
    });
    circles.flatten().collect()
}

fn finding(r: &Resolved, name: &str, m: &NotThereYet) -> Diagnostic {
    let (step, span) = m.places[0];
    let (headline, help) = match (m.later, m.assembly) {
        (Some(later), true) => (
            format!("step `{step}` uses `{name}` before step `{later}` makes it"),
            format!("write `after: [{later}]` in this step, or put the steps into the right sections"),
        ),
        (Some(later), false) => (
            format!("step `{step}` uses {name} before step `{later}` takes or makes it"),
            format!("write `after: [{later}]` in this step, or take the part here and say `do: use` there"),
        ),
        (None, true) => (
            format!("step `{step}` uses `{name}`, which no step of {} makes", r.name),
            "let the step that makes it apply there too, or give this item an `only`".to_owned(),
        ),
        (None, false) => (
            format!("step `{step}` uses {name}, which no step of {} has taken", r.name),
            "add it to the `parts` of this step or of an earlier one, or give this item an `only`".to_owned(),
        ),
    };
    let d = RULE.found(headline).at(span, "not there yet").help(help).about(name).about(step);
    m.places[1..].iter().take(MOST_NOTES).fold(d, |d, (_, span)| d.note(*span, "and here"))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn an_assembly() {
        assert_eq!(
            sound()
                .edit(
                    "steps/frame/10-keel.md",
                    "makes: [keel-tube]\n",
                    "makes: [{ assembly: keel-tube, only: LONG }]\n"
                )
                .findings(),
            ["used-before-there steps/frame/20-left.md `keel-tube`"]
        );
        assert_eq!(
            sound()
                .edit("steps/frame/10-keel.md", "makes: [keel-tube]\n", "")
                .edit("steps/finish/10-cross.md", "section: finish\n", "section: finish\nmakes: [keel-tube]\n")
                .findings(),
            ["used-before-there steps/frame/20-left.md `keel-tube`"]
        );
    }

    #[test]
    fn a_part() {
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "{ part: KW-101, through: wall }", "KW-104").findings(),
            ["used-before-there steps/frame/20-left.md `KW-104`"]
        );
        assert_eq!(
            sound().edit("steps/finish/20-brake.md", "- KW-300", "- { part: KW-300, do: use }\n  - KW-300").findings(),
            ["used-before-there steps/finish/20-brake.md `KW-300`"]
        );
    }
}
