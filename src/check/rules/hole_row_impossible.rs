//! A row of holes that can't be: places that do not go with the count, that do not go forward from the end, or that lie
//! beyond the part.
//!
//! It matters because the marks and the strip to drill from are made of them.
//!
//! Wrong: `count: 7, stations: [1/2, 2, 4]`. Right: as many places as holes, each beyond the one before it.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::plan::hole_row;

pub const RULE: Rule = Rule {
    id: "hole-row-impossible",
    level: Level::Error,
    summary: "a row of holes whose places can't be",
    source: "geometry: each hole is measured from the same end",
    bending: Leave::Refused,
    file: include_str!("hole_row_impossible.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in ctx.manual.written_steps() {
        for hole in &step.holes {
            let Some(Err(why)) = hole_row(ctx.manual, hole) else { continue };
            let part = &hole.part.value;
            sink.push(
                RULE.found(format!("the row of holes in {part} can't be: {why}"))
                    .at(hole.span, "no such row")
                    .help("correct `count`, `first`, `last` or `stations`")
                    .about(part)
                    .about(&step.id.value),
            );
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_row_lies_on_its_part() {
        let found = |row: &str| {
            let hole = format!(
                "holes:\n  - {{ part: KW-101, hole: R, count: 3, do: drill, drill: \"#30\", {row} }}\ntools: [saw]"
            );
            let case = sound().edit("steps/frame/10-keel.md", "tools: [saw]", &hole);
            case.findings().into_iter().filter(|f| f.starts_with("hole-row")).count()
        };
        assert_eq!(found("first: 1, last: 39"), 0);
        for row in [
            "first: 1, last: 40",
            "first: 3, last: 2",
            "stations: [1, 2]",
            "stations: [1, 3, 2]",
            "stations: [0, 3, 4]",
        ] {
            assert_eq!(found(row), 1, "{row}");
        }
    }
}
