//! A reference in the text to a step that this configuration lacks, or to a figure that none of its steps shows.
//!
//! It matters because the reader is sent to a page that is not in the document.
//!
//! Wrong: `[](step:brake)` in a text of all variants, while the step has `only: brake`. Right: the sentence between
//! `<!-- only: brake -->` and `<!-- end only -->`.
//!
//! To accept: `accept: [{ rule: reference-not-here, about: brake, reason: ... }]` in the step's file.

use crate::check::names::Kind;
use crate::check::prose;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::resolve::Resolved;
use crate::units::StepId;
use std::collections::BTreeSet;

pub const RULE: Rule = Rule {
    id: "reference-not-here",
    level: Level::Warning,
    summary: "a reference to a step or figure that a configuration lacks",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("reference_not_here.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let steps: BTreeSet<&str> = r.steps.iter().map(|s| s.step.id.value.as_str()).collect();
    let figures: BTreeSet<&str> =
        r.steps.iter().flat_map(|s| &s.step.figures).map(|f| f.figure.value.as_str()).collect();
    let bodies = r.steps.iter().map(|s| &s.step.body).chain(r.pages.iter().map(|p| &p.body));
    let mut sink = Sink::new();
    for to in bodies.flat_map(|body| prose::links(body)) {
        let Some((scheme, name, span)) = prose::reference(to) else { continue };
        let (kind, here, what) = match scheme {
            "step" => (Kind::Step, &steps, "step"),
            "figure" => (Kind::Figure, &figures, "figure"),
            _ => continue,
        };
        let lost = kind == Kind::Step && ctx.excuses.steps.contains(&StepId::new(name));
        if here.contains(name) || !ctx.names.is_known(kind, name) || lost {
            continue;
        }
        let why = if kind == Kind::Step {
            "is not in this configuration"
        } else {
            "is shown by no step of this configuration"
        };
        sink.push(
            RULE.found(format!("the {what} `{name}` {why}"))
                .at(span, "leads nowhere here")
                .help("put the sentence between `<!-- only: ... -->` and `<!-- end only -->`, each alone on its line")
                .about(name),
        );
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn references_stay_in_the_configuration() {
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "step:left-bracket", "step:brake").findings(),
            ["reference-not-here steps/frame/10-keel.md `brake`"]
        );
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "step:left-bracket", "figure:brake.svg").findings(),
            ["reference-not-here steps/frame/10-keel.md `brake.svg`"]
        );
    }
}
