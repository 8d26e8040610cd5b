//! A joint, hole, cut, bend, cable, bond or wire that the links of two actions say is done.
//!
//! It matters because a hole that is drilled twice, or a bolt that is counted at two places, is a bolt missing at a third.
//!
//! It looks at links only: a verb that comes again may go on with what was begun.
//!
//! Wrong: `[](hole:SK-101/sleeve)` in two actions. Right: in the one that drills it.
//!
//! To accept: `accept: [{ rule: done-twice, about: step-id, reason: ... }]` in the step's file.

use std::collections::BTreeMap;

use crate::action::{Deed, KnownBy};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::resolve::Resolved;
use crate::source::Span;

pub const RULE: Rule = Rule {
    id: "done-twice",
    level: Level::Warning,
    summary: "something of the step that two actions are linked to",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("done_twice.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for s in r.steps.iter().filter(|s| !ctx.excuses.steps.contains(&s.step.id.value)) {
        let mut first: BTreeMap<(Deed, usize), (usize, Span)> = BTreeMap::new();
        for (at, action) in ctx.actions(s).iter().enumerate() {
            for tie in action.ties.iter().filter(|t| t.deed != Deed::Measure) {
                let KnownBy::Link(span) = tie.known_by else { continue };
                let Some(&(before, there)) = first.get(&(tie.deed, tie.item)) else {
                    first.insert((tie.deed, tie.item), (at, span));
                    continue;
                };
                if before != at {
                    sink.push(
                        RULE.found(format!("two actions of step `{}` are linked to the same thing", s.step.id.value))
                            .at(span, format!("this action {} it too", tie.deed.verb()))
                            .note(there, "and this one")
                            .help("keep the link where it is done, and say in the other what is meant there")
                            .about(&s.step.id.value),
                    );
                }
            }
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_hole_is_drilled_once() {
        let found = |text: &str| sound().edit("steps/frame/20-left.md", "2. Fit the bolts.", text).findings();
        assert_eq!(found("2. Drill the [ends](hole:KW-101).\n3. Fit the bolts."), [""; 0]);
        assert_eq!(
            found("2. Drill the [ends](hole:KW-101).\n3. Drill the [keel](hole:KW-101/left), and fit the bolts."),
            ["done-twice steps/frame/20-left.md `KW-101/left`"]
        );
    }
}
