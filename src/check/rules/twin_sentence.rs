//! A sentence that stands under two conditions and was changed since the last release under one of them only.
//!
//! It matters because what is written twice drifts apart: the kit of the other variant is built by the old sentence.
//!
//! Wrong: `Drill both holes.` stood under SAND and under ICE, and only under SAND it became `Drill all four holes.` Right: both
//! changed, or the sentence once, outside the conditions.
//!
//! To accept, where the two are to differ: `accept: [{ rule: twin-sentence, about: keel-join, reason: ... }]` in the step's
//! file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::Step;
use crate::source::Span;

pub const RULE: Rule = Rule {
    id: "twin-sentence",
    level: Level::Hint,
    summary: "a sentence changed under one condition and not under another",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("twin_sentence.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let Some(last) = &ctx.past.last else { return sink };
    for step in ctx.manual.written_steps() {
        let Some(old) = last.texts.get(&step.path) else { continue };
        if !old.iter().any(|l| opens(l)) {
            continue;
        }
        let before = regions(old.iter().map(String::as_str));
        let now = regions(ctx.sources.text(step.file).lines());
        for (sentence, span) in twins(step, &before, &now) {
            sink.push(
                RULE.found(format!("a sentence was changed under one condition and not under another: {sentence}"))
                    .at(
                        span.unwrap_or(step.id.span),
                        "its twin still says what release {} said".replace("{}", &last.letter),
                    )
                    .help("change it here too, or write it once outside the conditions")
                    .about(&step.id.value),
            );
        }
    }
    sink
}

fn opens(line: &str) -> bool {
    line.trim().strip_prefix("<!--").is_some_and(|l| l.trim_start().starts_with("only:"))
}

/// The sentences under each condition, in the order of the text.
fn regions<'a>(lines: impl Iterator<Item = &'a str>) -> Vec<Vec<String>> {
    let mut regions = Vec::new();
    let mut open: Option<String> = None;
    for line in lines {
        if opens(line) {
            open = Some(String::new());
        } else if line.trim().starts_with("<!--") {
            regions.extend(open.take().map(|text| sentences(&text)));
        } else if let Some(text) = &mut open {
            text.push_str(
                line.trim_start_matches(|c: char| c.is_whitespace() || c.is_ascii_digit() || ".-*".contains(c)),
            );
            text.push('\n');
        }
    }
    regions
}

fn sentences(text: &str) -> Vec<String> {
    let joined = text.split('\n').map(str::trim).collect::<Vec<_>>().join(" ");
    let ends = joined.split_inclusive(['.', '!', '?']).map(|s| s.split_whitespace().collect::<Vec<_>>().join(" "));
    ends.filter(|s| s.split(' ').count() > 2).collect()
}

/// Sentences that stood in two regions and are left in one of them only, while the region of the other is still there.
fn twins(step: &Step, before: &[Vec<String>], now: &[Vec<String>]) -> Vec<(String, Option<Span>)> {
    if before.len() != now.len() {
        return Vec::new();
    }
    let mut found: Vec<(String, Option<Span>)> = Vec::new();
    for (i, region) in before.iter().enumerate() {
        for sentence in region {
            let twin = before.iter().enumerate().any(|(j, other)| {
                j != i && other.contains(sentence) && !now[j].contains(sentence) && now[j].len() >= other.len()
            });
            if twin && now[i].contains(sentence) && !found.iter().any(|f| f.0 == *sentence) {
                found.push((sentence.clone(), place(step)));
            }
        }
    }
    found
}

/// The step's title: a sentence that is split over lines has no place of its own.
fn place(step: &Step) -> Option<Span> {
    Some(step.title.span)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn both_or_none() {
        let twice = "\n<!-- only: BASE -->\nDrill both holes now.\n<!-- end only -->\n\n<!-- only: LONG -->\nDrill both holes now.\n<!-- end only -->\n";
        let base = || sound().add("steps/frame/40-paint.md", twice);
        let once = base().edit("steps/frame/40-paint.md", "Drill both holes now.", "Drill all four holes now.");
        assert_eq!(base().since(&base(), |t| t).findings(), [""; 0]);
        assert_eq!(
            once.since(&base(), |t| t).findings(),
            ["twin-sentence steps/frame/40-paint.md `Paint and rivet the plates`"]
        );
        let both = base().edit_all("steps/frame/40-paint.md", "Drill both holes now.", "Drill all four holes now.");
        assert_eq!(both.since(&base(), |t| t).findings(), [""; 0]);
    }
}
