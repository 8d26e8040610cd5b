//! Every condition of a manual in its place.

use std::collections::BTreeSet;

use crate::model::schema::{STEP, walk};
use crate::model::{Manual, Settings, Step};
use crate::source::Span;
use crate::syntax::Condition;
use crate::syntax::markdown::{MdBlock, MdBlockKind};
use crate::units::VariantName;

/// A condition in its place.
#[derive(Clone, Debug)]
pub struct PlacedCondition<'a> {
    pub condition: &'a Condition,
    pub span: Span,
    /// The conditions around it, the outermost first.
    pub around: Vec<&'a Condition>,
    pub step: Option<&'a Step>,
    /// What it decides about: `step`, `item`, `text`, `page`, `option`.
    pub of: &'static str,
}

/// All conditions: of options, of steps and what is in them, of pages.
pub fn conditions(manual: &Manual) -> Vec<PlacedCondition<'_>> {
    let mut list = Vec::new();
    for option in manual.settings.options.values() {
        if let Some(only) = &option.only {
            list.push(PlacedCondition {
                condition: &only.value,
                span: only.span,
                around: Vec::new(),
                step: None,
                of: "option",
            });
        }
    }
    for step in &manual.steps {
        of_step(step, &mut list);
    }
    for page in &manual.pages {
        let mut around = Vec::new();
        if let Some(only) = &page.only {
            list.push(PlacedCondition {
                condition: &only.value,
                span: only.span,
                around: Vec::new(),
                step: None,
                of: "page",
            });
            around.push(&only.value);
        }
        in_text(&page.body, &mut around, &mut |condition, span, around| {
            list.push(PlacedCondition { condition, span, around: around.to_vec(), step: None, of: "text" });
        });
    }
    list
}

/// The places of which nothing says whether they apply to `variant` as they do to what it is based on: conditions that name
/// that and not the variant itself. None where it says whether it inherits conditions.
pub fn undecided<'a>(
    settings: &Settings,
    all: impl IntoIterator<Item = PlacedCondition<'a>>,
    variant: &VariantName,
) -> Vec<PlacedCondition<'a>> {
    let Some(def) = settings.variants.get(variant).filter(|d| d.inherits_conditions.is_none()) else {
        return Vec::new();
    };
    let Some(base) = def.based_on.as_ref().map(|b| &b.value) else { return Vec::new() };
    let bases = bases(settings, base);
    // A made step has its conditions where the written one has them.
    let mut seen = BTreeSet::new();
    let open =
        |p: &PlacedCondition| asks_of(p.condition, &bases) && !names(p.condition, variant) && seen.insert(p.span);
    all.into_iter().filter(open).collect()
}

/// A variant and those whose conditions mean it too.
fn bases<'a>(settings: &'a Settings, base: &'a VariantName) -> Vec<&'a VariantName> {
    std::iter::once(base).chain(settings.inherited(base)).collect()
}

/// Whether a condition asks for one of these variants by name.
fn asks_of(condition: &Condition, variants: &[&VariantName]) -> bool {
    let asks = |leaf: &&Condition| matches!(leaf, Condition::Name(n) if variants.iter().any(|v| v.as_str() == n.value));
    condition.leaves().iter().any(asks)
}

fn names(condition: &Condition, variant: &VariantName) -> bool {
    condition.names().iter().any(|(name, _)| name.value == variant.as_str())
}

/// How a condition is to be written so that it means `variant` where it means what that is based on: the names to replace,
/// each with what takes its place.
pub fn widened(settings: &Settings, condition: &Condition, variant: &VariantName) -> Vec<(Span, String)> {
    let base = settings.variants.get(variant).and_then(|d| d.based_on.as_ref());
    let bases = base.map_or_else(Vec::new, |base| bases(settings, &base.value));
    // The nearest that is named is enough.
    let nearest = bases.into_iter().find(|b| asks_of(condition, &[*b]));
    let mut changed = Vec::new();
    if let Some(base) = nearest {
        widen(condition, true, base.as_str(), variant.as_str(), &mut changed);
    }
    changed
}

/// `bare`: nothing or an `or` is around it, so that no brackets are needed.
fn widen(condition: &Condition, bare: bool, base: &str, variant: &str, changed: &mut Vec<(Span, String)>) {
    match condition {
        Condition::Name(name) if name.value == base => {
            let both = format!("{base} or {variant}");
            changed.push((name.span, if bare { both } else { format!("({both})") }));
        }
        Condition::Or(any) => any.iter().for_each(|c| widen(c, bare, base, variant, changed)),
        Condition::And(all) => all.iter().for_each(|c| widen(c, false, base, variant, changed)),
        Condition::Not(inner) => widen(inner, false, base, variant, changed),
        _ => {}
    }
}

fn of_step<'a>(step: &'a Step, list: &mut Vec<PlacedCondition<'a>>) {
    walk(&step.front, &STEP, &mut |leaf| {
        if let Some(condition) = step.condition(leaf) {
            let around = leaf.only.iter().filter_map(|span| step.conditions.get(span)).collect();
            let of = if leaf.within.len() == 1 { "step" } else { "item" };
            list.push(PlacedCondition { condition, span: leaf.span, around, step: Some(step), of });
        }
    });
    let mut around: Vec<&Condition> = step.only.iter().filter_map(|only| step.conditions.get(&only.span)).collect();
    in_text(&step.body, &mut around, &mut |condition, span, around| {
        list.push(PlacedCondition { condition, span, around: around.to_vec(), step: Some(step), of: "text" });
    });
}

/// Calls `visit` for every condition in the text, outer ones first, with the conditions around it.
fn in_text<'a>(
    blocks: &'a [MdBlock],
    around: &mut Vec<&'a Condition>,
    visit: &mut dyn FnMut(&'a Condition, Span, &[&'a Condition]),
) {
    for block in blocks {
        let own = match &block.kind {
            MdBlockKind::Only { condition, condition_span, .. } => Some((condition, *condition_span)),
            _ => None,
        };
        if let Some((condition, span)) = own {
            visit(condition, span, around);
            around.push(condition);
        }
        block.children().for_each(|inner| in_text(inner, around, visit));
        if own.is_some() {
            around.pop();
        }
    }
}
