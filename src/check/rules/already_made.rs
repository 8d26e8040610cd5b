//! A cut or a hole that a step has the builder make, while the part comes with it.
//!
//! It matters because a tube that is cut again is too short, and a builder who sees a hole where the step says to
//! drill one doubts the whole kit.
//!
//! A part that comes `cut`, `finished` or `assembled` is cut at both ends. A hole under `pilot holes` is there for `open up` and
//! `ream`, not for `drill`; one under `holes` is there at its full size.
//!
//! Wrong: `do: drill` on hole A of a part with `pilot holes A`. Right: `do: open up`, or `by: maker` where the step
//! only speaks of it.
//!
//! To accept: `accept: [{ rule: already-made, about: KW-103-L, reason: ... }]` in the step's file.

use indexmap::IndexMap;

use crate::check::{Context, Leave, MOST_NOTES, Rule, Run};
use crate::diag::{Diagnostic, Level, Note, Sink};
use crate::model::{By, HoleAction, Part};
use crate::units::PartNumber;

pub const RULE: Rule = Rule {
    id: "already-made",
    level: Level::Error,
    summary: "a cut or a hole that the part already has as supplied",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("already_made.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    // A wrong cell of the parts list speaks in every step: one finding for a part and its cut or hole.
    let mut found: IndexMap<(&PartNumber, &str), Diagnostic> = IndexMap::new();
    for step in &ctx.manual.steps {
        for cut in step.cuts.iter().filter(|c| c.by == By::Builder) {
            let Some(part) = ctx.manual.parts.get(&cut.part.value) else { continue };
            // A piece is not supplied: the step that cuts it makes its ends.
            if part.cut_from.is_none() && (part.supplied.cut || part.supplied.finished || part.supplied.assembled) {
                let d = RULE
                    .found(format!("{} comes cut, and a step cuts it", cut.part.value))
                    .at(cut.part.span, "already cut as supplied")
                    .help("correct the column as supplied, or write `by: maker`, or take the cut out");
                add(&mut found, (&cut.part.value, ""), supplied(d, part).about(&cut.part.value).about(&step.id.value));
            }
        }
        for hole in step.holes.iter().filter(|h| h.by == By::Builder) {
            let Some(part) = ctx.manual.parts.get(&hole.part.value) else { continue };
            let Some(name) = &hole.hole else { continue };
            let full = part.supplied.holes.contains(&name.value);
            let pilot = part.supplied.pilot_holes.contains(&name.value);
            let made = match hole.action {
                HoleAction::Drill | HoleAction::MatchDrill => full || pilot,
                HoleAction::OpenUp => full,
                HoleAction::Ream | HoleAction::Deburr | HoleAction::Prime => false,
            };
            if !made {
                continue;
            }
            let (label, help) = if full {
                ("comes at its full size", "correct the column as supplied, or take the hole out of the step")
            } else {
                ("comes as a pilot hole", "write `do: open up`, or correct the column as supplied")
            };
            let d = RULE
                .found(format!("hole {} of {} is already made, and a step makes it", name.value, hole.part.value))
                .at(name.span, label)
                .help(help);
            add(
                &mut found,
                (&hole.part.value, &name.value),
                supplied(d, part).about(&hole.part.value).about(&step.id.value),
            );
        }
    }
    found.into_values().collect()
}

fn add<'a>(
    found: &mut IndexMap<(&'a PartNumber, &'a str), Diagnostic>,
    what: (&'a PartNumber, &'a str),
    d: Diagnostic,
) {
    match found.get_mut(&what) {
        Some(first) => {
            let span = d.span.filter(|_| first.notes.len() <= MOST_NOTES);
            first.notes.extend(span.map(|span| Note { span, label: "and here".to_owned() }));
            first.about.extend(d.about.into_iter().skip(1));
        }
        None => {
            found.insert(what, d);
        }
    }
}

fn supplied(d: Diagnostic, part: &Part) -> Diagnostic {
    match part.supplied.span {
        Some(span) => d.note(span, "as supplied"),
        None => d,
    }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn what_comes_made_is_not_made_again() {
        assert_eq!(
            sound().edit("parts.csv", "40,42,uncut; no holes", "40,42,cut; no holes").findings(),
            ["already-made steps/frame/10-keel.md `KW-101`"]
        );
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "do: open up", "do: drill").findings(),
            ["already-made steps/frame/20-left.md `A`"]
        );
        assert_eq!(
            sound().edit("parts.csv", "left,KW-103-R,S-1,,,pilot holes A", "left,KW-103-R,S-1,,,holes A").findings(),
            ["already-made steps/frame/20-left.md `A`"]
        );
        assert_eq!(
            sound()
                .edit("parts.csv", "40,42,uncut; no holes", "40,42,cut; no holes")
                .edit("steps/frame/10-keel.md", "trim: 2,", "trim: 2, by: maker,")
                .findings(),
            [""; 0]
        );
        assert_eq!(
            sound().edit("parts.csv", "40,42,uncut; no holes", "40,42,assembled").findings(),
            ["already-made steps/frame/10-keel.md `KW-101`"]
        );
    }
}
