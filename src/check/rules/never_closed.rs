//! An inspection of something that no step of the configuration closes.
//!
//! It matters little where nothing is ever closed; but often the name in `closes` is spelt in another way, and then
//! nothing watches the order of the two.
//!
//! Wrong: `inspect: keel-box` and `closes: [keelbox]`. Right: the same name in both.
//!
//! To accept: `accept: [{ rule: never-closed, about: keel-box, reason: ... }]` in the step's file.

use crate::check::{Bending, Context, Rule, Run};
use crate::diag::nearest;
use crate::diag::{Level, Sink};
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "never-closed",
    level: Level::Hint,
    summary: "an inspection of something that no step closes",
    source: "common practice",
    bending: Bending::Allowed,
    file: include_str!("never_closed.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let closed: Vec<&str> = r.steps.iter().flat_map(|s| &s.step.closes).map(|c| c.value.as_str()).collect();
    let inspects = r.steps.iter().flat_map(|s| s.step.inspects.iter().map(move |i| (s, i)));
    if ctx.excuses.steps_unread {
        return Sink::new();
    }
    inspects
        .filter(|(_, i)| !closed.contains(&i.what.as_str()))
        .map(|(s, i)| {
            let what = &i.what.value;
            let help = match nearest(what.as_str(), closed.iter().copied()) {
                Some(near) => format!("a step closes `{near}`; write the same name in both, if it is the same thing"),
                None => "write `closes:` in the step that closes it".to_owned(),
            };
            RULE.found(format!("`{what}` is inspected and never closed"))
                .at(i.what.span, "no step closes this")
                .help(help)
                .about(what)
                .about(&s.step.id.value)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn names_agree() {
        assert_eq!(sound().edit("steps/finish/30-close.md", "closes: [frame-box]", "closes: [frame-bax]").findings(), ["never-closed steps/finish/30-close.md `frame-box`"]);
    }
}
