//! A part of the parts list that no step of any configuration takes.
//!
//! It matters because the builder finds it in the crate and does not know what it is for.
//!
//! Wrong: a row for `KW-113` and no step with it. Right: a step that takes it, or no row.
//!
//! To accept a part that ships loose: `accept: [{ rule: unused-part, about: KW-113, reason: Spare skid }]` in
//! manual.yaml.

use crate::check::MOST_NOTES;
use crate::check::names::{Kind, Use};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::units::PartNumber;

pub const RULE: Rule = Rule {
    id: "unused-part",
    level: Level::Warning,
    summary: "a part of the list that no step takes",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("unused_part.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for (number, part) in &ctx.manual.parts {
        let held_back = ctx.excuses.steps_unread || ctx.excuses.parts.contains(number) || ctx.swaps.is_meant(number);
        // One that another has taken the place of stays in the list for kits that were shipped with it.
        if held_back || part.replaced_by.is_some() || !is_unused(ctx, number) {
            continue;
        }
        let what = if part.cut_from.is_some() { "no step cuts or takes" } else { "no step takes" };
        let d = RULE
            .found(format!("{what} {number}"))
            .at(part.number.span, "used nowhere")
            .help("add it to the `parts` of the step that uses it, or delete the row")
            .about(number);
        let places = ctx.names.mentions(Kind::Part, number.as_str()).iter().filter(|m| m.step.is_some());
        sink.push(places.take(MOST_NOTES).fold(d, |d, m| d.note(m.span, format!("not taken, but {}", m.how.note()))));
    }
    sink
}

/// Whether a part stands in the `parts` of no step, as a part or as a piece.
pub fn is_unused(ctx: &Context, number: &PartNumber) -> bool {
    !ctx.names
        .mentions(Kind::Part, number.as_str())
        .iter()
        .any(|m| matches!(m.how, Use::Taken | Use::CutOut) || m.how.replaces())
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_row_without_a_step() {
        assert_eq!(
            sound()
                .edit("steps/frame/10-keel.md", "  - KW-105\n", "")
                .edit("steps/finish/20-brake.md", "  - { part: KW-105, do: use }\n", "")
                .findings(),
            ["unused-part parts.csv `KW-105`"]
        );
        assert_eq!(
            sound().add("parts.csv", "KW-900,Spare,,,,,,,1,,,\n").findings(),
            ["unused-part parts.csv `KW-900`"]
        );
        assert_eq!(
            sound()
                .add("parts.csv", "KW-900,Spare,,,,,,,1,,,\n")
                .add("manual.yaml", "accept:\n  - { rule: unused-part, about: KW-900, reason: ships loose }\n")
                .findings(),
            [""; 0]
        );
    }
}
