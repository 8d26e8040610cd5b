//! A sentence that says which thing is meant by its colour in a drawing ("the red cable"), where the shop copy can't
//! show that colour.
//!
//! It matters because whoever works from the shop copy finds no red cable in the figure, and takes the nearest.
//!
//! It is found where a drawing of the same step has that colour and its key in the shop copy does not name it. A
//! colour that no drawing of the step has is the thing's own: `the red lead` of a meter is red in the hand as well.
//!
//! Wrong: `Lead the red cable over the pulley.` Right: `Lead the upper cable (2) over the pulley.`
//!
//! To accept: `accept: [{ rule: leans-on-colour, about: step-id, reason: ... }]` in the step's file.

use std::collections::BTreeSet;

use crate::check::prose;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::figure::Hue;
use crate::model::{CalloutTarget, Step};
use crate::source::Span;
use crate::syntax::markdown::MdInlineKind;

pub const RULE: Rule = Rule {
    id: "leans-on-colour",
    level: Level::Warning,
    summary: "a sentence that depends on a colour that the shop copy does not show",
    source: "WCAG 2.2, 1.4.1: colour is not the only means of saying something",
    bending: Leave::Allowed,
    file: include_str!("leans_on_colour.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    if !ctx.manual.settings.is_english() {
        return sink;
    }
    let mut seen = BTreeSet::new();
    for step in &ctx.manual.steps {
        let lost = lost(ctx, step);
        if lost.is_empty() {
            continue;
        }
        for (text, span) in texts(step) {
            for (hue, place) in named(text, span, &lost) {
                if !seen.insert(place) {
                    continue;
                }
                let word = hue.word();
                let d = RULE
                    .found(format!("the text tells a thing by its colour, {word}"))
                    .at(place, "the shop copy does not show this colour")
                    .help("say it by its number in the figure, its shape or its place");
                sink.push(d.about(&step.id.value));
            }
        }
    }
    sink
}

/// The colours of a step's drawings that nothing stands for in grey.
fn lost(ctx: &Context, step: &Step) -> BTreeSet<Hue> {
    let mut lost = BTreeSet::new();
    for figure in &step.figures {
        let Some(greyed) = ctx.greyed_of(&figure.figure.value) else { continue };
        let key = if ctx.manual.settings.hatching { greyed.coloured.key() } else { Vec::new() };
        lost.extend(greyed.coloured.hues().into_iter().filter(|hue| !key.iter().any(|k| k.name == hue.word())));
    }
    lost
}

/// All that a step says, with its places.
fn texts(step: &Step) -> Vec<(&str, Span)> {
    let mut out: Vec<(&str, Span)> = step.safety.iter().map(|s| (s.text.value.as_str(), s.text.span)).collect();
    for figure in &step.figures {
        out.extend(figure.caption.iter().map(|caption| (caption.as_str(), figure.figure.span)));
        out.extend(figure.callouts.iter().filter_map(|callout| match &callout.target {
            CalloutTarget::Text(text) => Some((text.as_str(), callout.number.span)),
            _ => None,
        }));
    }
    prose::inlines(&step.body, &mut |inline| {
        if let MdInlineKind::Text(text) = &inline.kind {
            out.push((text, inline.span));
        }
    });
    out
}

/// The colours that a text names, each with its place.
fn named(text: &str, span: Span, hues: &BTreeSet<Hue>) -> Vec<(Hue, Span)> {
    let exact = (span.end - span.start) as usize == text.len();
    let words = text.split(|c: char| !c.is_alphanumeric() && c != '-').filter(|w| !w.is_empty());
    words
        .filter_map(|word| {
            let lower = word.to_lowercase();
            let hue = hues.iter().find(|h| h.words().contains(&lower.as_str()))?;
            let at = word.as_ptr() as usize - text.as_ptr() as usize;
            let start = span.start + at as u32;
            Some((*hue, if exact { Span { start, end: start + word.len() as u32, ..span } } else { span }))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    const CABLE: &str = "<path d=\"M10 9H90\" stroke=\"#c8102e\" stroke-width=\"2\" fill=\"none\"/></svg>";

    #[test]
    fn a_colour_that_grey_does_not_show() {
        let says = |text: &str| {
            sound().edit("steps/frame/20-left.md", "1. Drill the holes", &format!("1. {text} Drill the holes"))
        };
        let red = |text: &str| says(text).edit("figures/bracket.svg", "</svg>", CABLE);
        assert_eq!(red("Hold the red line.").findings(), ["leans-on-colour steps/frame/20-left.md `red`"]);
        assert_eq!(says("Hold the red line.").findings(), [""; 0], "no drawing of the step has red");
        assert_eq!(red("Hold the upper line.").findings(), [""; 0]);
        assert_eq!(red("Hold the green line.").findings(), [""; 0], "what is green is so in the hand");
        assert_eq!(red("Get it ready.").findings(), [""; 0], "a part of a word is no colour");
        // With a second colour of the same grey there is a key that names both.
        let both = CABLE
            .replace("</svg>", "<path d=\"M10 29H90\" stroke=\"#2e7d32\" stroke-width=\"2\" fill=\"none\"/></svg>");
        assert_eq!(says("Hold the red line.").edit("figures/bracket.svg", "</svg>", &both).findings(), [""; 0]);
    }
}
