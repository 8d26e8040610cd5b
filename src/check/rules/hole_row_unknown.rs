//! A row of holes.csv about a hole that the part does not have: neither the column as supplied names it nor any step
//! drills it; or a row with a size for a hole that does not come with the part.
//!
//! It matters because the places and sizes of the row are then held against nothing, and the hole that was meant has
//! none.
//!
//! Wrong: a row for hole B of a part with `pilot holes A`. Right: hole A, or `pilot holes A, B` in the parts list.
//!
//! To accept: `accept: [{ rule: hole-row-unknown, about: KW-103, reason: ... }]` in manual.yaml.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::{HoleAction, ListedHole};
use crate::units::PartNumber;

pub const RULE: Rule = Rule {
    id: "hole-row-unknown",
    level: Level::Error,
    summary: "a row of holes.csv about a hole that the part does not have",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("hole_row_unknown.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for row in ctx.manual.holes.values().flatten() {
        let (number, name) = (&row.part.value, &row.hole.value);
        let Some(part) = ctx.manual.parts.get(number) else { continue };
        let comes = part.supplied.pilot_holes.contains(name) || part.supplied.holes.contains(name);
        if comes || ctx.excuses.steps_unread || ctx.excuses.parts.contains(number) || !is_new(ctx, row) {
            continue;
        }
        let made = makes(ctx, number, name);
        let d = match row.size {
            _ if !made => RULE
                .found(format!("{number} has no hole {name}"))
                .at(row.hole.span, "neither supplied nor drilled by a step")
                .help("correct the name or the part in this row, or name the hole in the column as supplied"),
            Some(size) => RULE
                .found(format!("hole {name} of {number} has a size as supplied, and the part comes without it"))
                .at(size.span, "a step drills it")
                .help("empty this cell, or name the hole in the column as supplied of the parts list"),
            None => continue,
        };
        let d = match part.supplied.span {
            Some(cell) => d.note(cell, "as supplied"),
            None => d.note(part.number.span, "nothing is said in the column as supplied"),
        };
        sink.push(d.about(number).about(name));
    }
    sink
}

/// Of several rows for one hole the first speaks.
fn is_new(ctx: &Context, row: &ListedHole) -> bool {
    let mut rows = ctx.manual.holes.get(&row.part.value).into_iter().flatten();
    rows.find(|r| r.hole.value == row.hole.value).is_some_and(|first| first.span == row.span)
}

/// Whether any step drills a hole of this name into the part or, where the rows hold for both, into its opposite.
fn makes(ctx: &Context, number: &PartNumber, name: &str) -> bool {
    let opposite = ctx.manual.parts.get(number).and_then(|p| p.opposite.as_ref()).map(|o| &o.value);
    ctx.manual.steps.iter().flat_map(|s| &s.holes).any(|h| {
        let drilled = matches!(h.action, HoleAction::Drill | HoleAction::MatchDrill);
        drilled
            && (h.part.value == *number || Some(&h.part.value) == opposite)
            && h.hole.as_ref().is_some_and(|n| n.value == *name)
    })
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_row_speaks_of_a_hole_that_is_there() {
        let with = |row: &str| sound().add("holes.csv", &format!("part,hole,count,size\n{row}\n")).findings();
        assert_eq!(with("KW-103-L,A,2,#30"), [""; 0]);
        assert_eq!(with("KW-103-L,B,2,#30"), ["hole-row-unknown holes.csv `B`"]);
        assert_eq!(with("KW-101,left,2,"), [""; 0]);
        assert_eq!(with("KW-101,left,2,1/8"), ["hole-row-unknown holes.csv `1/8`"]);
    }
}
