//! An inspection of something that no step closes, while a step closes something of nearly the same name that nobody
//! inspects.
//!
//! It matters because the name is most likely spelt in two ways, and then nothing watches that the inspection comes
//! first. An inspection of something that is never closed is no error.
//!
//! Wrong: `inspect: keel-box` and `closes: [keelbox]`. Right: the same name in both.
//!
//! To accept: `accept: [{ rule: never-closed, about: keel-box, reason: ... }]` in the step's file.

use std::collections::BTreeSet;

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::diag::{did_you_mean, nearest};
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "never-closed",
    level: Level::Hint,
    summary: "an inspection and a closing whose names nearly agree",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("never_closed.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let closed: Vec<&str> = r.steps.iter().flat_map(|s| &s.step.closes).map(|c| c.value.as_str()).collect();
    let inspects = r.steps.iter().flat_map(|s| s.step.inspects.iter().map(move |i| (s, i)));
    let inspected: BTreeSet<&str> =
        ctx.manual.steps.iter().flat_map(|s| &s.inspects).map(|i| i.what.as_str()).collect();
    if ctx.excuses.steps_unread {
        return Sink::new();
    }
    inspects
        .filter(|(_, i)| !closed.contains(&i.what.as_str()))
        .filter_map(|(s, i)| {
            let what = &i.what.value;
            let near = nearest(what.as_str(), closed.iter().copied().filter(|c| !inspected.contains(c)))?;
            let d = RULE
                .found(format!("`{what}` is inspected and never closed, and `{near}` is closed and never inspected"))
                .at(i.what.span, "no step closes this")
                .help(did_you_mean(near))
                .about(what)
                .about(&s.step.id.value);
            Some(d)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn names_agree() {
        assert_eq!(
            sound().edit("steps/finish/30-close.md", "closes: [frame-box]", "closes: [frame-bax]").findings(),
            ["never-closed steps/finish/30-close.md `frame-box`"]
        );
    }
}
