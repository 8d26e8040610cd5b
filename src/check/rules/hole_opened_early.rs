//! A hole that was opened up before the holes of the other part were drilled through it: the later drill is smaller than
//! the hole that guides it.
//!
//! It matters because the drill wanders in the large hole, and the holes of the two parts do not meet.
//!
//! Wrong: open the bracket up to 1/4 in, then match-drill the tube from it at 1/8 in. Right: match-drill at pilot size
//! first, then open both up together.
//!
//! To accept: `accept: [{ rule: hole-opened-early, about: KW-101, reason: ... }]` in the step's file.

use crate::check::fastened::{holes, words};
use crate::check::{Bending, Context, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::HoleFaultKind;
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "hole-opened-early",
    level: Level::Error,
    summary: "a hole opened up before the other part was drilled through it",
    source: "common practice",
    bending: Bending::Allowed,
    file: include_str!("hole_opened_early.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    holes(ctx, r, |fault| {
        let HoleFaultKind::OpenedTooEarly { from, guide, drill, opened } = &fault.kind else { return None };
        let d = RULE
            .found(format!("{} is match-drilled at {} through a hole of {} in {from}", fault.part, words(ctx, *drill), words(ctx, *guide)))
            .at(fault.span, "smaller than the hole that guides it")
            .note(*opened, "opened here")
            .help("match-drill first and open both up together, or use the drill of the larger hole")
            .about(from);
        Some(d)
    })
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn the_guide_is_no_larger_than_the_drill() {
        let step = "steps/frame/20-left.md";
        let later = "drill: 1/8, for: AN4-10A }\n  - { part: KW-101, hole: left, count: 2, do: open up, drill: 1/4, for: AN4-10A }";
        let found = sound().edit(step, "drill: 1/4, for: AN4-10A }", later).findings();
        assert_eq!(found, ["hole-opened-early steps/frame/20-left.md `1/8`"]);
    }
}
