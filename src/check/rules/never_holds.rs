//! A condition of a step, an item, a text or a page that applies in no configuration that may be built, whatever the
//! serial.
//!
//! It matters because what stands under it is in no document, though the author wrote it for someone.
//!
//! A condition inside another must hold together with it: an item with `only: LONG` in a step with `only: BASE` never
//! applies.
//!
//! Wrong: `only: BASE and LONG`, where both are variants. Right: `only: BASE or LONG`.
//!
//! To accept, for example while a variant is being prepared: `accept: [{ rule: never-holds, about: step-id, reason:
//! ... }]` in the step's file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::Diagnostic;
use crate::diag::{Level, Sink};
use crate::resolve::{PlacedCondition, in_words};

pub const RULE: Rule = Rule {
    id: "never-holds",
    level: Level::Error,
    summary: "a condition that applies in no allowed configuration",
    source: "logic: no allowed variant, options and serial satisfy it",
    bending: Leave::Allowed,
    file: include_str!("never_holds.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    ctx.conditions.never().map(finding).collect()
}

fn finding(placed: &PlacedCondition) -> Diagnostic {
    let words = in_words(placed.condition);
    let (label, help) = if placed.around.is_empty() {
        (
            "no allowed configuration satisfies this".to_owned(),
            "correct the condition; `or` joins alternatives, `and` asks for both",
        )
    } else {
        let outer: Vec<_> = placed.around.iter().map(|c| in_words(c)).collect();
        let label = format!("never together with what is around it: {}", outer.join(" and "));
        (label, "correct one of the two conditions, or take this out")
    };
    let mut d = RULE.found(format!("{} never applies: {words}", what(placed))).at(placed.span, label).help(help);
    if let Some(step) = placed.step {
        d = d.about(&step.id.value);
    }
    d.about(words)
}

fn what(placed: &PlacedCondition) -> String {
    match (placed.of, placed.step) {
        ("step", Some(step)) => format!("step `{}`", step.id.value),
        ("item", Some(step)) => format!("an item of step `{}`", step.id.value),
        (_, Some(step)) => format!("a text of step `{}`", step.id.value),
        ("option", None) => "an option".to_owned(),
        _ => "a page or its text".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn conditions_that_contradict() {
        assert_eq!(
            sound().edit("steps/finish/20-brake.md", "only: brake", "only: BASE and LONG").findings(),
            ["never-holds steps/finish/20-brake.md `BASE and LONG`"]
        );
        assert_eq!(
            sound().edit("steps/frame/30-plates.md", "only: LONG }", "only: BASE and LONG }").findings(),
            ["never-holds steps/frame/30-plates.md `BASE and LONG`"]
        );
        assert_eq!(
            sound().edit("steps/frame/30-plates.md", "only: LONG and not rack", "only: brake and rack").findings(),
            ["never-holds steps/frame/30-plates.md `brake and rack`"]
        );
        assert_eq!(
            sound()
                .edit("steps/frame/30-plates.md", "only: LONG and not rack", "only: serial 20..30 and serial 5..6")
                .findings(),
            ["never-holds steps/frame/30-plates.md `serial 20..30 and serial 5..6`"]
        );
        assert_eq!(
            sound()
                .edit(
                    "steps/frame/30-plates.md",
                    "only: LONG and not rack",
                    "only: serial 20..30 and not serial 20..29"
                )
                .findings(),
            [""; 0]
        );
    }

    #[test]
    fn conditions_inside_others() {
        assert_eq!(
            sound()
                .add("steps/finish/20-brake.md", "<!-- only: not brake -->\n2. Look.\n<!-- end only -->\n")
                .findings(),
            ["never-holds steps/finish/20-brake.md `not brake`"]
        );
    }
}
