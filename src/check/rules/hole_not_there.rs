//! A hole that a step opens up, reams, deburrs or primes, while the part comes without it and no step before has drilled
//! it; or more of them than there are by holes.csv and the steps before.
//!
//! It matters because the builder looks for a pilot hole that does not exist, and makes one by eye.
//!
//! Only parts whose column as supplied is filled in are looked at.
//!
//! Wrong: `do: open up` on hole A of a part with `no holes`. Right: `do: drill`, or `pilot holes A` in the column as
//! supplied.
//!
//! To accept: `accept: [{ rule: hole-not-there, about: KW-103-L, reason: ... }]` in the step's file.

use crate::check::fastened::holes;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::HoleFaultKind;
use crate::model::HoleAction;
use crate::resolve::Resolved;
use crate::units::PartNumber;
use std::collections::BTreeSet;

pub const RULE: Rule = Rule {
    id: "hole-not-there",
    level: Level::Error,
    summary: "a hole opened up, reamed or deburred that is not there",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("hole_not_there.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut drilled: BTreeSet<(&PartNumber, &str)> = BTreeSet::new();
    let mut sink = Sink::new();
    for s in &r.steps {
        for hole in &s.step.holes {
            let (Some(name), Some(part)) = (&hole.hole, ctx.manual.parts.get(&hole.part.value)) else { continue };
            let key = (&hole.part.value, name.value.as_str());
            if matches!(hole.action, HoleAction::Drill | HoleAction::MatchDrill) {
                drilled.insert(key);
                continue;
            }
            let supplied = &part.supplied;
            let there = supplied.pilot_holes.contains(&name.value) || supplied.holes.contains(&name.value);
            let Some(cell) = supplied.span.filter(|_| !there && !supplied.assembled) else { continue };
            // One that is missing is missing in later steps too.
            if !drilled.insert(key) || ctx.excuses.steps_unread || ctx.excuses.steps.contains(&s.step.id.value) {
                continue;
            }
            sink.push(
                RULE.found(format!(
                    "hole {} of {} is not there to {}",
                    name.value,
                    part.number.value,
                    hole.action.word()
                ))
                .at(name.span, "not drilled before this step")
                .note(cell, "as supplied")
                .help("drill it in this step or an earlier one, or correct the column as supplied")
                .about(&part.number.value)
                .about(&s.step.id.value),
            );
        }
    }
    sink.extend(holes(ctx, r, |fault| {
        let HoleFaultKind::MoreThanThere { name, there, wanted } = &fault.kind else { return None };
        let d = RULE
            .found(format!("{wanted} holes {name} of {} are made larger, and there are {there}", fault.part))
            .at(fault.span, format!("{there} by holes.csv and the steps before"))
            .help("correct `count`, which stands for all pieces of the part together, or the list of holes");
        Some(d.about(name))
    }));
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn no_more_than_there_are() {
        let with =
            |count: u8| sound().add("holes.csv", &format!("part,hole,count,size\nKW-103-L,A,{count},#30\n")).findings();
        assert_eq!(with(2), [""; 0]);
        assert_eq!(
            with(1),
            ["hole-not-there steps/frame/20-left.md `A`", "hole-not-there steps/frame/21-right.md `A`"]
        );
    }

    #[test]
    fn a_hole_comes_first() {
        assert_eq!(
            sound().edit("parts.csv", "left,KW-103-R,S-1,,,pilot holes A", "left,KW-103-R,S-1,,,no holes").findings(),
            ["hole-not-there steps/frame/20-left.md `A`"]
        );
        assert_eq!(
            sound()
                .edit("steps/frame/20-left.md", "hole: A, count: 2, do: open up", "hole: B, count: 2, do: open up")
                .findings(),
            ["hole-not-there steps/frame/20-left.md `B`"]
        );
    }
}
