//! A hole that was opened up before the holes of the other part were drilled through it, so that the later drill is
//! smaller than the hole that guides it; or a hole made larger while the part it was drilled through together with is
//! not in place.
//!
//! It matters because the drill wanders in the large hole, or the two parts are opened each by itself: either way their
//! holes do not meet.
//!
//! Wrong: open the bracket up to 1/4 in, then match-drill the tube from it at 1/8 in. Right: match-drill at pilot size
//! first, then open both up together.
//!
//! To accept: `accept: [{ rule: hole-opened-early, about: KW-101, reason: ... }]` in the step's file.

use crate::check::fastened::{holes, words};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::HoleFaultKind;
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "hole-opened-early",
    level: Level::Error,
    summary: "a hole opened up before the other part was drilled through it",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("hole_opened_early.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    holes(ctx, r, |fault| {
        if let HoleFaultKind::OpenedApart { name, other } = &fault.kind {
            let d = RULE
                .found(format!("hole {name} of {} is made larger while {other} is not in place", fault.part))
                .at(fault.span, format!("drilled through together with {other}"))
                .help(format!("open both up together: before {other} is removed, or with it fitted on trial"));
            return Some(d.about(other));
        }
        let HoleFaultKind::OpenedTooEarly { from, guide, drill, opened } = &fault.kind else { return None };
        let d = RULE
            .found(format!(
                "{} is match-drilled at {} through a hole of {} in {from}",
                fault.part,
                words(ctx, *drill),
                words(ctx, *guide)
            ))
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
    fn both_are_opened_together() {
        let pilot = |case: crate::check::testing::Case| {
            case.edit("steps/frame/20-left.md", "do: open up, drill: 1/4 }", "do: open up, drill: 1/8 }").edit(
                "steps/frame/20-left.md",
                "drill: 1/4, for",
                "drill: 1/8, for",
            )
        };
        let open = "  - { part: KW-101, hole: left, count: 2, do: open up, drill: 1/4, for: AN4-10A }\n  - { part: KW-103-L, hole: A, count: 2, do: open up, drill: 1/4 }\n";
        let joint = "joints:\n  - fastener: AN4-10A\n    stack: [KW-103-L, { part: KW-101, through: wall }]\n    under-nut: [AN960-416]\n    nut: AN365-428A\n    places: 2\n";
        let apart = |parts: &str| {
            pilot(sound())
                .edit("steps/frame/20-left.md", "  - KW-103-L\nholes:", "  - { part: KW-103-L, do: trial fit }\nholes:")
                .edit("steps/frame/20-left.md", joint, "")
                .edit(
                    "steps/frame/21-right.md",
                    "  - KW-103-R\nholes:\n",
                    &format!("  - KW-103-R\n{parts}holes:\n{open}"),
                )
                .findings()
                .into_iter()
                .filter(|f| f.starts_with("hole-opened-early"))
                .collect::<Vec<_>>()
        };
        assert_eq!(apart(""), [""; 0]);
        let removed = pilot(sound())
            .edit(
                "steps/frame/20-left.md",
                "  - KW-103-L\nholes:",
                "  - { part: KW-103-L, do: trial fit }\n  - { part: KW-103-L, do: remove }\nholes:",
            )
            .edit("steps/frame/20-left.md", joint, "")
            .edit("steps/frame/21-right.md", "holes:\n", &format!("holes:\n{open}"))
            .findings();
        assert!(removed.contains(&"hole-opened-early steps/frame/21-right.md `KW-101`".to_owned()), "{removed:?}");
    }

    #[test]
    fn the_guide_is_no_larger_than_the_drill() {
        let step = "steps/frame/20-left.md";
        let later = "drill: 1/8, for: AN4-10A }\n  - { part: KW-101, hole: left, count: 2, do: open up, drill: 1/4, for: AN4-10A }";
        let found = sound().edit(step, "drill: 1/4, for: AN4-10A }", later).findings();
        assert_eq!(found, ["hole-opened-early steps/frame/20-left.md `1/8`"]);
    }
}
