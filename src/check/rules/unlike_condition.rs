//! A condition that lacks a variant which the other conditions of its step name beside the same variants.
//!
//! It matters because a variant that was added to a step in nine places of ten is wrong in the tenth, and every single line
//! reads well.
//!
//! It looks at conditions that join variants with `or`. Where two or more conditions of a step name a variant besides those of
//! another one, that other one is asked about. It does not look at conditions with `and`, `not`, options or serial numbers.
//!
//! Wrong: `only: SAND or CAB` twice and `only: SAND` once in a step of which CAB has all three. Right: `only: SAND or CAB` in
//! all of them.
//!
//! It is a question. To say that it is meant so: `accept: [{ rule: unlike-condition, about: CAB, reason: ... }]` in the
//! step's file.

use std::collections::{BTreeMap, BTreeSet};

use crate::check::{Context, Leave, MOST_NOTES, Rule, Run};
use crate::diag::{Level, Sink};
use crate::resolve::PlacedCondition;
use crate::source::Span;
use crate::syntax::Condition;
use crate::units::{StepId, VariantName};

pub const RULE: Rule = Rule {
    id: "unlike-condition",
    level: Level::Question,
    summary: "a condition without a variant that the other conditions of its step name",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("unlike_condition.rs"),
    run: Run::Manual(run),
};

/// The variants of a condition, and where it stands.
type Named<'a> = (BTreeSet<&'a str>, Span);

/// A step with more conditions is not looked at: each would be held against each.
const MOST: usize = 500;

fn run(ctx: &Context) -> Sink {
    let variants = &ctx.manual.settings.variants;
    let is_variant = |name: &str| variants.contains_key(&VariantName::new(name));
    let mut steps: BTreeMap<&StepId, Vec<Named>> = BTreeMap::new();
    let mut seen = BTreeSet::new();
    for placed in ctx.conditions.all() {
        let (Some(step), Some(names)) = (placed.step, joined(placed)) else { continue };
        if placed.of != "step" && names.iter().all(|n| is_variant(n)) && seen.insert(placed.span) {
            steps.entry(&step.id.value).or_default().push((names, placed.span));
        }
    }
    let mut sink = Sink::new();
    for (step, all) in steps.into_iter().filter(|(_, all)| all.len() <= MOST) {
        for variant in variants.keys().map(VariantName::as_str) {
            let with = |names: &BTreeSet<&str>| {
                all.iter()
                    .filter(|(more, _)| {
                        more.contains(variant)
                            && names.iter().all(|n| more.contains(n))
                            && more.len() == names.len() + 1
                    })
                    .count()
            };
            let lacking: Vec<Span> = all
                .iter()
                .filter(|(names, _)| !names.contains(variant) && with(names) > 1)
                .map(|(_, span)| *span)
                .collect();
            // Where most of them lack it, that is how the step is meant.
            let having = all.iter().filter(|(names, _)| names.contains(variant)).count();
            let Some((first, more)) = lacking.split_first().filter(|_| lacking.len() < having) else { continue };
            let mut d = RULE
                .found(format!("{having} conditions of this step name {variant}, and this one does not"))
                .at(*first, format!("without {variant}"))
                .help(format!("add `or {variant}` if {variant} has this too"))
                .about(step)
                .about(variant);
            for span in more.iter().take(MOST_NOTES) {
                d = d.note(*span, "nor does this one");
            }
            sink.push(d);
        }
    }
    sink
}

/// The names of a condition that is one name, or several joined with `or`.
fn joined<'a>(placed: &PlacedCondition<'a>) -> Option<BTreeSet<&'a str>> {
    let name = |c: &'a Condition| match c {
        Condition::Name(name) => Some(name.value.as_str()),
        _ => None,
    };
    match placed.condition {
        Condition::Or(any) => any.iter().map(name).collect(),
        one => name(one).map(|n| BTreeSet::from([n])),
    }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{Case, sound};

    const STEP: &str = "steps/frame/10-keel.md";

    fn with(conditions: [&str; 3]) -> Case {
        let text: String = conditions
            .iter()
            .enumerate()
            .map(|(i, only)| {
                format!("\n<!-- only: {only} -->\n\nSentence {i} is here.\n\n<!-- end only -->\n\nMore {i}.\n")
            })
            .collect();
        sound()
            .edit(
                "manual.yaml",
                "  LONG: {",
                "  CAB: { title: With a cab, based-on: LONG, inherits-conditions: no }\n  LONG: {",
            )
            .add(STEP, &text)
    }

    #[test]
    fn the_one_without_the_variant_is_asked_about() {
        let asked = |conditions| with(conditions).questions("unlike-condition").len();
        assert_eq!(asked(["LONG or CAB", "LONG or CAB", "LONG"]), 1);
        assert_eq!(asked(["LONG or CAB", "LONG", "LONG"]), 0, "it is meant so");
        assert_eq!(asked(["LONG or CAB", "LONG or CAB", "BASE"]), 0, "another one");
    }
}
