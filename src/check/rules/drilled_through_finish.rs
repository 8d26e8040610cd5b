//! A hole that is drilled, opened up or reamed through paint, and whose bare edge nobody touches up.
//!
//! It matters because rust begins at the edge of the hole and creeps under the paint.
//!
//! A part counts as painted from the step that finishes it, or from the crate where it comes finished. A hole is touched up with
//! the consumable under its `touch-up`, by a later `do: prime`, or when the part is finished again.
//!
//! Wrong: paint the keel, then drill it. Right: `touch-up: primer` on the hole, or drill first and paint afterwards.
//!
//! To accept: `accept: [{ rule: drilled-through-finish, about: KW-105, reason: ... }]` in the step's file.

use crate::check::{Context, Leave, MOST_NOTES, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::{FinishFault, finish_faults};
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "drilled-through-finish",
    level: Level::Warning,
    summary: "a hole through paint whose edge nobody touches up",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("drilled_through_finish.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for fault in finish_faults(ctx.manual, r, ctx.ledger(r)) {
        let FinishFault::DrilledAfter { part, step, holes } = fault else { continue };
        let Some((first, more)) = holes.split_first() else { continue };
        if ctx.excuses.steps_unread || ctx.excuses.steps.contains(step) || ctx.excuses.parts.contains(part) {
            continue;
        }
        let finish = ctx.manual.parts.get(part).map_or("its finish", |p| p.finish.trim());
        let place = |h: &crate::model::Hole| h.hole.as_ref().map_or(h.part.span, |name| name.span);
        let d = RULE
            .found(format!("{part} is drilled through {finish}, and its bare edges are left so"))
            .at(place(first), "after it was finished")
            .help("add `touch-up:` with the consumable for it, or drill before the part is finished")
            .about(part)
            .about(step);
        sink.push(more.iter().take(MOST_NOTES).fold(d, |d, h| d.note(place(h), "and here")));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    /// The plates come finished.
    #[test]
    fn what_goes_through_paint_is_touched_up() {
        let hole = |more: &str| {
            let holes = format!(
                "tools: [drill]\nholes:\n  - {{ part: KW-104, hole: D, count: 2, drill: 1/8{more} }}\nhardware:\n"
            );
            let rows = [("cut from\n", "cut from,finish\n"), ("2,3,,\n", "2,3,,,enamel\n")];
            rows.into_iter()
                .fold(sound(), |case, (from, to)| case.edit("parts.csv", from, to))
                .edit("steps/frame/30-plates.md", "hardware:\n", &holes)
                .without_line("steps/frame/40-paint.md", "  - { part: KW-104, quantity: 2, do: finish }")
                .findings()
                .into_iter()
                .filter(|f| f.starts_with("drilled-through-finish"))
                .collect::<Vec<_>>()
        };
        assert_eq!(hole(""), ["drilled-through-finish steps/frame/30-plates.md `D`"]);
        assert_eq!(hole(", touch-up: primer"), [""; 0]);
    }
}
