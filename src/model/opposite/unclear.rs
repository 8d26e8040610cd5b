//! Places of a written step where it can't be told what its opposite says.

use super::sides;
use super::words::Sides;
use crate::model::schema::{Holds, STEP, walk};
use crate::model::{FigureOpposite, Manual, Opposite, Step};
use crate::source::Span;
use crate::syntax::markdown::{MdBlock, MdBlockKind, MdInline, MdInlineKind};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum UnclearKind {
    /// A word of turning, or a side after a verb of turning.
    Turning,
    /// A side word in a table, which may name a column and not a side.
    Table,
    /// A side word in a quotation.
    Quotation,
    /// A side word in the lettering of a drawing.
    Lettering,
    /// A face of a part in a jig for both hands, of which the other side has no plain name.
    Face,
}

/// A place, and the words there.
#[derive(Clone, Debug)]
pub struct Unclear {
    pub kind: UnclearKind,
    pub span: Span,
    pub words: String,
}

/// The places that the author has not marked; none for a step without an opposite made from it.
pub fn unclear(manual: &Manual, step: &Step) -> Vec<Unclear> {
    if !matches!(step.opposite, Opposite::Made { .. }) {
        return Vec::new();
    }
    let sides = sides(manual, step);
    let mut look = UnclearLook { sides: &sides, found: Vec::new() };
    walk(&step.front, &STEP, &mut |leaf| {
        if matches!(leaf.holds, Holds::Words) {
            look.text(leaf.text, leaf.span, None);
        }
    });
    if let Some(jig) = step.one_jig.as_ref().filter(|j| j.other_face_up().is_none()) {
        look.found.push(Unclear { kind: UnclearKind::Face, span: jig.face_up.span, words: jig.face_up.value.clone() });
    }
    for figure in &step.figures {
        if matches!(figure.opposite, FigureOpposite::Usual)
            && let Some(file) = manual.figures.get(&figure.figure.value)
        {
            for words in file.lettering() {
                look.text(&words, figure.figure.span, Some(UnclearKind::Lettering));
            }
        }
    }
    look.blocks(&step.body, None);
    look.found
}

struct UnclearLook<'a> {
    sides: &'a Sides,
    found: Vec<Unclear>,
}

impl UnclearLook<'_> {
    /// `within` is what makes every side word here doubtful.
    fn text(&mut self, text: &str, span: Span, within: Option<UnclearKind>) {
        for range in self.sides.doubtful(text) {
            self.found.push(Unclear { kind: UnclearKind::Turning, span, words: text[range].to_owned() });
        }
        if let Some(kind) = within {
            for range in self.sides.found(text) {
                self.found.push(Unclear { kind, span, words: text[range].to_owned() });
            }
        }
    }

    fn blocks(&mut self, blocks: &[MdBlock], within: Option<UnclearKind>) {
        for block in blocks {
            let within = match &block.kind {
                MdBlockKind::Quote(_) | MdBlockKind::Code(_) => Some(UnclearKind::Quotation),
                MdBlockKind::Table { .. } => Some(UnclearKind::Table),
                _ => within,
            };
            if let MdBlockKind::Code(text) = &block.kind {
                self.text(text, block.span, within);
            }
            block.runs().for_each(|run| self.run(run, block.span, within));
            block.children().for_each(|inner| self.blocks(inner, within));
        }
    }

    /// A run is looked at as a whole, so that a verb and its side are seen together; the place is that of the piece
    /// that has the word, where one piece has it alone.
    fn run(&mut self, content: &[MdInline], span: Span, within: Option<UnclearKind>) {
        let from = self.found.len();
        self.text(&super::step::plain(content), span, within);
        for found in &mut self.found[from..] {
            let mut pieces =
                content.iter().filter(|i| matches!(&i.kind, MdInlineKind::Text(t) if t.contains(&found.words)));
            if let (Some(one), None) = (pieces.next(), pieces.next()) {
                found.span = one.span;
            }
        }
    }
}
