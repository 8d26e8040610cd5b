//! Texts, figures, items or rows under conditions that stand together and leave out one variant that has the step.
//!
//! It matters because the variant's manual has a gap just where the others differ: no figure, no measure, no length.
//!
//! It looks at neighbours in one list or one text whose conditions exclude one another, and at items of a list that say the
//! same of different parts: alternatives. Where they cover two variants or more that have the step, and not another that
//! has it, that one is named. It does not look at a variant that
//! one of the conditions names, at one whose places are undecided (`variant-conditions`), nor at a condition that stands
//! alone, which may well be an extra.
//!
//! Wrong: `{ figure: long.svg, only: LONG }` beside `{ figure: base.svg, only: BASE }` in a step that CAB has too. Right:
//! `only: BASE or CAB`, or a figure of its own.
//!
//! To accept: `accept: [{ rule: alternative-missing, about: CAB, reason: ... }]` in the step's file.

use std::collections::{BTreeMap, BTreeSet};

use indexmap::IndexMap;

use crate::check::{Context, Leave, MOST_NOTES, Rule, Run};
use crate::diag::{Diagnostic, Level, Sink};
use crate::model::Step;
use crate::resolve::{Resolved, in_words, undecided};
use crate::source::Span;
use crate::syntax::markdown::{MdBlock, MdBlockKind};
use crate::syntax::{Condition, Node, NodeKind};
use crate::units::{PartNumber, VariantName};

pub const RULE: Rule = Rule {
    id: "alternative-missing",
    level: Level::Warning,
    summary: "alternatives for some variants that leave out one that has the step",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("alternative_missing.rs"),
    run: Run::Manual(run),
};

/// Conditions that stand side by side, each with its place.
type Neighbours<'a> = Vec<(&'a Condition, Span)>;

/// Longer lists are not looked at: each item would be held against each.
const MOST: usize = 500;

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let settings = &ctx.manual.settings;
    let open: BTreeSet<&VariantName> = settings
        .variants
        .keys()
        .filter(|v| !undecided(settings, ctx.conditions.all().cloned(), v).is_empty())
        .collect();
    let mut told: BTreeSet<(Span, &VariantName)> = BTreeSet::new();
    let mut known: BTreeSet<Span> = BTreeSet::new();
    for step in ctx.manual.written_steps().filter(|s| !ctx.excuses.steps.contains(&s.id.value)) {
        let mut groups = Vec::new();
        in_tree(ctx, step, &step.front, &mut groups);
        in_text(&step.body, &mut groups);
        if groups.is_empty() {
            continue;
        }
        let here: Vec<&Resolved> = ctx.resolved.iter().filter(|r| r.step(&step.id.value).is_some()).collect();
        for group in groups.iter().filter(|g| g.len() <= MOST && are_alternatives(ctx, g)) {
            for variant in left_out(ctx, &here, group) {
                // A group of two lists is told once.
                let again = group.iter().any(|(_, span)| known.contains(span));
                if !open.contains(variant) && !again && told.insert((group[0].1, variant)) {
                    known.extend(group.iter().map(|(_, span)| *span));
                    sink.push(finding(step, group, variant));
                }
            }
        }
    }
    sink
}

fn finding(step: &Step, group: &Neighbours, variant: &VariantName) -> Diagnostic {
    let words: Vec<String> = different(group).into_keys().collect();
    let (last, first) = words.split_last().expect("two or more");
    let all = format!("`{}` and `{last}`", first.join("`, `"));
    let mut d = RULE
        .found(format!("there is something for {all}, and nothing for {variant}, which has this step too"))
        .at(group[0].1, format!("not for {variant}"))
        .help(format!("write `{} or {variant}` where {variant} is the same, or add what {variant} has", words[0]))
        .about(variant)
        .about(&step.id.value);
    for (condition, span) in group.iter().skip(1).take(MOST_NOTES) {
        d = d.note(*span, format!("only: {}", in_words(condition)));
    }
    d
}

/// The conditions of a group by their words, in the order in which they first stand there.
fn different<'a>(group: &Neighbours<'a>) -> IndexMap<String, &'a Condition> {
    group.iter().map(|(condition, _)| (in_words(condition), *condition)).collect()
}

/// Whether the different conditions of a group, two or more, exclude one another in every configuration.
fn are_alternatives(ctx: &Context, group: &Neighbours) -> bool {
    let different = different(group);
    different.len() > 1 && ctx.resolved.iter().all(|r| different.values().filter(|c| ctx.applies(c, r)).count() <= 1)
}

/// The variants that have the step and of which no configuration has any of a group, where two or more others have one.
fn left_out<'r>(ctx: &Context, here: &[&'r Resolved], group: &Neighbours) -> Vec<&'r VariantName> {
    let any = |r: &Resolved| group.iter().any(|(c, _)| ctx.applies(c, r));
    let covered: BTreeSet<&VariantName> = here.iter().filter(|r| any(r)).map(|r| &r.configuration.variant).collect();
    let missing: BTreeSet<&VariantName> = here.iter().map(|r| &r.configuration.variant).collect();
    let names = |v: &VariantName| group.iter().any(|(c, _)| c.names().iter().any(|(name, _)| name.value == v.as_str()));
    if covered.len() < 2 {
        return Vec::new();
    }
    missing.into_iter().filter(|v| !covered.contains(v) && !names(v)).collect()
}

