//! A hole that ends up larger than right for its fastener, by more than 1/64 in.
//!
//! It matters because a bolt in a loose hole works, and a rivet does not fill it.
//!
//! The right size is that of the drill for the fastener in the tables; it can be looked up with the rule's finding.
//!
//! Wrong: `drill: 5/16, for: AN4-10A`. Right: `drill: 1/4`.
//!
//! To accept: `accept: [{ rule: hole-too-large, about: KW-101, reason: ... }]` in the step's file.

use crate::check::fastened::{holes, words};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::HoleFaultKind;
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "hole-too-large",
    level: Level::Warning,
    summary: "a hole larger than right for its fastener",
    source: "the drill tables; common practice",
    bending: Leave::Allowed,
    file: include_str!("hole_too_large.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    holes(ctx, r, |fault| {
        let HoleFaultKind::TooLarge { size, right, for_ } = &fault.kind else { return None };
        let d = RULE
            .found(format!(
                "the hole in {} is {} for {for_}, and {} is right",
                fault.part,
                words(ctx, *size),
                words(ctx, right.value)
            ))
            .at(fault.span, format!("right size: {}", right.source.words()))
            .help(format!("drill it to {}, or correct the fastener it is for", words(ctx, right.value)))
            .about(for_);
        Some(d)
    })
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn the_hole_is_the_fasteners() {
        // No table of the trade drills a 1/4 in bolt's hole at 9/32 in; 1/4 in is common practice.
        let found = sound().edit("steps/frame/20-left.md", "drill: 1/4, for", "drill: 9/32, for").findings();
        assert_eq!(found, ["hole-too-large steps/frame/20-left.md `9/32`"]);
    }
}
