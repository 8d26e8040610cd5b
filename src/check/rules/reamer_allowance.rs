//! A reamer that goes into a hole which is as large already, or so much smaller that the reamer has to drill.
//!
//! It matters because a reamer takes off a few thousandths: with more it chatters and the hole is not round, with none
//! the hole stays as rough and as large as the drill left it.
//!
//! The drill before it leaves up to 1/32 in, usually 1/64 in.
//!
//! Wrong: `drill: 1/4, reamer: 1/4`. Right: `drill: 15/64, reamer: 1/4`.
//!
//! To accept: `accept: [{ rule: reamer-allowance, about: KW-101, reason: ... }]` in the step's file.

use crate::check::fastened::{holes, words};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::HoleFaultKind;
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "reamer-allowance",
    level: Level::Warning,
    summary: "a reamer that takes off nothing or too much",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("reamer_allowance.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    holes(ctx, r, |fault| {
        let HoleFaultKind::ReamerAllowance { before, reamer } = &fault.kind else { return None };
        let what = if before >= reamer { "takes nothing off" } else { "takes off more than 1/32 in" };
        let d = RULE
            .found(format!("the reamer of {} {what}", fault.part))
            .at(fault.span, format!("reamer {}, hole before it {}", words(ctx, *reamer), words(ctx, *before)))
            .help("drill 1/64 in smaller than the reamer first, or correct one of the two");
        Some(d)
    })
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn the_drill_leaves_a_little() {
        let with = |drill: &str| {
            sound()
                .edit(
                    "steps/frame/20-left.md",
                    "do: open up, drill: 1/4",
                    &format!("do: open up, drill: {drill}, reamer: 1/4"),
                )
                .findings()
        };
        assert_eq!(with("15/64"), [""; 0]);
        assert_eq!(with("1/4"), ["reamer-allowance steps/frame/20-left.md `1/4`"]);
        assert_eq!(with("3/16"), ["reamer-allowance steps/frame/20-left.md `1/4`"]);
    }
}
