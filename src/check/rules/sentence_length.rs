//! A sentence of more than 20 words in an instruction or a safety message, or of more than 25 in other text.
//!
//! It matters because it is read with a part in each hand. Two short sentences are two things to do, one after the
//! other.
//!
//! A number with its fraction and unit counts as one word, and so does a reference whose text is filled in. The
//! points of abbreviations end no sentence.
//!
//! Wrong: one sentence that says what to hold, how to turn it, what to look for and what to do if it is not so.
//! Right: four sentences, or four items.
//!
//! To accept: `accept: [{ rule: sentence-length, about: step-id, reason: ... }]` in the step's file.

use crate::check::sentences::{self, Sentence};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::Diagnostic;
use crate::diag::{Level, Sink};
use crate::syntax::markdown::{MdBlock, MdBlockKind};

pub const RULE: Rule = Rule {
    id: "sentence-length",
    level: Level::Warning,
    summary: "a sentence too long to act on",
    source: "ASD-STE100: at most 20 words where something is to be done, 25 elsewhere",
    bending: Leave::Allowed,
    file: include_str!("sentence_length.rs"),
    run: Run::Manual(run),
};

/// Words of a sentence that says what to do.
const ACTION: usize = 20;
/// Words of any other sentence.
const OTHER: usize = 25;

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in &ctx.manual.steps {
        let mut long = Vec::new();
        for safety in &step.safety {
            long.extend(sentences::of_text(&safety.text).into_iter().filter(|s| s.words > ACTION).map(|s| (s, ACTION)));
        }
        in_blocks(&step.body, OTHER, ACTION, &mut long);
        sink.extend(long.into_iter().map(|(sentence, most)| finding(&sentence, most, step.id.value.as_str())));
    }
    for page in &ctx.manual.pages {
        let mut long = Vec::new();
        in_blocks(&page.body, OTHER, OTHER, &mut long);
        sink.extend(long.into_iter().map(|(sentence, most)| finding(&sentence, most, page.kind.word())));
    }
    sink
}

/// The sentences of `blocks` that are too long, each with the limit: `plain` for paragraphs, `listed` for list items.
fn in_blocks(blocks: &[MdBlock], plain: usize, listed: usize, long: &mut Vec<(Sentence, usize)>) {
    for block in blocks {
        let (within, in_lists) = match &block.kind {
            // A cell holds no sentences.
            MdBlockKind::Table { .. } => continue,
            MdBlockKind::List { .. } => (listed, listed),
            MdBlockKind::Safety { .. } => (ACTION, ACTION),
            _ => (plain, listed),
        };
        for run in block.runs() {
            long.extend(sentences::of_inlines(run).into_iter().filter(|s| s.words > plain).map(|s| (s, plain)));
        }
        block.children().for_each(|inner| in_blocks(inner, within, in_lists, long));
    }
}

fn finding(sentence: &Sentence, most: usize, about: &str) -> Diagnostic {
    RULE.found(format!("a sentence of {} words", sentence.words))
        .at(sentence.span, format!("at most {most} here"))
        .help("write two sentences, or two items of the list")
        .about(about)
        .about(format!("at {}", sentence.span.start))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn long_sentences() {
        assert_eq!(sound().edit("steps/frame/10-keel.md", "2. Prime it", "2. Hold the tube in the left hand and turn it slowly round while the brush in the right hand goes up and down. Prime it").findings(), ["sentence-length steps/frame/10-keel.md `Hold the tube in the left hand and turn it slowly round while the brush in the right hand goes up and down.`"]);
        assert_eq!(sound().edit("steps/frame/10-keel.md", "2. Prime it", "2. Hold the tube in the left hand and turn it slowly round. The brush in the right hand goes up and down. Prime it").findings(), [""; 0]);
        assert_eq!(sound().edit("steps/frame/10-keel.md", "caution: Cut ends are sharp.", "caution: Cut ends are sharp and will go through a glove of cloth and into the hand that holds the tube if it slips.").findings(), ["sentence-length steps/frame/10-keel.md `Cut ends are sharp and will go through a glove of cloth and into the hand that holds the tube if it slips.`"]);
    }
}
