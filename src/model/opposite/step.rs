//! Every field of a step for the other hand.

use std::collections::BTreeMap;

use super::words::Sides;
use crate::figure::FigureFile;
use crate::model::{
    BendUse, CableUse, CalloutTarget, Cut, FigureOpposite, FigureUse, Flattened, Hole, Item, Joint, Manual, Offset,
    Opposite, Step, Thread,
};
use crate::source::Spanned;
use crate::syntax::markdown::{self, Block, BlockKind, Inline, InlineKind};
use crate::units::{AssemblyId, FigureName, Length, PartNumber, StepId};

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
    pub fn step(&mut self, step: &Step) -> Step {
        let mut made = step.clone();
        let figures: BTreeMap<FigureName, FigureName> =
            step.figures.iter().filter_map(|f| Some((f.figure.value.clone(), self.figure_name(f)?))).collect();
        if let Some(id) = self.pairs.get(&step.id.value) {
            made.id.value = id.clone();
        }
        made.opposite = Opposite::Of(step.id.value.clone());
        made.hand = step.hand.map(|h| h.map(|h| h.opposite()));
        made.title.value = self.words(&step.title.value);
        for after in &mut made.after {
            if let Some(id) = self.pairs.get(&after.value.value) {
                after.value.value = id.clone();
            }
        }
        made.makes.iter_mut().for_each(|m| self.assembly(&mut m.value));
        made.closes.iter_mut().for_each(|m| self.assembly(&mut m.value));
        made.assemblies.iter_mut().for_each(|m| self.assembly(&mut m.value.assembly));
        for item in &mut made.parts {
            self.part(&mut item.value.part);
            item.value.becomes.iter_mut().for_each(|(piece, _)| self.part(piece));
            self.note(item);
        }
        made.hardware.iter_mut().for_each(|item| self.note(item));
        for item in &mut made.joints {
            self.joint(&mut item.value);
            self.note(item);
        }
        for item in &mut made.cuts {
            self.cut(&mut item.value);
            self.note(item);
        }
        for item in &mut made.holes {
            self.hole(&mut item.value);
            self.note(item);
        }
        for item in &mut made.bends {
            self.bend(&mut item.value);
            self.note(item);
        }
        for item in &mut made.flattened {
            self.flattened(&mut item.value);
            self.note(item);
        }
        for item in &mut made.cables {
            self.cable(&mut item.value);
            self.note(item);
        }
        for item in &mut made.offsets {
            self.offset(&mut item.value);
            self.note(item);
        }
        if let Some(jig) = &mut made.one_jig {
            let other = jig.other_face_up();
            let written = std::mem::replace(&mut jig.face_up.value, other.unwrap_or_default());
            if let Some(opposite) = &mut jig.opposite_face_up {
                opposite.value = written;
            }
        }
        made.tools.iter_mut().for_each(|item| self.note(item));
        made.consumables.iter_mut().for_each(|item| self.note(item));
        for item in &mut made.safety {
            item.value.text.value = self.words(&item.value.text.value);
        }
        for item in &mut made.figures {
            self.figure(&mut item.value, &figures);
        }
        for item in &mut made.measures {
            item.value.what.value = self.words(&item.value.what.value);
            self.note(item);
        }
        for item in &mut made.inspects {
            self.assembly(&mut item.value.what);
            item.value.look_for = self.words(&item.value.look_for);
        }
        for role in &mut made.sign_off {
            role.value = self.words(&role.value);
        }
        self.blocks(&mut made.body, &figures);
        let mut front = (*step.front).clone();
        self.tree("", &mut front, &figures);
        made.front = std::sync::Arc::new(front);
        made
    }

    fn words(&self, text: &str) -> String {
        self.sides.swapped(text)
    }

    fn note<T>(&self, item: &mut Item<T>) {
        if let Some(note) = &mut item.note {
            *note = self.words(note);
        }
    }

    fn assembly(&self, id: &mut Spanned<AssemblyId>) {
        id.value = AssemblyId::new(self.words(id.value.as_str()));
    }

    fn part(&self, part: &mut Spanned<PartNumber>) {
        if let Some(other) = self.parts.get(&part.value) {
            part.value = other.clone();
        }
    }

    fn joint(&self, joint: &mut Joint) {
        if let Some(id) = &mut joint.id {
            id.value = self.words(&id.value);
        }
        joint.stack.iter_mut().for_each(|m| self.part(&mut m.value.part));
    }

    /// Seen in a mirror a clock runs the other way, and what lay to the right of an axis lies to the left.
    fn cut(&self, cut: &mut Cut) {
        self.part(&mut cut.part);
        if let Some(onto) = &mut cut.onto {
            self.part(onto);
        }
        if let Some(clock) = &mut cut.long_point {
            clock.value = clock.value.from_other_end();
        }
        if let Some(offset) = &mut cut.offset {
            offset.value = Length::ZERO - offset.value;
        }
    }

    fn bend(&self, bend: &mut BendUse) {
        self.part(&mut bend.part);
        for clock in &mut bend.toward {
            clock.value = clock.value.from_other_end();
        }
    }

    fn flattened(&self, flat: &mut Flattened) {
        self.part(&mut flat.part);
        if let Some(clock) = &mut flat.faces {
            clock.value = clock.value.from_other_end();
        }
    }

    /// Threads stay as they are: they are the same on both sides.
    fn cable(&self, cable: &mut CableUse) {
        cable.cable.value = self.words(&cable.cable.value);
        if let Some(part) = &mut cable.part {
            self.part(part);
        }
        if let Some(label) = &mut cable.label {
            label.value = self.words(&label.value);
        }
        for guide in &mut cable.run {
            guide.value.name.value = self.guide(&guide.name.value);
            if let Some(at) = &mut guide.value.at {
                *at = self.words(at);
            }
        }
        if let Some(Thread::These(names)) = &mut cable.thread {
            names.iter_mut().for_each(|name| name.value = self.guide(&name.value));
        }
        for end in [&mut cable.end_a, &mut cable.end_b].into_iter().flatten() {
            if let Some(safety) = &mut end.safety {
                safety.value = self.words(&safety.value);
            }
        }
    }

    /// A part's opposite; a designation stays.
    fn guide(&self, name: &str) -> String {
        self.parts.get(&PartNumber::new(name)).map_or_else(|| name.to_owned(), |p| p.to_string())
    }

    fn offset(&self, offset: &mut Offset) {
        offset.place.value = self.words(&offset.place.value);
        offset.from.value = self.words(&offset.from.value);
        for (side, _) in &mut offset.away {
            *side = side.mirrored();
        }
    }

    fn hole(&self, hole: &mut Hole) {
        if let Some(line) = hole.row.as_mut().and_then(|r| r.line.as_mut()) {
            line.value = line.value.from_other_end();
        }
        self.part(&mut hole.part);
        if let Some(from) = &mut hole.from {
            self.part(from);
        }
        if let Some(name) = &mut hole.hole {
            name.value = self.words(&name.value);
        }
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

    fn figure(&self, figure: &mut FigureUse, figures: &BTreeMap<FigureName, FigureName>) {
        let Some(name) = figures.get(&figure.figure.value) else {
            // It still shows the written step's hand, and says so.
            let hand = self.shown;
            let caption = figure.caption.take().unwrap_or_default();
            figure.caption = Some(format!("{caption} ({hand} shown)").trim().to_owned());
            return;
        };
        figure.figure.value = name.clone();
        figure.opposite = FigureOpposite::Usual;
        if let Some(alt) = &mut figure.alt {
            alt.value = self.words(&alt.value);
        }
        for text in [&mut figure.caption, &mut figure.view, &mut figure.up, &mut figure.forward].into_iter().flatten() {
            *text = self.words(text);
        }
        // To a thousandth of a percent, so that twice is the same.
        let flip = |at: &mut (f64, f64)| at.0 = ((100.0 - at.0) * 1000.0).round() / 1000.0;
        if let Some(crop) = &mut figure.crop {
            crop.value = crop.value.mirrored();
        }
        for arrow in &mut figure.arrows {
            flip(&mut arrow.value.from.value);
            flip(&mut arrow.value.to.value);
            self.note(arrow);
        }
        for callout in &mut figure.callouts {
            let callout = &mut callout.value;
            if let Some(at) = &mut callout.at {
                flip(&mut at.value);
            }
            match &mut callout.target {
                CalloutTarget::Part(part) => self.part(part),
                CalloutTarget::Assembly(id) => self.assembly(id),
                CalloutTarget::Text(text) => *text = self.words(text),
                CalloutTarget::Hardware(_) => {}
            }
        }
    }

    fn blocks(&self, blocks: &mut [Block], figures: &BTreeMap<FigureName, FigureName>) {
        for block in blocks {
            match &mut block.kind {
                BlockKind::Paragraph(content) | BlockKind::Heading { content, .. } => self.inlines(content, figures),
                BlockKind::List { items, .. } => items.iter_mut().for_each(|i| self.blocks(&mut i.blocks, figures)),
                BlockKind::Quote(blocks)
                | BlockKind::Safety { blocks, .. }
                | BlockKind::FootnoteDefinition { blocks, .. }
                | BlockKind::Only { blocks, .. } => self.blocks(blocks, figures),
                BlockKind::Table { head, rows, .. } => {
                    head.iter_mut().chain(rows.iter_mut().flatten()).for_each(|cell| self.inlines(cell, figures));
                }
                BlockKind::Code(text) => *text = self.words(text),
                BlockKind::Rule => {}
            }
        }
    }

    fn inlines(&self, inlines: &mut [Inline], figures: &BTreeMap<FigureName, FigureName>) {
        for inline in inlines {
            match &mut inline.kind {
                InlineKind::Text(text) | InlineKind::Code(text) => *text = self.words(text),
                InlineKind::Strong(inner) | InlineKind::Emphasis(inner) => self.inlines(inner, figures),
                InlineKind::Link { to, content } => {
                    if let Some(other) = self.link(&to.value, figures) {
                        to.value = other;
                    }
                    self.inlines(content, figures);
                }
                InlineKind::SoftBreak | InlineKind::HardBreak | InlineKind::FootnoteMark(_) => {}
            }
        }
    }

    fn link(&self, to: &str, figures: &BTreeMap<FigureName, FigureName>) -> Option<String> {
        let (scheme, name) = to.split_once(':')?;
        Some(match scheme {
            "part" => format!("part:{}", self.parts.get(&PartNumber::new(name))?),
            "step" => format!("step:{}", self.pairs.get(&StepId::new(name))?),
            "figure" => format!("figure:{}", figures.get(&FigureName::new(name))?),
            _ => return None,
        })
    }
}

/// The text of a run, its breaks as spaces.
pub(super) fn plain(inlines: &[markdown::Inline]) -> String {
    inlines
        .iter()
        .map(|i| match &i.kind {
            InlineKind::Text(t) | InlineKind::Code(t) => t.clone(),
            InlineKind::Strong(c) | InlineKind::Emphasis(c) => plain(c),
            InlineKind::Link { to, content } if content.is_empty() => to.value.clone(),
            InlineKind::Link { content, .. } => plain(content),
            InlineKind::SoftBreak | InlineKind::HardBreak => " ".to_owned(),
            InlineKind::FootnoteMark(_) => String::new(),
        })
        .collect()
}
