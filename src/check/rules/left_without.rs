//! A sentence that is left without what it points at in some configurations: the list it begins, the measure it asks for,
//! the figure it speaks of, because a condition leaves that out and not the sentence.
//!
//! It matters because the builder of that variant is told to write down two figures that nobody asks him to take.
//!
//! It looks at a text that ends with a colon before something under a condition, and, in English, at sentences that ask for
//! writing down or speak of the figure in a step that has measures or figures elsewhere and none here. It does not look at
//! what a sentence says beyond that.
//!
//! Wrong: `Check these:` before `<!-- only: SAND -->` and a list, in a step that CAB has too. Right: the sentence under the
//! same condition, or the list for CAB as well.
//!
//! To accept: `accept: [{ rule: left-without, about: step-id, reason: ... }]` in the step's file.

use crate::check::{Context, Leave, Rule, Run, prose};
use crate::diag::{Diagnostic, Level, Sink};
use crate::resolve::{Facts, Resolved, holds, in_words};
use crate::source::Span;
use crate::syntax::Condition;
use crate::syntax::markdown::{MdBlock, MdBlockKind, MdInline, MdInlineKind, each_block};

pub const RULE: Rule = Rule {
    id: "left-without",
    level: Level::Warning,
    summary: "a sentence whose list, measure or figure a condition leaves out",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("left_without.rs"),
    run: Run::Configuration(run),
};

/// Words that ask for a value to be written into the manual, and words that send the eye to a picture.
const MEASURING: [&str; 5] = ["write down", "write both", "note down", "record the", "enter the"];
const SHOWING: [&str; 5] =
    ["the figure shows", "as the figure", "in the figure", "in the picture", "the drawing shows"];

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    let facts = Facts { settings: &ctx.manual.settings, configuration: &r.configuration };
    let english = ctx.manual.settings.is_english();
    for written in &ctx.manual.steps {
        let Some(here) = r.step(&written.id.value) else { continue };
        let mut found = |d: Diagnostic| sink.push(d.about(&written.id.value));
        in_blocks(&written.body, &facts, &mut |sentence, condition, span| {
            found(
                RULE.found("a text ends with a colon, and what it begins is left out here")
                    .at(sentence, "nothing follows")
                    .note(span, format!("only: {}", in_words(condition)))
                    .help("put the text under the same condition, or let what follows apply here too"),
            );
        });
        if !english {
            continue;
        }
        let mut gone = |lost: Option<(&Condition, Span)>, words: &[&str], what: &str| {
            let Some((condition, span)) = lost else { return };
            let Some((place, word)) = said(&here.step.body, words) else { return };
            found(
                RULE.found(format!("the text says \"{word}\", and the step has no {what} here"))
                    .at(place, format!("no {what} in this configuration"))
                    .note(span, format!("only: {}", in_words(condition)))
                    .help(format!("put the sentence under the same condition, or let the {what} apply here too")),
            );
        };
        let measures = written.measures.iter().filter(|_| here.step.measures.is_empty());
        gone(first(measures.map(|m| m.only.as_ref())), &MEASURING, "measure");
        let figures = written.figures.iter().filter(|_| here.step.figures.is_empty());
        gone(first(figures.map(|f| f.only.as_ref())), &SHOWING, "figure");
    }
    sink
}

type Only<'a> = Option<&'a crate::source::Spanned<Condition>>;

fn first<'a>(mut all: impl Iterator<Item = Only<'a>>) -> Option<(&'a Condition, Span)> {
    all.find_map(|only| only.map(|o| (&o.value, o.span)))
}

/// Calls `visit` for each text that ends with a colon and whose continuation is all left out: its place, and the condition.
fn in_blocks(blocks: &[MdBlock], facts: &Facts, visit: &mut dyn FnMut(Span, &Condition, Span)) {
    for (i, block) in blocks.iter().enumerate() {
        if let MdBlockKind::Only { condition, blocks, .. } = &block.kind {
            if holds(condition, facts) {
                in_blocks(blocks, facts, visit);
            }
            continue;
        }
        if let MdBlockKind::Paragraph(content) = &block.kind
            && ends_with_colon(content)
            && let Some((condition, span)) = all_left_out(&blocks[i + 1..], facts)
        {
            visit(block.span, condition, span);
        }
        block.children().for_each(|inner| in_blocks(inner, facts, visit));
    }
}

/// The first of the conditions that follow, where none of them applies and nothing that could be meant stands behind them.
fn all_left_out<'a>(after: &'a [MdBlock], facts: &Facts) -> Option<(&'a Condition, Span)> {
    let mut out = None;
    for block in after {
        match &block.kind {
            MdBlockKind::Only { condition, .. } if holds(condition, facts) => return None,
            MdBlockKind::Only { condition, condition_span, .. } => out = out.or(Some((condition, *condition_span))),
            MdBlockKind::List { .. } | MdBlockKind::Table { .. } | MdBlockKind::Code(_) => return None,
            _ => return out,
        }
    }
    out
}

fn ends_with_colon(content: &[MdInline]) -> bool {
    matches!(content.last().map(|i| &i.kind), Some(MdInlineKind::Text(text)) if text.trim_end().ends_with(':'))
}

/// The first place of a text where one of these words stands.
fn said<'w>(body: &[MdBlock], words: &[&'w str]) -> Option<(Span, &'w str)> {
    let mut place = None;
    each_block(body, &mut |block| {
        for run in block.runs() {
            if place.is_some() {
                return;
            }
            let mut text = String::new();
            run.iter().for_each(|inline| prose::plain_words(inline, &mut text));
            let text = text.to_lowercase();
            if let Some(word) = words.iter().find(|w| text.contains(*w)) {
                place = Some((run.first().map_or(block.span, |i| i.span), *word));
            }
        }
    });
    place
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    const STEP: &str = "steps/frame/10-keel.md";

    #[test]
    fn a_list_that_is_left_out_leaves_its_sentence() {
        let with = |only: &str| {
            sound().add(
                STEP,
                &format!(
                    "\n\nLook at these:\n\n<!-- only: {only} -->\n\n- the keel\n- the cross\n\n<!-- end only -->\n"
                ),
            )
        };
        assert_eq!(with("BASE or LONG").findings(), [""; 0]);
        assert_eq!(with("LONG").findings(), [format!("left-without {STEP} `Look at these:`")]);
    }

    #[test]
    fn a_measure_that_is_left_out_leaves_the_sentence_that_asks_for_it() {
        let with = |only: &str| {
            sound()
                .edit(STEP, "target: 40, tolerance: 1/16 }", &format!("target: 40, tolerance: 1/16{only} }}"))
                .add(STEP, "\n\nWrite down the length.\n")
        };
        assert_eq!(with("").findings(), [""; 0]);
        assert_eq!(with(", only: LONG").findings(), [format!("left-without {STEP} `Write down the length.`")]);
    }
}
