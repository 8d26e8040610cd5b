//! Every condition of a manual in its place.

use crate::model::schema::{STEP, walk};
use crate::model::{Manual, Step};
use crate::source::Span;
use crate::syntax::Condition;
use crate::syntax::markdown::{MdBlock, MdBlockKind};

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
