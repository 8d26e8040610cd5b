//! Two different figures of one configuration with the same alternative text, or the same caption.
//!
//! It matters because one of the two was copied from the other and not rewritten: a reader who can't see the picture is told of
//! another one, and a caption sends the builder to the wrong figure.
//!
//! Short texts of fewer than four words are left alone.
//!
//! Wrong: `caption: Beam gusset from above` under `beam-gusset.svg` and under `stay-gusset.svg`. Right: each says what it shows.
//!
//! To accept: `accept: [{ rule: figure-words-twice, about: stay-gusset.svg, reason: ... }]` in the step's file.

use std::collections::BTreeMap;

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::{FigureUse, Opposite};
use crate::resolve::Resolved;
use crate::source::Span;
use crate::units::StepId;

pub const RULE: Rule = Rule {
    id: "figure-words-twice",
    level: Level::Hint,
    summary: "two figures with the same caption or alternative text",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("figure_words_twice.rs"),
    run: Run::Configuration(run),
};

const LEAST_WORDS: usize = 4;

fn run(_: &Context, r: &Resolved) -> Sink {
    let mut first: BTreeMap<String, (&FigureUse, Span, &StepId)> = BTreeMap::new();
    let mut sink = Sink::new();
    // A made step has the figures of the one it was made from.
    let written = r.steps.iter().filter(|s| !matches!(s.step.opposite, Opposite::Of(_)));
    for (step, figure) in written.flat_map(|s| s.step.figures.iter().map(|f| (&s.step.id.value, &f.value))) {
        let alt = figure.alt.as_ref().map(|alt| ("alternative text", alt.value.as_str(), alt.span));
        let caption = figure.caption.as_deref().map(|caption| ("caption", caption, figure.figure.span));
        for (what, words, span) in alt.into_iter().chain(caption) {
            let words: Vec<String> = words.split_whitespace().map(str::to_lowercase).collect();
            if words.len() < LEAST_WORDS {
                continue;
            }
            let (other, at, there) = *first.entry(words.join(" ")).or_insert((figure, span, step));
            if other.figure.value == figure.figure.value || at == span {
                continue;
            }
            sink.push(
                RULE.found(format!("{} and {} have the same {what}", other.figure.value, figure.figure.value))
                    .at(span, "the same words as under another figure")
                    .note(at, format!("in step `{there}`"))
                    .help("say of each figure what it shows")
                    .about(&figure.figure.value)
                    .about(step),
            );
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn each_figure_has_words_of_its_own() {
        let brake = "steps/finish/20-brake.md";
        let same = sound().edit(brake, "alt: The lever", "alt: The bracket on the keel");
        assert_eq!(same.findings(), [format!("figure-words-twice {brake} `The bracket on the keel`")]);
        let short = sound().edit("steps/frame/20-left.md", "alt: The bracket on the keel", "alt: The lever");
        assert_eq!(short.findings(), [""; 0]);
        let again = same.edit(brake, "figure: brake.svg", "figure: bracket.svg").remove("figures/brake.svg");
        assert_eq!(again.findings(), [""; 0]);
    }
}
