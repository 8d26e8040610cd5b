//! A hole with `do: match-drill` that does not name another part as the one it is taken from, or a hole with `from` that
//! is not match-drilled.
//!
//! It matters because the holes of two parts only meet if the one is drilled through the other.
//!
//! Wrong: `{ part: KW-101, hole: left, do: match-drill }`. Right: `{ part: KW-101, hole: left, do: match-drill, from:
//! KW-103-L }`.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::HoleAction;

pub const RULE: Rule = Rule {
    id: "match-drill-without-from",
    level: Level::Error,
    summary: "a match-drilled hole that does not say from which part, or one with `from` that is not match-drilled",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("match_drill_without_from.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in &ctx.manual.steps {
        for hole in &step.holes {
            if hole.action != HoleAction::MatchDrill {
                sink.extend(hole.from.as_ref().map(|from| {
                    RULE.found(format!(
                        "a hole of {} names {} as its guide and is not match-drilled",
                        hole.part.value, from.value
                    ))
                    .at(from.span, format!("`do: {}`", hole.action.word()))
                    .help("write `do: match-drill`, or take `from` out")
                    .about(&hole.part.value)
                    .about(&step.id.value)
                }));
                continue;
            }
            let (span, label) = match &hole.from {
                None => (hole.part.span, "`from` is missing"),
                Some(from) if from.value == hole.part.value => (from.span, "the part itself"),
                Some(_) => continue,
            };
            sink.push(
                RULE.found(format!("a hole of {} is match-drilled from no other part", hole.part.value))
                    .at(span, label)
                    .help("write `from:` and the part whose hole guides the drill")
                    .about(&hole.part.value)
                    .about(&step.id.value),
            );
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_match_needs_two() {
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "from: KW-103-L, ", "").findings(),
            ["match-drill-without-from steps/frame/20-left.md `KW-101`"]
        );
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "from: KW-103-L, ", "from: KW-101, ").findings(),
            ["match-drill-without-from steps/frame/20-left.md `KW-101`"]
        );
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "do: match-drill, ", "do: drill, ").findings(),
            ["match-drill-without-from steps/frame/20-left.md `KW-103-L`"]
        );
    }
}
