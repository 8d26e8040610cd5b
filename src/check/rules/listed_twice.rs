//! A part that a step takes, fits or works on, and lists once more with `do: use`; a tool, a consumable, or what it closes,
//! listed twice.
//!
//! It matters because the second line adds nothing: where another part was meant, that one is missing.
//!
//! Wrong: `KW-101` and `{ part: KW-101, do: use }` in one step. Right: the one line, or the number that was meant.
//!
//! To accept: `accept: [{ rule: listed-twice, about: KW-101, reason: ... }]` in the step's file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::{PartAction, Step};
use crate::resolve::Resolved;
use crate::source::Span;
use std::collections::BTreeMap;

pub const RULE: Rule = Rule {
    id: "listed-twice",
    level: Level::Warning,
    summary: "what a step lists, and lists again with nothing else to do",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("listed_twice.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for s in &r.steps {
        let step = &s.step;
        again(step, step.tools.iter().map(|t| (t.value.value.as_str(), t.value.span)), &mut sink);
        again(step, step.consumables.iter().map(|t| (t.value.value.as_str(), t.value.span)), &mut sink);
        again(step, step.closes.iter().map(|t| (t.value.value.as_str(), t.value.span)), &mut sink);
        for item in s.step.parts.iter().filter(|p| p.action == PartAction::Use) {
            let part = &item.part.value;
            let other = s.step.parts.iter().find(|p| p.part.value == *part && p.span != item.span);
            let Some(other) = other.filter(|o| o.action != PartAction::Use || o.index < item.index) else { continue };
            if ctx.in_doubt(r, part) {
                continue;
            }
            sink.push(
                RULE.found(format!("step `{}` lists {part} twice", s.step.id.value))
                    .at(item.part.span, "listed once more, with nothing else to do")
                    .note(other.part.span, "listed here")
                    .help("take this line out, or correct the number where another part was meant")
                    .about(part)
                    .about(&s.step.id.value),
            );
        }
    }
    sink
}

/// Names that stand twice in a list.
fn again<'a>(step: &Step, names: impl Iterator<Item = (&'a str, Span)>, sink: &mut Sink) {
    let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
    for (name, span) in names {
        let Some(first) = seen.insert(name, span) else { continue };
        sink.push(
            RULE.found(format!("step `{}` lists {name} twice", step.id.value))
                .at(span, "listed once more")
                .note(first, "listed here")
                .help("take this line out, or correct the name where another was meant")
                .about(name)
                .about(&step.id.value),
        );
    }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_part_stands_once() {
        assert_eq!(
            sound()
                .edit("steps/frame/10-keel.md", "  - KW-105\n", "  - KW-105\n  - { part: KW-105, do: use }\n")
                .findings(),
            ["listed-twice steps/frame/10-keel.md `KW-105`"]
        );
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "tools: [saw]", "tools: [saw, saw]").findings(),
            ["listed-twice steps/frame/10-keel.md `saw`"]
        );
    }
}
