//! A step that closes something while a later step inspects it, or while this configuration inspects it nowhere
//! though another one does.
//!
//! It matters because what is inside can't be seen again without drilling out rivets.
//!
//! Wrong: `closes: [keel-box]` in one step, `inspect: keel-box` in the next. Right: the inspection in an earlier
//! step, or in the step that closes.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::resolve::Resolved;
use crate::source::Span;
use crate::units::AssemblyId;
use std::collections::BTreeMap;

pub const RULE: Rule = Rule {
    id: "closed-before-inspection",
    level: Level::Error,
    summary: "something closed before its inspection",
    source: "common practice: what can't be seen later is inspected before",
    bending: Leave::Refused,
    file: include_str!("closed_before_inspection.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut first: BTreeMap<&AssemblyId, (usize, Span)> = BTreeMap::new();
    for (i, s) in r.steps.iter().enumerate() {
        for inspect in &s.step.inspects {
            first.entry(&inspect.what.value).or_insert((i, inspect.what.span));
        }
    }
    let elsewhere: BTreeMap<&AssemblyId, Span> =
        ctx.manual.steps.iter().flat_map(|s| &s.inspects).map(|i| (&i.what.value, i.what.span)).collect();
    let mut sink = Sink::new();
    for (i, s) in r.steps.iter().enumerate() {
        for closed in &s.step.closes {
            let what = &closed.value.value;
            let id = &s.step.id.value;
            if ctx.excuses.steps.contains(id) || ctx.excuses.steps_unread {
                continue;
            }
            let d = match (first.get(what), elsewhere.get(what)) {
                (Some((j, span)), _) if *j > i => RULE
                    .found(format!(
                        "step `{id}` closes `{what}` before step `{}` inspects it",
                        r.steps[*j].step.id.value
                    ))
                    .at(closed.value.span, "closed here")
                    .note(*span, "inspected later")
                    .help("put the inspection into this step or an earlier one"),
                (None, Some(span)) => RULE
                    .found(format!("step `{id}` closes `{what}`, which this configuration does not inspect"))
                    .at(closed.value.span, "closed here")
                    .note(*span, "inspected in other configurations only")
                    .help("let the inspection apply here too"),
                _ => continue,
            };
            sink.push(d.about(what).about(id));
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn an_inspection_comes_first() {
        assert_eq!(
            sound().edit("steps/finish/10-cross.md", "tools: [saw]", "tools: [saw]\ncloses: [frame-box]").findings(),
            ["closed-before-inspection steps/finish/10-cross.md `frame-box`"]
        );
        assert_eq!(
            sound()
                .edit(
                    "steps/finish/30-close.md",
                    "look-for: No tools left inside",
                    "look-for: No tools left inside, only: LONG"
                )
                .findings(),
            ["closed-before-inspection steps/finish/30-close.md `frame-box`"]
        );
    }
}
