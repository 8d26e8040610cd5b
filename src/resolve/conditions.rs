//! Every condition of a manual in its place.

use crate::model::{Item, Manual, Step};
use crate::source::Span;
use crate::syntax::Condition;
use crate::syntax::markdown::{Block, BlockKind};

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
    // Taken apart field by field, so that a new one can't be forgotten here.
    let Step {
        after,
        makes,
        parts,
        assemblies,
        hardware,
        joints,
        cuts,
        bends,
        flattened,
        cables,
        holes,
        offsets,
        tools,
        consumables,
        safety,
        figures,
        measures,
        inspects,
        closes,
        already_built,
        only,
        body,
        file: _,
        path: _,
        id: _,
        title: _,
        section: _,
        hand: _,
        opposite: _,
        one_jig: _,
        sign_off: _,
        hours: _,
        front: _,
    } = step;
    let mut around: Vec<&Condition> = Vec::new();
    if let Some(only) = only {
        list.push(PlacedCondition {
            condition: &only.value,
            span: only.span,
            around: Vec::new(),
            step: Some(step),
            of: "step",
        });
        around.push(&only.value);
    }
    fn add<'a, T>(items: &'a [Item<T>], step: &'a Step, around: &[&'a Condition], list: &mut Vec<PlacedCondition<'a>>) {
        for only in items.iter().filter_map(|i| i.only.as_ref()) {
            let around = around.to_vec();
            list.push(PlacedCondition {
                condition: &only.value,
                span: only.span,
                around,
                step: Some(step),
                of: "item",
            });
        }
    }
    fn inside<'a, T>(item: &'a Item<T>, around: &[&'a Condition]) -> Vec<&'a Condition> {
        around.iter().copied().chain(item.only.as_ref().map(|o| &o.value)).collect()
    }
    add(after, step, &around, list);
    add(makes, step, &around, list);
    add(parts, step, &around, list);
    add(assemblies, step, &around, list);
    add(hardware, step, &around, list);
    add(joints, step, &around, list);
    joints.iter().for_each(|joint| add(&joint.stack, step, &inside(joint, &around), list));
    add(cuts, step, &around, list);
    add(bends, step, &around, list);
    add(flattened, step, &around, list);
    add(cables, step, &around, list);
    cables.iter().for_each(|cable| add(&cable.run, step, &inside(cable, &around), list));
    add(holes, step, &around, list);
    add(offsets, step, &around, list);
    add(tools, step, &around, list);
    add(consumables, step, &around, list);
    add(safety, step, &around, list);
    add(figures, step, &around, list);
    for figure in figures {
        let around = inside(figure, &around);
        add(&figure.callouts, step, &around, list);
        add(&figure.arrows, step, &around, list);
    }
    add(measures, step, &around, list);
    add(inspects, step, &around, list);
    add(closes, step, &around, list);
    add(already_built, step, &around, list);
    in_text(body, &mut around, &mut |condition, span, around| {
        list.push(PlacedCondition { condition, span, around: around.to_vec(), step: Some(step), of: "text" });
    });
}

/// Calls `visit` for every condition in the text, outer ones first, with the conditions around it.
fn in_text<'a>(
    blocks: &'a [Block],
    around: &mut Vec<&'a Condition>,
    visit: &mut dyn FnMut(&'a Condition, Span, &[&'a Condition]),
) {
    for block in blocks {
        match &block.kind {
            BlockKind::Only { condition, condition_span, blocks } => {
                visit(condition, *condition_span, around);
                around.push(condition);
                in_text(blocks, around, visit);
                around.pop();
            }
            BlockKind::List { items, .. } => {
                for item in items {
                    in_text(&item.blocks, around, visit);
                }
            }
            BlockKind::Quote(blocks)
            | BlockKind::Safety { blocks, .. }
            | BlockKind::FootnoteDefinition { blocks, .. } => in_text(blocks, around, visit),
            _ => {}
        }
    }
}
