//! The author's Markdown as blocks: references resolved, footnotes numbered, safety messages found.

use std::collections::BTreeMap;

use super::{DocumentComposer, hardware_anchor, part_anchor, step_anchor};
use crate::action::ActionPlace;
use crate::document::block::{Block, BlockKind, Field, ListItem, Origin};
use crate::document::inline::{Inline, Inlines};
use crate::document::leaf::Purpose;
use crate::document::table::{CellAlign, Column, ColumnKind, Table, TableCell, TableRole, TableRow, Width};
use crate::model::OwnLink;
use crate::resolve::ResolvedStep;
use crate::syntax::markdown as md;
use crate::trade::SafetyWord;
use crate::units::{ConsumableId, Designation, FigureName, PartNumber, StepId, ToolId};

/// The blocks of a text, and for each top-level block the figures it refers to.
pub(super) struct ComposedText {
    pub blocks: Vec<(Block, Vec<FigureName>)>,
    pub footnotes: Vec<Block>,
}

/// The text of a step as blocks, each action with what it needs below it.
pub(super) fn step_text(c: &DocumentComposer, s: &ResolvedStep) -> ComposedText {
    let values = super::actions::values(c, s);
    text_of(TextWriter { step: Some(&s.step.id.value), values, ..TextWriter::new(c, "text") }, &s.step.body)
}

fn text_of(mut w: TextWriter, body: &[md::MdBlock]) -> ComposedText {
    let mut blocks = Vec::new();
    let mut footnotes = Vec::new();
    for (at, b) in body.iter().enumerate() {
        if let md::MdBlockKind::FootnoteDefinition { label, blocks } = &b.kind {
            let item = w.count();
            let number = w.note(label);
            let blocks = w.blocks(blocks);
            footnotes.push((number, w.block(BlockKind::Footnote { number, blocks }, item)));
            continue;
        }
        w.figures.clear();
        w.top = at;
        if let Some(block) = w.convert(b) {
            blocks.push((block, std::mem::take(&mut w.figures)));
        }
        blocks.extend(w.values_of(None).map(|values| (values, Vec::new())));
    }
    footnotes.sort_by_key(|f| f.0);
    ComposedText { blocks, footnotes: footnotes.into_iter().map(|f| f.1).collect() }
}

/// All of it in one list, footnotes last. `field` is the word of the page that the text is on.
pub(super) fn plain_blocks(c: &DocumentComposer, body: &[md::MdBlock], field: &'static str) -> Vec<Block> {
    let text = text_of(TextWriter::new(c, field), body);
    text.blocks.into_iter().map(|b| b.0).chain(text.footnotes).collect()
}

/// Numbers the lines of values: more actions than this are in no list.
const MOST_ACTIONS: usize = 10_000;

struct TextWriter<'a, 'b> {
    c: &'a DocumentComposer<'b>,
    step: Option<&'a StepId>,
    /// Of the origin of the blocks.
    field: &'static str,
    /// The number of the next block in reading order, those inside others included; what is compared between
    /// releases is counted in the same way.
    next: usize,
    /// Footnote numbers by label, in the order of their first mark.
    notes: BTreeMap<String, u32>,
    figures: Vec<FigureName>,
    /// How deep in lists.
    depth: u32,
    /// What stands below each action.
    values: BTreeMap<ActionPlace, Vec<Field>>,
    /// The number of the block of the text that we are in.
    top: usize,
}

impl<'a, 'b> TextWriter<'a, 'b> {
    fn new(c: &'a DocumentComposer<'b>, field: &'static str) -> Self {
        Self {
            c,
            step: None,
            field,
            next: 0,
            notes: BTreeMap::new(),
            figures: Vec::new(),
            depth: 0,
            values: BTreeMap::new(),
            top: 0,
        }
    }

    /// What stands below an action: an item of the list that we are in, or the whole block.
    fn values_of(&mut self, item: Option<usize>) -> Option<Block> {
        let values = self.values.remove(&ActionPlace { block: self.top, item })?;
        let at = self.top * MOST_ACTIONS + item.unwrap_or(0);
        let origin = Origin { step: self.step.cloned(), field: "values", item: at };
        Some(Block { kind: BlockKind::Values(values), origin, anchor: None })
    }

    fn block(&self, kind: BlockKind, item: usize) -> Block {
        Block { kind, origin: Origin { step: self.step.cloned(), field: self.field, item }, anchor: None }
    }

