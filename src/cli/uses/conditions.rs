//! What in a step stands under a condition of its own.

use super::Under;
use crate::model::{Item, Step};
use crate::source::Span;
use crate::syntax::markdown::{Block, BlockKind};

/// An item or a stretch of text, and its condition.
#[derive(Clone, Debug)]
pub(in crate::cli) struct Conditioned<'a> {
    /// What it is: `the part`, `the text`.
    pub what: &'static str,
    pub span: Span,
    pub only: Under<'a>,
}

/// Everything in a step that stands under a condition of its own, in the order written.
pub(in crate::cli) fn conditions(step: &Step) -> Vec<Conditioned<'_>> {
    let mut found = Vec::new();
    of(&mut found, "the step before", &step.after);
    of(&mut found, "what is made", &step.makes);
    of(&mut found, "the part", &step.parts);
    of(&mut found, "the assembly", &step.assemblies);
    of(&mut found, "the hardware", &step.hardware);
    of(&mut found, "the joint", &step.joints);
    for joint in &step.joints {
        of(&mut found, "the part in the joint", &joint.stack);
    }
    of(&mut found, "the cut", &step.cuts);
    of(&mut found, "the bend", &step.bends);
    of(&mut found, "the flattened end", &step.flattened);
    of(&mut found, "the cable", &step.cables);
    for cable in &step.cables {
        of(&mut found, "the place of the cable's run", &cable.run);
    }
    of(&mut found, "the hole", &step.holes);
    of(&mut found, "the offset", &step.offsets);
    of(&mut found, "the tool", &step.tools);
    of(&mut found, "the consumable", &step.consumables);
    of(&mut found, "the safety message", &step.safety);
    of(&mut found, "the figure", &step.figures);
    for figure in &step.figures {
        of(&mut found, "the callout", &figure.callouts);
        of(&mut found, "the arrow", &figure.arrows);
    }
    of(&mut found, "the measure", &step.measures);
    of(&mut found, "the inspection", &step.inspects);
    of(&mut found, "what is closed", &step.closes);
    found.extend(text_conditions(&step.body));
    found.sort_by_key(|c| (c.span.start, std::cmp::Reverse(c.span.end)));
    found
}

fn of<'a, T>(found: &mut Vec<Conditioned<'a>>, what: &'static str, items: &'a [Item<T>]) {
    let conditioned = items.iter().filter_map(|i| Some((i.span, i.only.as_ref()?)));
    found.extend(conditioned.map(|(span, only)| Conditioned { what, span, only: only.into() }));
}

/// The stretches of text under a condition, from the outside in.
pub(in crate::cli) fn text_conditions(blocks: &[Block]) -> Vec<Conditioned<'_>> {
    let mut found = Vec::new();
    for block in blocks {
        match &block.kind {
            BlockKind::Only { condition, condition_span, blocks } => {
                let only = Under { condition, span: *condition_span };
                found.push(Conditioned { what: "the text", span: block.span, only });
                found.extend(text_conditions(blocks));
            }
            BlockKind::List { items, .. } => items.iter().for_each(|i| found.extend(text_conditions(&i.blocks))),
            BlockKind::Quote(blocks)
            | BlockKind::Safety { blocks, .. }
            | BlockKind::FootnoteDefinition { blocks, .. } => found.extend(text_conditions(blocks)),
            _ => {}
        }
    }
    found
}
