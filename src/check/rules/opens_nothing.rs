//! A hole that is opened up to a size which it has already.
//!
//! It matters because one of the two sizes is wrong: the pilot hole as supplied, the drill of this step, or that of an
//! earlier one.
//!
//! Wrong: `do: open up, drill: "#40"` of a hole that comes at #30. Right: the larger drill.
//!
//! To accept: `accept: [{ rule: opens-nothing, about: KW-103-L, reason: ... }]` in the step's file.

use crate::check::fastened::{holes, words};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::HoleFaultKind;
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "opens-nothing",
    level: Level::Error,
    summary: "a hole opened up to a size that it has already",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("opens_nothing.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    holes(ctx, r, |fault| {
        let HoleFaultKind::OpensNothing { name, had, drill } = &fault.kind else { return None };
        let hole = if name.is_empty() { "a hole".to_owned() } else { format!("hole {name}") };
        let d = RULE
            .found(format!(
                "{hole} of {} is opened up to {}, and it has {}",
                fault.part,
                words(ctx, *drill),
                words(ctx, *had)
            ))
            .at(fault.span, "not larger than the hole")
            .help("correct the drill here or in the earlier step, or the size in holes.csv");
        Some(d.about(name))
    })
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_hole_becomes_larger() {
        let with =
            |size: &str| sound().add("holes.csv", &format!("part,hole,count,size\nKW-103-L,A,2,{size}\n")).findings();
        assert_eq!(with("#30"), [""; 0]);
        assert_eq!(
            with("1/4"),
            ["opens-nothing steps/frame/20-left.md `1/4`", "opens-nothing steps/frame/21-right.md `1/4`"]
        );
    }
}
