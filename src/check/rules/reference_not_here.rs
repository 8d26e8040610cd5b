//! A reference in the text to a step that this configuration lacks, or to a figure that none of its steps shows. A link or a
//! callout to a part or hardware of which this configuration has none.
//!
//! It matters because the reader is sent to a page that is not in the document, or looks for a part that is in no crate.
//!
//! Wrong: `[](step:brake)` in a text of all variants, while the step has `only: brake`. Right: the sentence between
//! `<!-- only: brake -->` and `<!-- end only -->`.
//!
//! To accept: `accept: [{ rule: reference-not-here, about: brake, reason: ... }]` in the step's file.

use crate::check::names::Kind;
use crate::check::prose;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::CalloutTarget;
use crate::resolve::Resolved;
use crate::units::{Designation, PartNumber, StepId};
use std::collections::BTreeSet;

pub const RULE: Rule = Rule {
    id: "reference-not-here",
    level: Level::Warning,
    summary: "a reference to a step, figure, part or hardware that a configuration lacks",
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
    sink.extend(things(ctx, r));
    sink
}

/// Links and callouts of steps to parts and hardware of which this configuration has none.
fn things(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for s in r.steps.iter().filter(|s| !ctx.excuses.steps.contains(&s.step.id.value)) {
        let links = prose::links(&s.step.body).into_iter().filter_map(prose::reference);
        let callouts = s.step.figures.iter().flat_map(|f| &f.callouts).filter_map(|c| match &c.target {
            CalloutTarget::Part(part) => Some(("part", part.as_str(), part.span)),
            CalloutTarget::Hardware(item) => Some(("hardware", item.as_str(), item.span)),
            CalloutTarget::Assembly(_) | CalloutTarget::Text(_) => None,
        });
        for (scheme, name, span) in links.chain(callouts) {
            let lacks = match scheme {
                "part" => lacks_part(ctx, r, &PartNumber::new(name)),
                "hardware" => lacks_hardware(ctx, r, &Designation::new(name)),
                _ => false,
            };
            if lacks {
                sink.push(
                    RULE.found(format!("{name} is named, and this configuration has none"))
                        .at(span, "in no crate here")
                        .help("name what stands in its place here, or say with a condition where the words hold")
                        .about(name)
                        .about(&s.step.id.value),
                );
            }
        }
    }
    sink
}

/// Whether a configuration has none of a part while another has.
pub(super) fn lacks_part(ctx: &Context, r: &Resolved, part: &PartNumber) -> bool {
    let has = |r: &Resolved| r.ledger.parts.get(part).is_some_and(|a| a.listed != 0 || !a.pulled.is_empty());
    ctx.manual.parts.contains_key(part) && !has(r) && ctx.resolved.iter().any(has) && !ctx.in_doubt(r, part)
}

/// Whether a configuration has none of an item while another has.
pub(super) fn lacks_hardware(ctx: &Context, r: &Resolved, item: &Designation) -> bool {
    let has = |r: &Resolved| r.ledger.hardware.contains_key(item);
    ctx.manual.hardware.contains_key(item)
        && !has(r)
        && ctx.resolved.iter().any(has)
        && !ctx.excuses.hardware.contains(item)
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

    #[test]
    fn parts_are_named_where_they_are() {
        let only_brake = "reference-not-here steps/finish/30-close.md `KW-300`";
        let close = || sound().edit("steps/finish/30-close.md", "1. Close the frame.", "1. See the [](part:KW-300).");
        assert_eq!(close().findings(), [only_brake]);
        let told = close()
            .edit("steps/finish/30-close.md", "1. See", "<!-- only: brake -->\n1. See")
            .add("steps/finish/30-close.md", "<!-- end only -->\n\nClose the frame.\n");
        assert_eq!(told.findings(), [""; 0]);
    }
}
