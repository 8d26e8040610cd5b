//! A glued part that a later step drills, cuts, bends or clamps without waiting until the bond has cured; and a step that
//! waits for a bond which is not glued before it.
//!
//! It matters because a bond that is loaded too early looks whole and holds a part of what it should.
//!
//! A step waits by naming the bond under `cured`; every step after it in the order of the work has waited too. `to: handling`
//! is enough to take a part up, and not to load it. What the step that glues does itself is its own: there the text says when.
//!
//! Wrong: step 2 glues KW-110, step 3 drills it. Right: `cured: [left-rib]` in step 3.
//!
//! To accept: `accept: [{ rule: bond-not-cured, about: left-rib, reason: ... }]` in the step.

use std::collections::BTreeSet;

use crate::check::names::Kind;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::{By, CureState, HardwareAction, Step};
use crate::plan::bonds;
use crate::resolve::Resolved;
use crate::source::Span;
use crate::units::PartNumber;

pub const RULE: Rule = Rule {
    id: "bond-not-cured",
    level: Level::Error,
    summary: "a glued part that is loaded or worked on before its bond has cured",
    source: "common practice: the times of the adhesive's maker",
    bending: Leave::Allowed,
    file: include_str!("bond_not_cured.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    if ctx.excuses.steps_unread {
        return sink;
    }
    let glued = bonds(r);
    for (place, s) in r.steps.iter().enumerate() {
        for wait in &s.step.cured {
            let Some(bond) = glued.get(wait.bond.value.as_str()).filter(|g| g.place >= place) else { continue };
            let id = &s.step.id.value;
            sink.push(
                RULE.found(format!("step `{id}` waits for the bond {}, which is glued later", wait.bond.value))
                    .at(wait.bond.span, "not glued yet")
                    .note(bond.item.bond.span, "glued here")
                    .help(format!("write `after: [{}]` in this step, or take the wait out", bond.step.step.id.value))
                    .about(&wait.bond.value)
                    .about(id),
            );
        }
    }
    for (id, bond) in &glued {
        let parts: BTreeSet<&PartNumber> = bond.item.parts.iter().map(|p| &p.value).collect();
        let mut handled = false;
        for s in &r.steps[bond.place + 1..] {
            // A wait for what is misspelt is that finding.
            if s.step.cured.iter().any(|w| !ctx.names.is_known(Kind::Bond, &w.bond.value)) {
                break;
            }
            let mut waits = s.step.cured.iter().filter(|w| w.bond.value == **id).map(|w| w.to);
            match waits.next() {
                Some(CureState::Full) => break,
                Some(CureState::Handling) => handled = true,
                None => {}
            }
            let Some((part, span, does)) = loads(&s.step).find(|(part, ..)| parts.contains(part)) else { continue };
            let step = &s.step.id.value;
            let so_far = if handled { " has cured fully" } else { " has cured" };
            sink.push(
                RULE.found(format!("step `{step}` {does} {part} before the bond {id}{so_far}"))
                    .at(span, "loaded or worked on here")
                    .note(bond.item.bond.span, "glued here")
                    .help(format!("write `cured: [{id}]` in step `{step}` or in one before it, or do this first and glue afterwards"))
                    .about(id)
                    .about(step),
            );
            break;
        }
    }
    sink
}

/// What a step drills, cuts, bends or clamps.
fn loads(step: &Step) -> impl Iterator<Item = (&PartNumber, Span, &'static str)> {
    let builder = |by: By| by == By::Builder;
    let holes = step.holes.iter().filter(move |h| builder(h.by)).map(|h| (&h.part, "drills"));
    let cuts = step.cuts.iter().filter(move |c| builder(c.by)).map(|c| (&c.part, "cuts"));
    let bends = step.bends.iter().filter(move |b| builder(b.by)).map(|b| (&b.part, "bends"));
    let flat = step.flattened.iter().filter(move |f| builder(f.by)).map(|f| (&f.part, "flattens"));
    let joints = step.joints.iter().filter(|j| j.action != HardwareAction::Remove);
    let clamped = joints.flat_map(|j| &j.stack).map(|m| (&m.part, "clamps"));
    holes.chain(cuts).chain(bends).chain(flat).chain(clamped).map(|(part, does)| (&part.value, part.span, does))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::glued;

    const LEFT: &str = "steps/frame/20-left.md";

    #[test]
    fn a_step_that_drills_what_is_glued_waits() {
        assert_eq!(glued().findings(), [""; 0]);
        let found = glued().edit(LEFT, "cured: [left-rib]\n", "").findings();
        assert_eq!(found, [format!("bond-not-cured {LEFT} `KW-101`")]);
        let handled = glued().edit(LEFT, "cured: [left-rib]", "cured: [{ bond: left-rib, to: handling }]");
        assert!(handled.only().headline.contains("has cured fully"), "{:?}", handled.findings());
    }

    #[test]
    fn a_step_waits_for_what_is_glued_before_it() {
        let found =
            glued().edit("steps/frame/10-keel.md", "tools: [saw]", "cured: [left-rib]\ntools: [saw]").findings();
        assert_eq!(found, ["bond-not-cured steps/frame/10-keel.md `left-rib`"]);
    }
}
