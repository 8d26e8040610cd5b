//! A link or a callout to hardware or a part that its step does not have, or its number in plain words (in a sentence, a
//! title, a caption, an alternative text), while the step has one that is easily taken for it: hardware of the same kind, the
//! part of the other hand, a part of the same name.
//!
//! It matters because the builder reads the sentence with the bolt in hand, and takes what the sentence says.
//!
//! Wrong: a step with `fastener: AN4-16A`, and `[](hardware:AN4-17A)` in its text. Right: the designation of the joint in
//! both.
//!
//! To accept: `accept: [{ rule: text-names-another, about: AN4-17A, reason: ... }]` in the step's file.

use std::collections::BTreeSet;

use super::reference_not_here::{lacks_hardware, lacks_part};
use crate::check::{Context, Leave, Rule, Run, prose};
use crate::diag::{Diagnostic, Level, Sink, did_you_mean_or};
use crate::model::{CalloutTarget, HardwareKind, Step};
use crate::resolve::{Resolved, ResolvedStep};
use crate::source::Span;
use crate::syntax::markdown::MdInlineKind;
use crate::units::{Designation, PartNumber};

pub const RULE: Rule = Rule {
    id: "text-names-another",
    level: Level::Warning,
    summary: "a part or hardware named in a step that does not have it, while it has one like it",
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
                Some(("part", name, span)) => found(part(ctx, r, s, &parts, &PartNumber::new(name), span)),
                Some(("hardware", name, span)) => found(item(ctx, r, &hardware, &Designation::new(name), span)),
                _ => {}
            }
        }
        for (words, span) in plain_words(&s.step) {
            let names = words.split(|c: char| !c.is_alphanumeric() && !"-/.".contains(c)).map(|w| w.trim_matches('.'));
            // A number has a digit: most words are not looked up.
            for name in names.filter(|name| name.contains(|c: char| c.is_ascii_digit())) {
                found(part(ctx, r, s, &parts, &PartNumber::new(name), span));
                found(item(ctx, r, &hardware, &Designation::new(name), span));
            }
        }
        for callout in s.step.figures.iter().flat_map(|f| &f.callouts) {
            match &callout.target {
                CalloutTarget::Part(name) => found(part(ctx, r, s, &parts, &name.value, name.span)),
                CalloutTarget::Hardware(name) => found(item(ctx, r, &hardware, &name.value, name.span)),
                CalloutTarget::Assembly(_) | CalloutTarget::Text(_) => {}
            }
        }
    }
    sink
}

/// What is said in plain words, with its place: title, sentences, captions, alternative texts, safety messages, what is
/// looked for.
fn plain_words(step: &Step) -> Vec<(&str, Span)> {
    let mut words = vec![(step.title.as_str(), step.title.span)];
    prose::inlines(&step.body, &mut |inline| {
        if let MdInlineKind::Text(text) = &inline.kind {
            words.push((text, inline.span));
        }
    });
    words.extend(step.safety.iter().map(|s| (s.text.value.as_str(), s.text.span)));
    for figure in &step.figures {
        words.extend(figure.alt.iter().map(|alt| (alt.value.as_str(), alt.span)));
        words.extend(figure.caption.iter().map(|caption| (caption.as_str(), figure.figure.span)));
    }
    words.extend(step.inspects.iter().map(|i| (i.look_for.as_str(), i.what.span)));
    words
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
    r: &Resolved,
    s: &ResolvedStep,
    here: &BTreeSet<&PartNumber>,
    name: &PartNumber,
    span: Span,
) -> Option<Diagnostic> {
    let named = ctx.manual.parts.get(name)?;
    if here.contains(name) || ctx.excuses.parts.contains(name) || lacks_part(ctx, r, name) {
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

fn item(
    ctx: &Context,
    r: &Resolved,
    here: &BTreeSet<&Designation>,
    name: &Designation,
    span: Span,
) -> Option<Diagnostic> {
    let kind = ctx.manual.hardware.get(name)?.kind;
    let elsewhere = ctx.excuses.hardware.contains(name) || lacks_hardware(ctx, r, name);
    if here.contains(name) || kind == HardwareKind::Other || elsewhere {
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
            sound().edit(STEP, "2. Fit the bolts.", "2. Fit the bolts of the [](part:KW-103-R).").findings(),
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

    #[test]
    fn plain_words_name_what_the_step_has() {
        let alt = sound().edit(STEP, "alt: The bracket on the keel", "alt: Bracket KW-103-R on the keel");
        assert_eq!(alt.findings(), ["text-names-another steps/frame/20-left.md `Bracket KW-103-R on the keel`"]);
        let own = sound().edit(STEP, "2. Fit the bolts.", "2. Fit the bolts of the bracket (KW-103-L).");
        assert_eq!(own.findings(), [""; 0]);
    }
}
