//! A hole that is match-drilled from a part that is not in place: no step has taken it yet, or it was removed again.
//!
//! It matters because the builder can't drill through a part that is still in its crate, and measures instead.
//!
//! Wrong: `from: KW-103-L` two steps before the bracket is pulled. Right: pull it in this step or an earlier one.
//!
//! To accept: `accept: [{ rule: match-drill-too-early, about: KW-101, reason: ... }]` in the step's file.

use crate::check::fastened::holes;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::HoleFaultKind;
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "match-drill-too-early",
    level: Level::Error,
    summary: "a hole match-drilled from a part that is not in place",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("match_drill_too_early.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    holes(ctx, r, |fault| {
        let HoleFaultKind::FromNotInPlace { from, later } = &fault.kind else { return None };
        if ctx.excuses.parts.contains(*from) {
            return None;
        }
        let help = match later {
            Some(step) => format!("pull {from} in this step, or put the step after `{step}`, which takes it"),
            None => format!("pull {from} in this step, or with `do: trial fit`"),
        };
        let d = RULE.found(format!("{} is match-drilled from {from}, which is not in place", fault.part));
        Some(d.at(fault.span, "not fitted by now").help(help).about(from))
    })
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn the_guide_is_there() {
        let (found, _) =
            sound().edit("steps/frame/20-left.md", "match-drill, from: KW-103-L", "match-drill, from: KW-104").check();
        assert!(found.iter().any(|d| d.rule == "match-drill-too-early" && d.help.contains("`plates`")), "{found:#?}");
    }
}
