//! A fastener that goes into a part with a hole whose size or number is not told, because it comes in full size; or a hole
//! that a step makes without saying with which drill or reamer, or for which fastener.
//!
//! It matters because nobody then checks that the fastener goes in, or knows how to drill the hole.
//!
//! Sizes and numbers of holes as supplied stand in holes.csv.
//!
//! Wrong: `holes P` in the column as supplied, and no row for it. Right: a row `KW-120,P,2,1/4` under
//! `part,hole,count,size` in holes.csv.
//!
//! To accept: `accept: [{ rule: hole-size-not-known, about: KW-120, reason: ... }]` in manual.yaml.

use crate::check::fastened::holes;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::HoleFaultKind;
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "hole-size-not-known",
    level: Level::Warning,
    summary: "a hole that is drilled to no size, or a fastener into holes whose size or number is not given",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("hole_size_not_known.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    holes(ctx, r, |fault| {
        let HoleFaultKind::SizeNotKnown { name, supplied } = &fault.kind else { return None };
        let part = fault.part;
        // A size that can't be read is another finding.
        if ctx.excuses.unread.contains(part) {
            return None;
        }
        let hole = if name.is_empty() { "the hole".to_owned() } else { format!("hole {name}") };
        let d = RULE.found(format!("the size of {hole} of {part}, or how many there are, is not given"));
        Some(if *supplied {
            d.at(fault.span, "comes in full size")
                .help(format!("add a row to holes.csv: part {part}, hole {name}, its count and its size"))
        } else {
            d.at(fault.span, "made here without a size").help("add `drill:` with the drill, and for a reamed hole `reamer:`, or `for:` with the fastener; or correct `do:`")
        })
    })
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    const JOINT: &str = "  - { fastener: AN4-10A, stack: [KW-104, { part: KW-101, through: wall, thickness: 1/2 }], under-nut: [AN960-416], nut: AN365-428A }\n";

    #[test]
    fn holes_as_supplied_have_a_size() {
        let case = || {
            sound()
                .edit("steps/frame/20-left.md", "count: 2, do: match-drill", "count: 3, do: match-drill")
                .edit("steps/frame/40-paint.md", "consumables:", &format!("joints:\n{JOINT}consumables:"))
                .edit("steps/frame/40-paint.md", "2. Rivet them.", "2. Rivet them, and fit the bolt.")
        };
        assert_eq!(case().findings(), ["hole-size-not-known parts.csv `finished; holes C`"]);
        let with = |row: &str| case().add("holes.csv", &format!("part,hole,count,size\n{row}\n")).findings();
        assert_eq!(with("KW-104,C,2,1/4"), [""; 0]);
        assert_eq!(with("KW-104,C,1,#30"), ["hole-too-small steps/frame/40-paint.md `KW-104`"]);
        assert_eq!(with("KW-104,C,2,"), ["hole-size-not-known parts.csv `finished; holes C`"]);
        assert!(with("KW-140,C,2,1/4").contains(&"unknown-part holes.csv `KW-140`".to_owned()));
    }

    #[test]
    fn a_hole_is_drilled_to_a_size() {
        let step = "steps/frame/20-left.md";
        let with = |hole: &str| {
            sound().edit(step, "joints:\n", &format!("  - {{ part: KW-105, hole: X{hole} }}\njoints:\n")).findings()
        };
        assert_eq!(with(", drill: 1/4"), [""; 0]);
        assert_eq!(with(""), ["hole-size-not-known steps/frame/20-left.md `{ part: KW-105, hole: X }`"]);
    }

    #[test]
    fn a_reamed_hole_says_its_reamer() {
        let step = "steps/frame/20-left.md";
        let with = |more: &str| {
            sound()
                .edit(
                    step,
                    "do: open up, drill: 1/4 }",
                    &format!(
                        "do: open up, drill: 15/64 }}\n  - {{ part: KW-103-L, hole: A, count: 2, do: ream{more} }}"
                    ),
                )
                .findings()
        };
        assert_eq!(with(", reamer: 1/4"), [""; 0]);
        assert_eq!(with(", for: AN4-10A"), [""; 0]);
        assert_eq!(
            with(""),
            ["hole-size-not-known steps/frame/20-left.md `{ part: KW-103-L, hole: A, count: 2, do: ream }`"]
        );
    }
}
