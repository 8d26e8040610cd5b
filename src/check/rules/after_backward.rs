//! An `after` that names a step of a later section.
//!
//! It matters because sections are done one after another: the step would wait for something that comes after it.
//!
//! Wrong: a step of the section frame with `after: [paint]`, where paint is a step of the section finish. Right: the
//! step in the later section, or no such `after`.
//!
//! It can't be accepted.

use crate::check::names::Kind;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::resolve::OrderFault;
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "after-backward",
    level: Level::Error,
    summary: "an `after` that points to a later section",
    source: "sections are done one after another",
    bending: Leave::Refused,
    file: include_str!("after_backward.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for fault in &r.order_faults {
        let OrderFault::Backward { step, after, span } = fault else { continue };
        // A step of an unknown section counts as of the last; that is another finding.
        let lost = |id| ctx.step(id).is_none_or(|s| !ctx.names.is_known(Kind::Section, s.section.as_str()));
        if lost(step) || lost(after) {
            continue;
        }
        let section = ctx.step(after).map_or("", |s| s.section.as_str());
        sink.push(
            RULE.found(format!("step `{step}` waits for `{after}`, which is of the later section `{section}`"))
                .at(*span, "comes later")
                .help(format!("move this step to the section `{section}`, or take this `after` out"))
                .about(step)
                .about(after),
        );
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn sections_are_hard() {
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "after: [keel]", "after: [keel, cross]").findings(),
            ["after-backward steps/frame/20-left.md `cross`"]
        );
        assert_eq!(
            sound()
                .edit("steps/finish/10-cross.md", "section: finish\n", "section: finish\nafter: [keel]\n")
                .findings(),
            [""; 0]
        );
    }
}
