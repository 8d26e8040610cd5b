//! A released step id or part number that now stands for something else.
//!
//! It matters because notes, records and spares of kits in the field go by it: the builder who ticked the step has done
//! another one, and the part that is sent is not the part that was asked for.
//!
//! Wrong: the step `wing-tip` was dropped in release B, and a new step about the tail is called `wing-tip`. Right: an id that
//! was never used. A step or part that comes back as what it was keeps its name.
//!
//! Ids and numbers that are gone are compared by their titles: they come back where half of the words are the same. One that
//! the last release still has is reported where no word of its title is left, and of a step where little of its text is left
//! too.
//!
//! To accept, where only the name changed: `accept: [{ rule: id-reused, about: wing-tip, reason: ... }]` in manual.yaml.

use std::collections::BTreeMap;

use crate::change::NameKind;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Diagnostic, Level, Sink};
use crate::source::Span;

pub const RULE: Rule = Rule {
    id: "id-reused",
    level: Level::Error,
    summary: "a released id or number that stands for something else",
    source: "common practice: what is issued is never used again for another thing",
    bending: Leave::Allowed,
    file: include_str!("id_reused.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let steps = ctx.manual.written_steps();
    for step in steps {
        let id = step.id.value.as_str();
        let text = || ctx.sources.text(step.file);
        sink.extend(finding(ctx, NameKind::Step, id, &step.title.value, step.id.span, |last| {
            let old = last.texts.get(&step.path).map(|lines| lines.join("\n")).unwrap_or_default();
            alike(&old, text()) < 30
        }));
    }
    for (number, part) in &ctx.manual.parts {
        sink.extend(finding(ctx, NameKind::Part, number.as_str(), &part.name, part.number.span, |_| true));
    }
    sink
}

fn finding(
    ctx: &Context,
    kind: NameKind,
    name: &str,
    title: &str,
    span: Span,
    other: impl Fn(&crate::change::Last) -> bool,
) -> Option<Diagnostic> {
    let key = (kind, name.to_owned());
    let (letter, old) = match (ctx.past.retired.get(&key), &ctx.past.last) {
        (Some(retired), _) if alike(&retired.title, title) < 50 => (&retired.letter, &retired.title),
        (None, Some(last)) => {
            let old = last.titles.get(&key)?;
            if old.is_empty() || alike(old, title) > 0 || !other(last) {
                return None;
            }
            (&last.letter, old)
        }
        _ => return None,
    };
    let what = if kind == NameKind::Step { "step" } else { "part" };
    Some(
        RULE.found(format!("{what} `{name}` was something else in release {letter}: {old}"))
            .at(span, format!("now it is: {title}"))
            .help("give the new one a name that was never used")
            .about(name),
    )
}

/// How many of the words of two texts are the same, in percent: twice the common ones over all (L. R. Dice, 1945).
fn alike(a: &str, b: &str) -> usize {
    let words = |text: &str| {
        let mut counts: BTreeMap<String, usize> = BTreeMap::new();
        let split = text.split(|c: char| !c.is_alphanumeric()).filter(|w| w.len() > 2);
        split.for_each(|w| *counts.entry(w.to_lowercase()).or_default() += 1);
        counts
    };
    let (a, b) = (words(a), words(b));
    let all: usize = a.values().chain(b.values()).sum();
    let common: usize = a.iter().map(|(w, n)| n.min(b.get(w).unwrap_or(&0))).sum();
    (200 * common).checked_div(all).unwrap_or(100)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_name_keeps_its_meaning() {
        // The last release says that the step `keel-box` was there once.
        let once = |text: String| {
            text.replacen(
                "\n\n",
                "\nretired step rivet-plates A \"Rivet the plates\"\nretired part KW-900 A \"Skid shoe\"\n\n",
                1,
            )
        };
        let with = |title: &str| {
            let step = format!("---\nstep: rivet-plates\ntitle: {title}\nsection: frame\n---\n1. Look at it.\n");
            sound().add("steps/frame/90-more.md", &step).since(&sound(), once).findings()
        };
        assert_eq!(with("Rivet both plates"), [""; 0]);
        assert_eq!(with("Weigh the frame"), ["id-reused steps/frame/90-more.md `rivet-plates`"]);
        let part = sound().add("parts.csv", "KW-900,Mirror,,,,,,,,,,\n").edit(
            "steps/frame/10-keel.md",
            "  - KW-105\n",
            "  - KW-105\n  - KW-900\n",
        );
        assert!(part.since(&sound(), once).findings().contains(&"id-reused parts.csv `KW-900`".to_owned()));
        // One that the last release still has.
        let other = sound().edit("parts.csv", "KW-300,Brake lever", "KW-300,Mirror");
        assert_eq!(other.since(&sound(), |t| t).findings(), ["id-reused parts.csv `KW-300`"]);
        let renamed = sound().edit("steps/frame/10-keel.md", "title: Cut the keel", "title: Saw to length");
        assert_eq!(renamed.since(&sound(), |t| t).findings(), [""; 0]);
    }
}
