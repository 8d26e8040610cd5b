//! A cut or a hole that a step says the maker has made, while the column as supplied of the part does not.
//!
//! It matters because the builder then finds a part that is not as the step says.
//!
//! Wrong: `by: maker` on a cut of a part that comes `uncut`. Right: `cut` in the column as supplied, or `by:
//! builder`.
//!
//! To accept: `accept: [{ rule: not-as-supplied, about: KW-101, reason: ... }]` in the step's file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::{By, Hole, HoleAction, StepItem};

pub const RULE: Rule = Rule {
    id: "not-as-supplied",
    level: Level::Warning,
    summary: "a cut or hole said to be the maker's that the parts list does not have",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("not_as_supplied.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in &ctx.manual.steps {
        let cuts = step.cuts.iter().filter(|c| c.by == By::Maker).map(|c| (&c.part, None));
        let makes = |h: &&StepItem<Hole>| {
            h.by == By::Maker && matches!(h.action, HoleAction::Drill | HoleAction::MatchDrill | HoleAction::OpenUp)
        };
        let holes = step.holes.iter().filter(makes).filter_map(|h| Some((&h.part, Some(h.hole.as_ref()?))));
        for (name, hole) in cuts.chain(holes) {
            let Some(part) = ctx.manual.parts.get(&name.value) else { continue };
            let s = &part.supplied;
            let has = match hole {
                None => s.cut || s.finished || s.assembled,
                Some(hole) => s.assembled || s.holes.contains(&hole.value) || s.pilot_holes.contains(&hole.value),
            };
            let Some(cell) = s.span.filter(|_| !has) else { continue };
            let what = hole.map_or("the cut".to_owned(), |h| format!("hole {}", h.value));
            sink.push(
                RULE.found(format!("{what} of {} is the maker's, and the part comes without it", name.value))
                    .at(hole.map_or(name.span, |h| h.span), "said to be made by the maker")
                    .note(cell, "as supplied")
                    .help("correct the column as supplied, or write `by: builder`")
                    .about(&name.value)
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
    fn the_maker_has_made_it() {
        assert_eq!(
            sound()
                .edit("steps/frame/10-keel.md", "trim: 2, long-point: 12 }", "trim: 2, long-point: 12, by: maker }")
                .findings(),
            ["not-as-supplied steps/frame/10-keel.md `KW-101`"]
        );
        assert_eq!(
            sound()
                .edit(
                    "steps/frame/20-left.md",
                    "hole: left, count: 2, do: match-drill,",
                    "hole: left, count: 2, do: match-drill, by: maker,"
                )
                .findings(),
            ["not-as-supplied steps/frame/20-left.md `left`"]
        );
    }
}
