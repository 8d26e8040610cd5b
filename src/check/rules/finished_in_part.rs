//! A part of which steps finish fewer pieces than they remove, or where none is removed, than they take.
//!
//! It matters because the pieces that nobody paints rust, and nobody sees it in a list of many.
//!
//! Wrong: two plates removed and refitted, `do: finish` of one. Right: both finished.
//!
//! To accept: `accept: [{ rule: finished-in-part, about: KW-104, reason: ... }]` in the step's file.

use std::collections::BTreeMap;

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::PartAction;
use crate::resolve::Resolved;
use crate::source::Span;
use crate::units::{PartNumber, StepId};

pub const RULE: Rule = Rule {
    id: "finished-in-part",
    level: Level::Warning,
    summary: "a part of which some pieces are finished and others not",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("finished_in_part.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut finished: BTreeMap<&PartNumber, (i64, &StepId, Span)> = BTreeMap::new();
    let mut removed: BTreeMap<&PartNumber, i64> = BTreeMap::new();
    for (s, item) in r.steps.iter().flat_map(|s| s.step.parts.iter().map(move |p| (s, p))) {
        match item.action {
            PartAction::Finish => {
                let entry = finished.entry(&item.part.value).or_insert((0, &s.step.id.value, item.quantity_span));
                entry.0 += item.quantity;
            }
            PartAction::Remove => *removed.entry(&item.part.value).or_default() += item.quantity,
            _ => {}
        }
    }
    let mut sink = Sink::new();
    for (part, (count, step, span)) in finished {
        // What was taken off is to be finished; of a part that nobody takes off, all of it.
        let taken = removed.get(part).copied().unwrap_or_else(|| r.ledger.parts.get(part).map_or(0, |a| a.taken()));
        if count >= taken || ctx.excuses.steps_unread || ctx.in_doubt(r, part) {
            continue;
        }
        sink.push(
            RULE.found(format!("{count} of {taken} {part} are finished"))
                .at(span, format!("{} stay bare", taken - count))
                .help("finish all of them, or correct the number of the part where another was meant")
                .about(part)
                .about(step),
        );
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn all_or_none_are_finished() {
        assert_eq!(
            sound().edit("steps/frame/40-paint.md", "quantity: 2, do: finish", "quantity: 1, do: finish").findings(),
            ["finished-in-part steps/frame/40-paint.md `1`"]
        );
    }
}
