//! An inspection of something that no step closes, while a step closes something of nearly the same name that nobody
//! inspects; and something that is closed and inspected nowhere.
//!
//! It matters because the name is most likely spelt in two ways, or the inspection was lost, and then nothing watches that one
//! comes first. An inspection of something that is never closed is no error.
//!
//! Wrong: `inspect: keel-box` and `closes: [keelbox]`. Right: the same name in both.
//!
//! To accept: `accept: [{ rule: never-closed, about: keel-box, reason: ... }]` in the step's file.

use std::collections::BTreeSet;

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink, did_you_mean};
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "never-closed",
    level: Level::Hint,
    summary: "something closed and not inspected, or an inspection whose name nearly agrees",
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
    let mut sink: Sink = inspects
        .filter(|(_, i)| !closed.contains(&i.what.as_str()))
        .filter_map(|(s, i)| {
            let what = &i.what.value;
            // Names that differ in more than a letter may be two things.
            let one_letter = |c: &&str| strsim::damerau_levenshtein(what.as_str(), c) <= 1;
            let near = closed.iter().copied().filter(|c| !inspected.contains(c)).find(one_letter)?;
            let d = RULE
                .found(format!("`{what}` is inspected and never closed, and `{near}` is closed and never inspected"))
                .at(i.what.span, "no step closes this")
                .help(did_you_mean(near))
                .about(what)
                .about(&s.step.id.value);
            Some(d)
        })
        .collect();
    // One of nearly the same name was found above.
    if !sink.is_empty() {
        return sink;
    }
    for s in &r.steps {
        for closed in s.step.closes.iter().filter(|c| !inspected.contains(c.value.as_str())) {
            sink.push(
                RULE.found(format!("`{}` is closed, and no step inspects it", closed.value.value))
                    .at(closed.value.span, "closed here")
                    .help("write `inspect:` with what to look for in this step or an earlier one")
                    .about(&closed.value.value)
                    .about(&s.step.id.value),
            );
        }
    }
    sink
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

    #[test]
    fn what_is_closed_is_inspected() {
        let close = "steps/finish/30-close.md";
        let lost = sound().edit(close, "inspect:\n  - { inspect: frame-box, look-for: No tools left inside }\n", "");
        assert_eq!(lost.findings(), [format!("never-closed {close} `frame-box`")]);
    }
}