    /// Takes the next number.
    fn count(&mut self) -> usize {
        self.next += 1;
        self.next - 1
    }

    fn note(&mut self, label: &str) -> u32 {
        let next = self.notes.len() as u32 + 1;
        *self.notes.entry(label.to_owned()).or_insert(next)
    }

    fn blocks(&mut self, blocks: &[md::MdBlock]) -> Vec<Block> {
        blocks.iter().filter_map(|b| self.convert(b)).collect()
    }

    fn convert(&mut self, b: &md::MdBlock) -> Option<Block> {
        let item = self.count();
        let kind = match &b.kind {
            md::MdBlockKind::Paragraph(content) => BlockKind::Paragraph(self.inlines(content)),
            md::MdBlockKind::Heading { level, content } => {
                BlockKind::Heading { level: (*level + 1).clamp(2, 4), number: None, text: self.inlines(content) }
            }
            md::MdBlockKind::List { ordered, items } => {
                self.depth += 1;
                // On the bench each action of a step gets a box.
                let actions = self.c.purpose == Purpose::ShopCopy && self.step.is_some();
                let boxed = actions && ordered.is_some() && self.depth == 1;
                let mut made = Vec::with_capacity(items.len());
                for (at, i) in items.iter().enumerate() {
                    let mut blocks = self.blocks(&i.blocks);
                    if self.depth == 1 {
                        blocks.extend(self.values_of(Some(at)));
                    }
                    made.push(ListItem { tick: boxed || i.task.is_some(), blocks });
                }
                self.depth -= 1;
                BlockKind::List { ordered: *ordered, items: made }
            }
            md::MdBlockKind::Quote(blocks) => BlockKind::Quote(self.blocks(blocks)),
            md::MdBlockKind::Safety { word, blocks } => {
                BlockKind::Safety { word: signal_word(&word.value), blocks: self.blocks(blocks) }
            }
            md::MdBlockKind::Table { aligns, head, rows } => BlockKind::Table(self.table(aligns, head, rows)),
            md::MdBlockKind::Code(code) => BlockKind::Preformatted(code.as_str().into()),
            md::MdBlockKind::Rule => BlockKind::Rule,
            md::MdBlockKind::FootnoteDefinition { label, blocks } => {
                let number = self.note(label);
                BlockKind::Footnote { number, blocks: self.blocks(blocks) }
            }
            // Decided when the configuration was made.
            md::MdBlockKind::Only { .. } => return None,
        };
        Some(self.block(kind, item))
    }

    fn table(
        &mut self,
        aligns: &[md::ColumnAlign],
        head: &[Vec<md::MdInline>],
        rows: &[Vec<Vec<md::MdInline>>],
    ) -> Table {
        let columns = head
            .iter()
            .enumerate()
            .map(|(i, title)| Column {
                title: self.inlines(title),
                align: match aligns.get(i) {
                    Some(md::ColumnAlign::Center) => CellAlign::Center,
                    Some(md::ColumnAlign::Right) => CellAlign::End,
                    _ => CellAlign::Start,
                },
                width: Width::Share(1),
                kind: if i == 0 { ColumnKind::Name } else { ColumnKind::Plain },
            })
            .collect();
        let rows = rows
            .iter()
            .map(|cells| TableRow {
                cells: cells.iter().map(|cell| TableCell { content: self.inlines(cell), span: 1 }).collect(),
                anchor: None,
                origin: Origin { step: self.step.cloned(), field: self.field, item: self.count() },
            })
            .collect();
        Table { role: TableRole::Plain, caption: Vec::new(), columns, rows }
    }

    fn inlines(&mut self, content: &[md::MdInline]) -> Inlines {
        content.iter().map(|i| self.inline(i)).collect()
    }

    fn inline(&mut self, inline: &md::MdInline) -> Inline {
        match &inline.kind {
            md::MdInlineKind::Text(t) => Inline::text(t),
            md::MdInlineKind::Strong(c) => Inline::Strong(self.inlines(c)),
            md::MdInlineKind::Emphasis(c) => Inline::Emphasis(self.inlines(c)),
            md::MdInlineKind::Code(t) => Inline::Code(t.as_str().into()),
            md::MdInlineKind::SoftBreak => Inline::text(" "),
            md::MdInlineKind::HardBreak => Inline::LineBreak,
            md::MdInlineKind::FootnoteMark(label) => Inline::FootnoteMark(self.note(label)),
            md::MdInlineKind::Link { to, content } => self.link(&to.value, content),
        }
    }

