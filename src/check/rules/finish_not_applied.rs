//! A part for which the parts list names a finish, which does not come with it, and which no step applies.
//!
//! It matters because a part that stays bare rusts or rots, and the list says that it does not.
//!
//! Wrong: `primer and paint` in the column `finish` of a part that comes cut, and no step with `do: finish`. Right: a step that
//! paints it, or `finished` under `as supplied`.
//!
//! To accept: `accept: [{ rule: finish-not-applied, about: KW-105, reason: ... }]` in manual.yaml.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::{FinishFault, finish_faults};
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "finish-not-applied",
    level: Level::Warning,
    summary: "a finish that is listed and that nobody applies",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("finish_not_applied.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for fault in finish_faults(ctx.manual, r, ctx.ledger(r)) {
        let FinishFault::NeverApplied { part } = fault else { continue };
        let Some(row) = ctx.manual.parts.get(part) else { continue };
        if ctx.excuses.steps_unread || ctx.in_doubt(r, part) {
            continue;
        }
        sink.push(
            RULE.found(format!("no step gives {part} its finish, {}", row.finish.trim()))
                .at(row.number.span, "does not come with it")
                .help(
                    "add an item with `do: finish` to the step that applies it, or say `finished` under `as supplied`",
                )
                .about(part),
        );
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{Case, sound};

    /// The rail of the sound manual comes cut. Rows that are shorter than the heading are filled, which is another finding.
    fn with_finish(rail: &str) -> Case {
        sound()
            .edit("parts.csv", "LONG,brake,cut from\n", "LONG,brake,cut from,finish\n")
            .edit("parts.csv", "cut,1,,,\n", &format!("cut,1,,,,{rail}\n"))
            .add("manual.yaml", "levels: { ragged-row: off }\n")
    }

    #[test]
    fn a_listed_finish_is_applied() {
        assert_eq!(with_finish("").findings(), [""; 0]);
        let bare = with_finish("primer and paint");
        assert_eq!(bare.findings(), ["finish-not-applied parts.csv `KW-105`"]);
        let painted = bare.edit("steps/frame/40-paint.md", "parts:\n", "parts:\n  - { part: KW-105, do: finish }\n");
        assert_eq!(painted.findings(), [""; 0]);
    }
}
