//! The step for the other hand: the written one's tree and text mirrored by the schema, then read like any other step.

use std::collections::BTreeMap;

use super::tree::Mirrored;
use super::words::Sides;
use crate::diag::{Diagnostic, Sink};
use crate::figure::FigureFile;
use crate::model::lower::read_step;
use crate::model::{FigureOpposite, FigureUse, Manual, Opposite, OwnLink, Step};
use crate::syntax::markdown::{self, MdBlock, MdBlockKind, MdInline, MdInlineKind};
use crate::syntax::{Node, StepFile};
use crate::units::{FigureName, PartNumber, StepId};

/// What a step is mirrored by.
pub(super) struct Mirror<'a> {
    pub manual: &'a Manual,
    pub sides: &'a Sides,
    pub parts: &'a BTreeMap<PartNumber, PartNumber>,
    /// Steps that stand for two, and the made ones.
    pub pairs: &'a BTreeMap<StepId, StepId>,
    /// The hand of the written step, which a picture shows that is not mirrored.
    pub shown: &'static str,
    /// Drawings that were mirrored.
    pub drawings: &'a mut BTreeMap<FigureName, FigureFile>,
}

impl Mirror<'_> {
    /// The made step. What reading it finds and reading the written one did not goes to `sink`.
    pub fn step(&mut self, step: &Step, sink: &mut Sink) -> Option<Step> {
        let figures: BTreeMap<FigureName, FigureName> =
            step.figures.iter().filter_map(|f| Some((f.figure.value.clone(), self.figure_name(f)?))).collect();
        let mirrored =
            Mirrored { sides: self.sides, parts: self.parts, pairs: self.pairs, figures: &figures, shown: self.shown };
        let mut front = (*step.front).clone();
        mirrored.step(&mut front);
        let mut body = step.body.clone();
        self.blocks(&mut body, &figures);
        let (mut made, found) = read(step, front, body)?;
        let (_, known) = read(step, (*step.front).clone(), Vec::new())?;
        sink.extend(found.into_iter().filter(|d| !known.iter().any(|k| same(k, d))));
        made.id.value = self.pairs.get(&step.id.value).unwrap_or(&step.id.value).clone();
        made.opposite = Opposite::Of(step.id.value.clone());
        Some(made)
    }

    /// What is shown in place of a figure; none where it is shown as it is.
    fn figure_name(&mut self, figure: &FigureUse) -> Option<FigureName> {
        match &figure.opposite {
            FigureOpposite::Same => return None,
            FigureOpposite::Other(name) => return Some(name.value.clone()),
            FigureOpposite::Usual => {}
        }
        let file = self.manual.figures.get(&figure.figure.value)?;
        let stem = figure.figure.as_str().trim_end_matches(".svg");
        let name = FigureName::new(format!("{stem}--opposite.svg"));
        if !self.drawings.contains_key(&name) {
            self.drawings.insert(name.clone(), file.mirrored(name.clone())?);
        }
        Some(name)
    }

    fn blocks(&self, blocks: &mut [MdBlock], figures: &BTreeMap<FigureName, FigureName>) {
        for block in blocks {
            if let MdBlockKind::Code(text) = &mut block.kind {
                *text = self.sides.swapped(text);
            }
            block.runs_mut().for_each(|run| self.inlines(run, figures));
            block.children_mut().for_each(|inner| self.blocks(inner, figures));
        }
    }

    fn inlines(&self, inlines: &mut [MdInline], figures: &BTreeMap<FigureName, FigureName>) {
        for inline in inlines {
            match &mut inline.kind {
                MdInlineKind::Text(text) | MdInlineKind::Code(text) => *text = self.sides.swapped(text),
                MdInlineKind::Link { to, .. } => {
                    if let Some(other) = self.link(&to.value, figures) {
                        to.value = other;
                    }
                }
                _ => {}
            }
            self.inlines(inline.children_mut(), figures);
        }
    }

    fn link(&self, to: &str, figures: &BTreeMap<FigureName, FigureName>) -> Option<String> {
        let (scheme, name) = to.split_once(':')?;
        Some(match scheme {
            "part" => format!("part:{}", self.parts.get(&PartNumber::new(name))?),
            "step" => format!("step:{}", self.pairs.get(&StepId::new(name))?),
            "figure" => format!("figure:{}", figures.get(&FigureName::new(name))?),
            _ if OwnLink::of(to).is_some() => {
                // `hole:SK-115/front` names a part and what is on it.
                let (first, rest) = name.split_once('/').map_or((name, None), |(first, rest)| (first, Some(rest)));
                let first = match self.parts.get(&PartNumber::new(first)) {
                    Some(other) => other.to_string(),
                    None => self.sides.swapped(first),
                };
                let rest = rest.map_or_else(String::new, |rest| format!("/{}", self.sides.swapped(rest)));
                format!("{scheme}:{first}{rest}")
            }
            _ => return None,
        })
    }
}

/// Reads a tree as the step that it was made from is read.
fn read(step: &Step, front: Node, body: Vec<MdBlock>) -> Option<(Step, Sink)> {
    let mut sink = Sink::new();
    let file = StepFile { file: step.file, front: Some(front), body, body_start: 0 };
    let (made, _) = read_step(file, &step.path, &mut sink)?;
    Some((made, sink))
}

fn same(a: &Diagnostic, b: &Diagnostic) -> bool {
    (a.rule, a.span) == (b.rule, b.span)
}

/// The text of a run, its breaks as spaces.
pub(super) fn plain(inlines: &[markdown::MdInline]) -> String {
    inlines
        .iter()
        .map(|i| match &i.kind {
            MdInlineKind::Text(t) | MdInlineKind::Code(t) => t.clone(),
            MdInlineKind::Strong(c) | MdInlineKind::Emphasis(c) => plain(c),
            MdInlineKind::Link { to, content } if content.is_empty() => to.value.clone(),
            MdInlineKind::Link { content, .. } => plain(content),
            MdInlineKind::SoftBreak | MdInlineKind::HardBreak => " ".to_owned(),
            MdInlineKind::FootnoteMark(_) => String::new(),
        })
        .collect()
}
