//! A step without text, parts, hardware, cuts, holes, measures or inspections in some configuration.
//!
//! It matters because the builder turns to an empty page and wonders what is missing.
//!
//! Wrong: a step whose whole text stands under `<!-- only: LONG -->`, in BASE. Right: `only: LONG` on the step.
//!
//! To accept: `accept: [{ rule: nothing-to-do, about: step-id, reason: ... }]` in the step's file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "nothing-to-do",
    level: Level::Warning,
    summary: "a step in which there is nothing to do",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("nothing_to_do.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let empty = r.steps.iter().filter(|s| {
        let s = &s.step;
        s.body.is_empty()
            && s.parts.is_empty()
            && s.assemblies.is_empty()
            && s.hardware.is_empty()
            && s.joints.is_empty()
            && s.cuts.is_empty()
            && s.bends.is_empty()
            && s.flattened.is_empty()
            && s.cables.is_empty()
            && s.holes.is_empty()
            && s.offsets.is_empty()
            && s.measures.is_empty()
            && s.inspects.is_empty()
    });
    let at_all = |id| ctx.step(id).is_some_and(|s| s.body.is_empty());
    empty
        .map(|s| {
            let id = &s.step.id.value;
            let help = if at_all(id) {
                "write what is to be done"
            } else {
                "write what is to be done, or give the step an `only`"
            };
            RULE.found(format!("there is nothing to do in step `{id}`"))
                .at(s.step.title.span, "an empty step")
                .help(help)
                .about(id)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_step_must_say_something() {
        assert_eq!(
            sound().add("steps/finish/90-end.md", "---\nstep: end\ntitle: The end\nsection: finish\n---\n").findings(),
            ["nothing-to-do steps/finish/90-end.md `The end`"]
        );
        assert_eq!(sound().add("steps/finish/90-end.md", "---\nstep: end\ntitle: The end\nsection: finish\n---\n\n<!-- only: LONG -->\n1. Look.\n<!-- end only -->\n").findings(), ["nothing-to-do steps/finish/90-end.md `The end`"]);
        assert_eq!(
            sound()
                .add("steps/finish/90-end.md", "---\nstep: end\ntitle: The end\nsection: finish\n---\n\n1. Look.\n")
                .findings(),
            [""; 0]
        );
    }
}
