//! A figure whose callouts go from 1 upward and leave a number out.
//!
//! It matters because whoever looks for number 3 in the picture does not find it, and the text may speak of it.
//!
//! It looks at all callouts that are written for a figure, under whatever condition.
//!
//! Wrong: callouts 1, 2 and 4. Right: 1, 2 and 3.
//!
//! To accept: `accept: [{ rule: callout-left-out, about: figure.svg, reason: ... }]` in the step's file.

use std::collections::BTreeSet;

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "callout-left-out",
    level: Level::Warning,
    summary: "a figure whose callouts leave a number out",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("callout_left_out.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in ctx.manual.written_steps() {
        for figure in &step.figures {
            let numbers: BTreeSet<i64> = figure.callouts.iter().map(|c| c.number.value).collect();
            let missing = (1..).find(|n| !numbers.contains(n)).filter(|n| numbers.last().is_some_and(|last| last > n));
            let Some(missing) = missing else { continue };
            let Some(next) = figure.callouts.iter().find(|c| c.number.value > missing) else { continue };
            sink.push(
                RULE.found(format!("{} has no callout {missing}", figure.figure.value))
                    .at(next.number.span, format!("{missing} is left out before this one"))
                    .help("number the callouts 1, 2, 3, or add the one that is missing")
                    .about(&figure.figure.value)
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
    fn numbers_follow_one_another() {
        let step = "steps/frame/20-left.md";
        assert_eq!(sound().findings(), [""; 0]);
        assert_eq!(
            sound().edit(step, "callout: 2", "callout: 20").findings(),
            [format!("callout-left-out {step} `20`")]
        );
    }
}