/// The items under conditions in each list of the front matter: those that say the same of different parts, and the runs of
/// those that follow one another.
fn in_tree<'a>(ctx: &Context, step: &'a Step, node: &Node, groups: &mut Vec<Neighbours<'a>>) {
    match &node.kind {
        NodeKind::Mapping(entries) => entries.iter().for_each(|(_, inner)| in_tree(ctx, step, inner, groups)),
        NodeKind::Sequence(items) => {
            let mut alike: BTreeMap<String, Neighbours> = BTreeMap::new();
            for item in items {
                if let Some(own) = own_condition(step, item) {
                    let mut said = String::new();
                    but_for_parts(ctx, item, &mut said);
                    alike.entry(said).or_default().push(own);
                }
            }
            groups.extend(alike.into_values().filter(|group| group.len() > 1));
            runs(items.iter().map(|item| own_condition(step, item)), groups);
            items.iter().for_each(|inner| in_tree(ctx, step, inner, groups));
        }
        _ => {}
    }
}

/// What an item says, without its condition, its measures, and the numbers of parts that some configurations lack.
fn but_for_parts(ctx: &Context, node: &Node, said: &mut String) {
    match &node.kind {
        NodeKind::Mapping(entries) => {
            for (key, value) in entries.iter().filter(|(key, _)| key.value != "only") {
                said.push_str(&key.value);
                said.push(':');
                but_for_parts(ctx, value, said);
            }
        }
        NodeKind::Sequence(nodes) => nodes.iter().for_each(|node| but_for_parts(ctx, node, said)),
        NodeKind::Scalar { text, .. } if stands_for_itself(ctx, text) => {
            said.push_str(text);
            said.push(';');
        }
        _ => said.push('#'),
    }
}

/// Whether a value is the same in every alternative: no measure, and no part that some configurations lack.
fn stands_for_itself(ctx: &Context, text: &str) -> bool {
    let part = PartNumber::new(text);
    if ctx.manual.parts.contains_key(&part) {
        return ctx.resolved.iter().all(|r| r.listed.contains_key(&part));
    }
    !text.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '+'))
}

fn own_condition<'a>(step: &'a Step, item: &Node) -> Option<(&'a Condition, Span)> {
    let NodeKind::Mapping(entries) = &item.kind else { return None };
    let (_, only) = entries.iter().find(|(key, _)| key.value == "only")?;
    Some((step.conditions.get(&only.span)?, only.span))
}

/// The runs of text under conditions with nothing between them.
fn in_text<'a>(blocks: &'a [MdBlock], groups: &mut Vec<Neighbours<'a>>) {
    let own = |block: &'a MdBlock| match &block.kind {
        MdBlockKind::Only { condition, condition_span, .. } => Some((condition, *condition_span)),
        _ => None,
    };
    runs(blocks.iter().map(own), groups);
    for block in blocks {
        block.children().for_each(|inner| in_text(inner, groups));
    }
}

/// Neighbours that have a condition, as far as they follow one another.
fn runs<'a>(all: impl Iterator<Item = Option<(&'a Condition, Span)>>, groups: &mut Vec<Neighbours<'a>>) {
    let mut run = Vec::new();
    for one in all.chain([None]) {
        match one {
            Some(one) => run.push(one),
            None if run.len() > 1 => groups.push(std::mem::take(&mut run)),
            None => run.clear(),
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{Case, sound};

    const STEP: &str = "steps/frame/10-keel.md";

    fn with_third(conditions: [&str; 2]) -> Case {
        let text = format!(
            "\n\n<!-- only: {} -->\n\nThe keel is 60 in long.\n\n<!-- end only -->\n\n<!-- only: {} -->\n\nThe keel is 72 in long.\n\n<!-- end only -->\n",
            conditions[0], conditions[1]
        );
        sound()
            .edit(
                "manual.yaml",
                "  LONG: {",
                "  CAB: { title: With a cab, based-on: LONG, inherits-conditions: yes }\n  LONG: {",
            )
            .add(STEP, &text)
    }

    #[test]
    fn a_variant_that_no_alternative_means_is_named() {
        let found = with_third(["BASE", "LONG and not CAB"]);
        assert_eq!(found.findings(), [""; 0], "the author names CAB");
        let forgotten = with_third(["BASE", "LONG"]).edit(
            "manual.yaml",
            "based-on: LONG, inherits-conditions: yes",
            "based-on: LONG, inherits-conditions: no",
        );
        let (found, _) = forgotten.check();
        let said: Vec<_> =
            found.iter().filter(|d| d.rule == "alternative-missing").map(|d| d.headline.as_str()).collect();
        assert_eq!(said, ["there is something for `BASE` and `LONG`, and nothing for CAB, which has this step too"]);
        assert_eq!(with_third(["BASE", "LONG"]).findings(), [""; 0], "CAB is like LONG");
    }

    /// One condition that stands alone may well be an extra; conditions that overlap are no alternatives.
    #[test]
    fn extras_are_no_alternatives() {
        assert_eq!(with_third(["BASE", "BASE"]).findings(), [""; 0]);
        assert_eq!(with_third(["BASE", "BASE or LONG"]).findings(), [""; 0]);
    }
}
