//! A hole that is drilled where there is one already: as the part comes, or by an earlier item.
//!
//! It matters because the second hole does not meet the first, and the part is spoilt.
//!
//! Of a part that the configuration has more than once, several pieces may be drilled alike in several steps.
//!
//! Wrong: `do: drill` on hole A of a part with `pilot holes A`. Right: `do: open up`.
//!
//! To accept: `accept: [{ rule: hole-drilled-twice, about: KW-103, reason: ... }]` in the step's file.

use crate::check::fastened::holes;
use crate::check::{Bending, Context, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::{HoleFaultKind, Supply};
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "hole-drilled-twice",
    level: Level::Error,
    summary: "a hole drilled where there is one already",
    source: "common practice",
    bending: Bending::Allowed,
    file: include_str!("hole_drilled_twice.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    holes(ctx, r, &RULE, |fault| {
        let HoleFaultKind::DrilledTwice { name, supply, before } = &fault.kind else { return None };
        let part = fault.part;
        let (label, help) = match supply {
            Supply::Full => ("it comes at full size", "take the item out, or correct the column as supplied"),
            Supply::Pilot => ("it comes at pilot size", "write `do: open up`, or correct the column as supplied"),
            Supply::None => ("drilled before", "write `do: open up`, take one of the two out, or give the holes different names"),
        };
        let d = RULE.found(format!("hole {name} of {part} is drilled twice")).at(fault.span, label).help(help).about(name);
        let cell = ctx.manual.parts.get(part).and_then(|p| p.supplied.span).filter(|_| *supply != Supply::None);
        let d = cell.map_or(d.clone(), |cell| d.note(cell, "as supplied"));
        Some(before.map_or(d.clone(), |before| d.note(before, "drilled here first")))
    })
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn once_is_enough() {
        assert_eq!(sound().edit("steps/frame/21-right.md", "hole: right", "hole: left").findings(), ["hole-drilled-twice steps/frame/21-right.md `left`"]);
        assert_eq!(sound().edit("steps/frame/20-left.md", "hole: A, count: 2, do: open up", "hole: A, count: 2, do: drill").findings(), ["hole-drilled-twice steps/frame/20-left.md `A`"]);
    }
}
