//! An end of a part that is cut or pressed flat, or a hole that is drilled, more often than there are pieces of the part.
//!
//! It matters because a second cut makes the part too short, and a second hole of one name is either the wrong name
//! or a hole too many.
//!
//! Holes of one name may be match-drilled from several parts: a row for each in one step, with its count.
//!
//! Wrong: end A of the one `KW-101` cut in two steps. Right: one step, or end B in the other.
//!
//! To accept: `accept: [{ rule: made-twice, about: KW-101, reason: ... }]` in the step's file.

use crate::check::MOST_NOTES;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::{Cut, CutKind, HoleAction, StepItem, TubeEnd};
use crate::resolve::Resolved;
use crate::source::Span;
use crate::units::{PartNumber, StepId};
use std::collections::{BTreeMap, BTreeSet};

pub const RULE: Rule = Rule {
    id: "made-twice",
    level: Level::Error,
    summary: "the same cut or hole made twice",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("made_twice.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut made: BTreeMap<(&PartNumber, String), Vec<(&StepId, Span)>> = BTreeMap::new();
    for s in &r.steps {
        let id = &s.step.id.value;
        // A mitre or saddle that does not say its end is another finding.
        let told = |c: &&StepItem<Cut>| c.end.is_some() || c.kind == CutKind::Square;
        let cuts = s.step.cuts.iter().filter(told).map(|c| (&c.part, c.end, ["end A", "end B"]));
        let flats = s.step.flattened.iter().map(|f| (&f.part, f.end, ["the flat at end A", "the flat at end B"]));
        for (part, end, [a, b]) in cuts.chain(flats) {
            let ends = match end.map(|e| e.value) {
                Some(TubeEnd::A) => vec![a],
                Some(TubeEnd::B) => vec![b],
                Some(TubeEnd::Both) | None => vec![a, b],
            };
            for end in ends {
                made.entry((&part.value, end.to_owned())).or_default().push((id, part.span));
            }
        }
        let mut drilled_from: BTreeSet<(&PartNumber, &str, &PartNumber)> = BTreeSet::new();
        for hole in &s.step.holes {
            let Some(name) = &hole.hole else { continue };
            let what = match (hole.action, &hole.drill) {
                (HoleAction::Drill | HoleAction::MatchDrill, _) => format!("hole {}", name.value),
                // In two goes a hole is opened up twice.
                (HoleAction::OpenUp, Some(drill)) => {
                    format!("the opening up of hole {} to {}", name.value, drill.value)
                }
                (HoleAction::OpenUp, None) => format!("the opening up of hole {}", name.value),
                (HoleAction::Ream | HoleAction::Deburr | HoleAction::Prime, _) => continue,
            };
            let places = made.entry((&hole.part.value, what)).or_default();
            // Some from one part that lies over them, some from another.
            let from_another = hole
                .from
                .as_ref()
                .is_some_and(|from| drilled_from.insert((&hole.part.value, &name.value, &from.value)));
            if from_another && places.last().is_some_and(|(step, _)| *step == id) {
                continue;
            }
            places.push((id, name.span));
        }
    }
    let mut sink = Sink::new();
    for ((part, what), places) in made {
        let there = r.ledger.parts.get(part).map_or(1, |a| a.listed.max(1)) as usize;
        let held_back = !ctx.manual.parts.contains_key(part) || ctx.balance.misfit(&r.name, part).is_some();
        let Some((step, span)) = places.get(there).filter(|_| !held_back) else { continue };
        let count = if there == 1 { "one piece".to_owned() } else { format!("{there} pieces") };
        let d = RULE
            .found(format!("{what} of {part} is made {} times for {count}", places.len()))
            .at(*span, "once more here")
            .help("take one of them out, or give the hole or the end its own name")
            .about(part)
            .about(step);
        let others = places.iter().filter(|(_, s)| s != span).take(MOST_NOTES);
        sink.push(others.fold(d, |d, (step, span)| d.note(*span, format!("made in step `{step}`"))));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    /// Some of the holes lie under the bracket, some under another part.
    #[test]
    fn holes_of_one_name_come_from_several_parts() {
        let row = "{ part: KW-101, hole: left, count: 2, do: match-drill, from: KW-103-L, drill: 1/4, for: AN4-10A }";
        let two = |other: &str| {
            let half = row.replace("count: 2", "count: 1");
            let case = sound().edit(
                "steps/frame/20-left.md",
                row,
                &format!("{half}\n  - {}", half.replace("KW-103-L", other)),
            );
            case.findings().into_iter().filter(|f| f.starts_with("made-twice")).count()
        };
        assert_eq!((two("KW-102"), two("KW-103-L")), (0, 1));
    }

    #[test]
    fn one_end_is_cut_once() {
        assert_eq!(
            sound()
                .edit(
                    "steps/finish/10-cross.md",
                    "tools: [saw]",
                    "tools: [saw]\ncuts:\n  - { part: KW-101, end: both, cut: square }"
                )
                .findings(),
            ["made-twice steps/finish/10-cross.md `KW-101`"]
        );
        assert_eq!(
            sound()
                .edit(
                    "steps/finish/10-cross.md",
                    "tools: [saw]",
                    "tools: [saw]\ncuts:\n  - { part: KW-101, end: B, cut: square }"
                )
                .findings(),
            [""; 0]
        );
        assert_eq!(
            sound().edit("steps/frame/21-right.md", "hole: right", "hole: left").findings(),
            ["made-twice steps/frame/21-right.md `left`"]
        );
    }
}
