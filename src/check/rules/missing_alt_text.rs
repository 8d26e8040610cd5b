//! A figure without alternative text.
//!
//! It matters because a builder who can't see the picture, or whose screen has gone dark with dust, has only this
//! text; it says what must be known from the picture, not that there is one.
//!
//! Wrong: `- bracket.svg`. Right: `- { figure: bracket.svg, alt: The bracket lies on top of the keel with its long
//! leg forward }`.
//!
//! To accept: `accept: [{ rule: missing-alt-text, about: bracket.svg, reason: ... }]` in the step's file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "missing-alt-text",
    level: Level::Warning,
    summary: "a figure without alternative text",
    source: "WCAG 2.2, success criterion 1.1.1",
    bending: Leave::Allowed,
    file: include_str!("missing_alt_text.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    // A drawing that is mirrored for the other hand has the words of the one that was drawn.
    let mut seen = std::collections::BTreeSet::new();
    let variants = ctx.manual.settings.variants.values();
    let of_variants = variants.filter_map(|v| Some((v.figure.as_ref()?, v.alt.as_ref(), v.name.as_str())));
    let figures = ctx.manual.steps.iter().flat_map(|step| step.figures.iter().map(move |figure| (step, figure)));
    let of_steps = figures.map(|(step, figure)| (&figure.figure, figure.alt.as_ref(), step.id.as_str()));
    for (name, alt, of) in of_variants.chain(of_steps) {
        if alt.is_some_and(|alt| !alt.value.trim().is_empty()) || !seen.insert(name.span) {
            continue;
        }
        sink.push(
            RULE.found(format!("{} has no alternative text", name.value))
                .at(name.span, "`alt` is missing")
                .help("add `alt:` and what a person who can't see the figure must know")
                .about(&name.value)
                .about(of),
        );
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_figure_needs_words() {
        assert_eq!(
            sound().edit("steps/finish/20-brake.md", "    alt: The lever\n", "").findings(),
            ["missing-alt-text steps/finish/20-brake.md `brake.svg`"]
        );
        assert_eq!(
            sound().edit("steps/finish/20-brake.md", "    alt: The lever\n", "    alt: \" \"\n").findings(),
            ["missing-alt-text steps/finish/20-brake.md `brake.svg`"]
        );
    }
}
