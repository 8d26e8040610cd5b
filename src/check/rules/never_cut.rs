//! A part that is supplied longer than it is to be, and that no step cuts.
//!
//! It matters because the builder fits it too long, or the step that cuts it was lost.
//!
//! A part that is cut into pieces, made into a cable or flattened at its ends is not meant.
//!
//! Wrong: `blank 42 in` for a cut length of 40, and no step with a cut. Right: the cut in the step that takes it, or `cut`
//! in the column as supplied.
//!
//! To accept: `accept: [{ rule: never-cut, about: KW-101, reason: ... }]` in manual.yaml.

use std::collections::BTreeSet;

use crate::check::fastened::words;
use crate::check::names::Kind;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::resolve::Resolved;
use crate::units::PartNumber;

pub const RULE: Rule = Rule {
    id: "never-cut",
    level: Level::Error,
    summary: "a part supplied longer than it is to be, and cut by no step",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("never_cut.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    let mut found: BTreeSet<&PartNumber> = BTreeSet::new();
    for (number, part) in &ctx.manual.parts {
        let (Some(blank), Some(length)) = (part.blank_length, part.cut_length) else { continue };
        let taken = r.ledger.parts.get(number).is_some_and(|a| a.listed > 0 && !a.steps.is_empty());
        let supplied = &part.supplied;
        let done = supplied.cut || supplied.finished || supplied.assembled || part.cut_from.is_some();
        // A number that does not exist may be the one of the part that is cut.
        let misspelt = ctx.names.unknown(Kind::Part).next().is_some();
        let held_back = misspelt || ctx.excuses.steps_unread || ctx.excuses.parts.contains(number);
        if blank.value <= length.value || !taken || done || held_back || worked(r, number) {
            continue;
        }
        // The step for both hands that cuts neither is one cause.
        found.insert(number);
        if part.opposite.as_ref().is_some_and(|o| found.contains(&o.value)) {
            continue;
        }
        sink.push(
            RULE.found(format!(
                "{number} comes {} too long, and no step cuts it",
                words(ctx, blank.value - length.value)
            ))
            .at(blank.span, format!("{} for a cut length of {}", words(ctx, blank.value), words(ctx, length.value)))
            .note(length.span, "the cut length")
            .help("add the cut to the step that takes the part, or correct one of the two lengths")
            .about(number),
        );
    }
    sink
}

/// Whether a step does something that gives the part its length.
fn worked(r: &Resolved, number: &PartNumber) -> bool {
    r.steps.iter().map(|s| &s.step).any(|step| {
        step.cuts.iter().any(|c| c.part.value == *number)
            || step.flattened.iter().any(|f| f.part.value == *number)
            || step.cables.iter().any(|c| c.part.as_ref().is_some_and(|p| p.value == *number))
            || step.parts.iter().any(|p| p.part.value == *number && !p.becomes.is_empty())
    })
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn what_is_too_long_is_cut() {
        let step = "steps/frame/10-keel.md";
        let cut = "  - { part: KW-101, end: A, cut: mitre, angle: 22.5, length: 40, trim: 2, long-point: 12 }\n";
        let without = || sound().edit(step, &format!("cuts:\n{cut}"), "");
        assert_eq!(without().findings(), ["never-cut parts.csv `42`"]);
        assert_eq!(without().edit("parts.csv", "40,42,uncut", "40,40,uncut").findings(), [""; 0]);
        assert_eq!(without().edit("parts.csv", "40,42,uncut", "40,42,cut").findings(), [""; 0]);
    }
}
