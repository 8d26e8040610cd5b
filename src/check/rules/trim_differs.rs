//! Trim allowances of a part that together are not what its blank is longer than the finished part.
//!
//! It matters because one of them is wrong: an allowance is, or the blank, or the cut at one end is missing.
//!
//! Wrong: a blank of 42 in for a cut length of 40, and one cut with `trim: 1`. Right: `trim: 2`, or 1 at each end.
//!
//! To accept: `accept: [{ rule: trim-differs, about: KW-101, reason: ... }]` in the step's file.

use crate::check::fastened::words;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::{By, Cut, StepItem, TubeEnd};
use crate::resolve::Resolved;
use crate::units::{Length, StepId};

pub const RULE: Rule = Rule {
    id: "trim-differs",
    level: Level::Warning,
    summary: "trim allowances that are not what the blank is longer",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("trim_differs.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for (number, part) in &ctx.manual.parts {
        let (Some(blank), Some(length)) = (part.blank_length, part.cut_length) else { continue };
        let all = r.steps.iter().flat_map(|s| s.step.cuts.iter().map(|c| (&s.step.id.value, c)));
        let cuts: Vec<(&StepId, &StepItem<Cut>)> =
            all.filter(|(_, c)| c.part.value == *number && c.by == By::Builder).collect();
        let trims =
            || cuts.iter().filter_map(|(_, c)| Some((c.trim?.value, c.end.is_some_and(|e| e.value == TubeEnd::Both))));
        let sum = trims().fold(Length::ZERO, |sum, (trim, _)| sum + trim);
        // Of a cut at both ends it is not said whether the allowance is for one or for the two together.
        let each = trims().fold(Length::ZERO, |sum, (trim, both)| sum + trim + if both { trim } else { Length::ZERO });
        let Some((step, trim)) = cuts.iter().find_map(|(step, c)| Some((*step, c.trim?))) else { continue };
        // A part that is longer than its blank, a blank longer than the bar, or two lengths for one part are other findings.
        let bar = part.stock.as_ref().and_then(|s| ctx.manual.stock.get(&s.value)?.bar_length);
        let told = cuts.iter().any(|(_, c)| c.length.is_some_and(|l| l.value != length.value))
            || length.value > blank.value
            || cuts.iter().any(|(_, c)| c.trim.is_some_and(|t| length.value + t.value > blank.value))
            || bar.is_some_and(|bar| blank.value > bar.value);
        let more = blank.value - length.value;
        if sum == more || each == more || told || ctx.excuses.steps_unread || ctx.excuses.parts.contains(number) {
            continue;
        }
        sink.push(
            RULE.found(format!(
                "the blank of {number} is {} too long, and its cuts take off {}",
                words(ctx, more),
                words(ctx, sum)
            ))
            .at(trim.span, "with the other cuts of the part not what the blank is longer")
            .note(
                blank.span,
                format!("the blank, {}, for a cut length of {}", words(ctx, blank.value), words(ctx, length.value)),
            )
            .help("correct an allowance or the blank, or add the cut of the other end")
            .about(number)
            .about(step),
        );
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn trims_make_up_the_blank() {
        let step = "steps/frame/10-keel.md";
        assert_eq!(sound().edit(step, "trim: 2,", "trim: 1,").findings(), ["trim-differs steps/frame/10-keel.md `1`"]);
        assert_eq!(
            sound()
                .edit(step, "trim: 2,", "trim: 1,")
                .edit(step, "tools: [saw]", "  - { part: KW-101, end: B, cut: square, trim: 1 }\ntools: [saw]")
                .findings(),
            [""; 0]
        );
        assert_eq!(sound().edit(step, "trim: 2, ", "").findings(), [""; 0]);
    }
}