    /// What the step says itself: a value is printed, behind the words where there are any; of anything else the name.
    fn own(&self, to: &str, content: Inlines) -> Inline {
        let Some((kind, name)) = OwnLink::of(to) else { return Inline::Emphasis(content) };
        let step = self.step.and_then(|id| self.c.steps.get(id));
        let value = step.filter(|_| kind.prints()).and_then(|s| super::actions::value(self.c, s, kind, name));
        match value {
            Some(value) if content.is_empty() => Inline::Strong(value),
            Some(value) => {
                let mut all = content;
                all.push(Inline::text("\u{a0}"));
                all.push(Inline::Strong(value));
                Inline::Emphasis(all)
            }
            None => {
                let words = match content.is_empty() {
                    true => vec![Inline::text(super::spoken(name.rsplit('/').next().unwrap_or(name)))],
                    false => content,
                };
                match step.and_then(|s| super::actions::row_of(s, kind, name)) {
                    Some(to) => Inline::Link { to, content: words },
                    None => Inline::Emphasis(words),
                }
            }
        }
    }

    /// A reference, with its own text or, where that is empty, with what it names.
    fn link(&mut self, to: &str, content: &[md::MdInline]) -> Inline {
        let content = self.inlines(content);
        let or = |content: Inlines, text: String| if content.is_empty() { vec![Inline::text(text)] } else { content };
        let (scheme, name) = to.split_once(':').unwrap_or(("", to));
        let c = self.c;
        match scheme {
            "part" => {
                let number = PartNumber::new(name);
                let words = c.part(&number).map_or_else(|| name.to_owned(), |p| format!("{name} {}", p.name));
                Inline::Link { to: part_anchor(&number), content: or(content, words) }
            }
            "hardware" => {
                let designation = Designation::new(name);
                let words = c.hardware(&designation).filter(|h| !h.name.is_empty());
                let words = words.map_or_else(|| name.to_owned(), |h| format!("{name} {}", h.name));
                Inline::Link { to: hardware_anchor(&designation), content: or(content, words) }
            }
            "step" => {
                let id = StepId::new(name);
                match c.steps.get(&id) {
                    Some(s) => {
                        let title = Inline::text(format!(" {}", s.step.title.value));
                        let words = vec![Inline::text("step "), super::step_number(s), title];
                        Inline::Link { to: step_anchor(&id), content: if content.is_empty() { words } else { content } }
                    }
                    None => Inline::Emphasis(or(content, name.to_owned())),
                }
            }
            "figure" => {
                let figure = FigureName::new(name);
                let here = self.step.filter(|s| c.figures.contains_key(&(*s, &figure)));
                let step = here.or_else(|| c.first_figure.get(&figure).copied());
                match step.and_then(|s| c.figures.get(&(s, &figure))) {
                    Some(place) => {
                        let to = place.anchor.clone();
                        let label = vec![Inline::number(to.clone(), &place.label)];
                        self.figures.push(figure);
                        Inline::Link { to, content: if content.is_empty() { label } else { content } }
                    }
                    None => Inline::Emphasis(or(content, name.to_owned())),
                }
            }
            "tool" => {
                let words = c.manual.settings.tool_title(&ToolId::new(name)).to_owned();
                Inline::Emphasis(or(content, words))
            }
            "consumable" => {
                let words = c.manual.settings.consumable_title(&ConsumableId::new(name)).to_owned();
                Inline::Emphasis(or(content, words))
            }
            // The action says what it needs of it, right below.
            _ if OwnLink::of(to).is_some() => self.own(to, content),
            _ => {
                let words = to.to_owned();
                Inline::Outside { to: to.into(), content: or(content, words) }
            }
        }
    }
}

/// The signal word of a quote; parsing has made sure that it is one.
fn signal_word(word: &str) -> SafetyWord {
    match word.to_ascii_uppercase().as_str() {
        "DANGER" => SafetyWord::Danger,
        "WARNING" => SafetyWord::Warning,
        "CAUTION" => SafetyWord::Caution,
        "NOTICE" => SafetyWord::Notice,
        _ => SafetyWord::Note,
    }
}
