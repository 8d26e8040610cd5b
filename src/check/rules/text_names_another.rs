//! A link in the text, or a callout, to hardware or a part that its step does not have, while the step has one that is
//! easily taken for it: hardware of the same kind, the part of the other hand, a part of the same name.
//!
//! It matters because the builder reads the sentence with the bolt in hand, and takes what the sentence says.
//!
//! Wrong: a step with `fastener: AN4-16A`, and `[](hardware:AN4-17A)` in its text. Right: the designation of the joint in
//! both.
//!
//! To accept: `accept: [{ rule: text-names-another, about: AN4-17A, reason: ... }]` in the step's file.

use std::collections::BTreeSet;

use crate::check::{Context, Leave, Rule, Run, prose};
use crate::diag::{Diagnostic, Level, Sink, did_you_mean_or};
use crate::model::{CalloutTarget, HardwareKind};
use crate::resolve::{Resolved, ResolvedStep};
use crate::source::Span;
use crate::units::{Designation, PartNumber};

pub const RULE: Rule = Rule {
    id: "text-names-another",
    level: Level::Warning,
    summary: "a link or callout to a part or hardware that its step does not have, while it has one like it",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("text_names_another.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for s in r.steps.iter().filter(|s| !ctx.excuses.steps.contains(&s.step.id.value)) {
        let (parts, hardware) = (parts(s), hardware(s));
        let mut found = |d: Option<Diagnostic>| sink.extend(d.map(|d| d.about(&s.step.id.value)));
        for to in prose::links(&s.step.body) {
            match prose::reference(to) {
                Some(("part", name, span)) => found(part(ctx, s, &parts, &PartNumber::new(name), span)),
                Some(("hardware", name, span)) => found(item(ctx, &hardware, &Designation::new(name), span)),
                _ => {}
            }
        }
        for callout in s.step.figures.iter().flat_map(|f| &f.callouts) {
            match &callout.target {
                CalloutTarget::Part(name) => found(part(ctx, s, &parts, &name.value, name.span)),
                CalloutTarget::Hardware(name) => found(item(ctx, &hardware, &name.value, name.span)),
                CalloutTarget::Assembly(_) | CalloutTarget::Text(_) => {}
            }
        }
    }
    sink
}

/// All parts that a step's front matter names, figures left out.
fn parts(s: &ResolvedStep) -> BTreeSet<&PartNumber> {
    let step = &s.step;
    let taken = step.parts.iter().flat_map(|p| std::iter::once(&p.part).chain(p.becomes.iter().map(|b| &b.0)));
    let clamped = step.joints.iter().flat_map(|j| &j.stack).map(|m| &m.part);
    let cut = step.cuts.iter().flat_map(|c| std::iter::once(&c.part).chain(&c.onto));
    let bent = step.bends.iter().map(|b| &b.part).chain(step.flattened.iter().map(|f| &f.part));
    let drilled = step.holes.iter().flat_map(|h| std::iter::once(&h.part).chain(&h.from));
    let cables = step.cables.iter().filter_map(|c| c.part.as_ref());
    taken.chain(clamped).chain(cut).chain(bent).chain(drilled).chain(cables).map(|p| &p.value).collect()
}

fn hardware(s: &ResolvedStep) -> BTreeSet<&Designation> {
    let holes = s.step.holes.iter().filter_map(|h| h.for_.as_ref()).map(|f| &f.value);
    let cables =
        s.step.cables.iter().flat_map(|c| c.ends()).flatten().flat_map(|e| e.hardware()).map(|(d, _)| &d.value);
    s.hardware.iter().map(|n| &n.designation).chain(holes).chain(cables).collect()
}

fn part(
    ctx: &Context,
    s: &ResolvedStep,
    here: &BTreeSet<&PartNumber>,
    name: &PartNumber,
    span: Span,
) -> Option<Diagnostic> {
    let named = ctx.manual.parts.get(name)?;
    if here.contains(name) || ctx.excuses.parts.contains(name) {
        return None;
    }
    // A step of no hand may speak of the other side.
    let opposite = named.opposite.as_ref().map(|o| &o.value);
    let other_hand = opposite.filter(|o| here.contains(o) && s.step.hand.is_some());
    let alike = |p: &PartNumber| ctx.manual.parts.get(p).is_some_and(|p| !p.name.is_empty() && p.name == named.name);
    let namesake = || here.iter().copied().find(|p| Some(*p) != opposite && alike(p));
    let other = other_hand.or_else(namesake)?;
    Some(finding(name, other, span))
}

fn item(ctx: &Context, here: &BTreeSet<&Designation>, name: &Designation, span: Span) -> Option<Diagnostic> {
    let kind = ctx.manual.hardware.get(name)?.kind;
    if here.contains(name) || kind == HardwareKind::Other || ctx.excuses.hardware.contains(name) {
        return None;
    }
    let alike = |d: &Designation| ctx.manual.hardware.get(d).is_some_and(|h| h.kind == kind);
    let other = here.iter().copied().find(|d| alike(d))?;
    Some(finding(name, other, span))
}

fn finding(name: &impl ToString, other: &impl ToString, span: Span) -> Diagnostic {
    let (name, other) = (name.to_string(), other.to_string());
    RULE.found(format!("{name} is named, and the step has {other}"))
        .at(span, "the step does not have it")
        .help(did_you_mean_or(&other, format_args!("add {name} to the step")))
        .about(name)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    const STEP: &str = "steps/frame/20-left.md";

    #[test]
    fn the_text_names_what_the_step_has() {
        assert_eq!(
            sound()
                .edit(STEP, "2. Fit the bolts.", "2. Fit the [](part:KW-103-L) with an [](hardware:AN4-10A).")
                .findings(),
            [""; 0]
        );
        assert_eq!(
            sound().edit(STEP, "2. Fit the bolts.", "2. Fit the [](part:KW-103-R).").findings(),
            ["text-names-another steps/frame/20-left.md `KW-103-R`"]
        );
        let bolt = || {
            sound().add("hardware.csv", "AN4-11A,Bolt,bolt,each\n").edit(
                "steps/frame/40-paint.md",
                "consumables:",
                "  - AN4-11A\nconsumables:",
            )
        };
        assert_eq!(
            bolt().edit(STEP, "2. Fit the bolts.", "2. Fit each [](hardware:AN4-11A).").findings(),
            ["text-names-another steps/frame/20-left.md `AN4-11A`"]
        );
        assert_eq!(
            bolt().edit(STEP, "at: [70, 30], hardware: AN4-10A", "at: [70, 30], hardware: AN4-11A").findings(),
            ["text-names-another steps/frame/20-left.md `AN4-11A`"]
        );
    }
}
