//! What is printed of a block, as bytes: two blocks that print the same give the same bytes.
//!
//! Numbers that follow from the order are left out: what they are numbers of stands in their place.

use std::collections::BTreeSet;

use super::Pictures;
use crate::document::block::{Arrow, Block, BlockKind, Callout, Drawn, Field, Figure, Group, StepHead};
use crate::document::inline::{Anchor, Inline};
use crate::document::table::{Table, TableRow};
use crate::units::{Measure, UnitStyle, plain};

/// Begins and ends what is no text. Neither byte stands in UTF-8.
const MARK: u8 = 0xFF;
const END: u8 = 0xFE;

/// Places in figures are told apart in thousandths of a percent.
const STEPS: f64 = 1000.0;

pub(super) struct PrintWriter<'a> {
    pub out: Vec<u8>,
    pub units: UnitStyle,
    pub pictures: Pictures<'a>,
}

impl PrintWriter<'_> {
    pub fn tag(&mut self, tag: u8) {
        self.out.extend([MARK, tag]);
    }

    fn end(&mut self) {
        self.out.push(END);
    }

    fn text(&mut self, text: &str) {
        self.out.extend(text.as_bytes());
    }

    fn anchor(&mut self, anchor: Option<&Anchor>) {
        self.text(anchor.map_or("", Anchor::as_str));
        self.end();
    }

    fn places(&mut self, all: &[f64]) {
        all.iter().for_each(|n| self.out.extend(((n * STEPS).round() as i64).to_le_bytes()));
    }

    /// A line and its end.
    pub fn line(&mut self, line: &[Inline]) {
        match numbers_alone(line) {
            // The order of a list of steps is that of their numbers.
            Some(of) => of.into_iter().for_each(|anchor| {
                self.tag(b'#');
                self.anchor(Some(anchor));
            }),
            None => line.iter().for_each(|inline| self.inline(inline)),
        }
        self.end();
    }

    fn value(&mut self, text: &str) {
        self.tag(b'v');
        self.text(text);
        self.end();
    }

    fn inline(&mut self, inline: &Inline) {
        let units = self.units;
        match inline {
            Inline::Text(text) => self.text(text),
            Inline::Strong(content) => {
                self.tag(b's');
                self.line(content);
            }
            Inline::Emphasis(content) => {
                self.tag(b'e');
                self.line(content);
            }
            Inline::Code(text) => {
                self.tag(b'c');
                self.text(text);
                self.end();
            }
            Inline::Link { to, content } => {
                self.tag(b'l');
                self.anchor(Some(to));
                self.line(content);
            }
            Inline::Outside { to, content } => {
                self.tag(b'o');
                self.text(to);
                self.end();
                self.line(content);
            }
            Inline::Number { of, .. } => {
                self.tag(b'#');
                self.anchor(Some(of));
            }
            Inline::PageOf(anchor) => {
                self.tag(b'p');
                self.anchor(Some(anchor));
            }
            Inline::Length(length) => self.value(&plain(&length.pieces(units))),
            Inline::Angle(angle) => self.value(&angle.to_string()),
            Inline::Quantity(quantity) => self.value(&quantity.to_string()),
            Inline::Measure(measure) => self.value(&shown(*measure, units)),
            Inline::Hand(hand) => {
                self.tag(b'h');
                self.text(hand.word());
            }
            Inline::Callout(number) => {
                self.tag(b'n');
                self.value(&number.to_string());
            }
            Inline::TickBox => self.tag(b't'),
            Inline::Blank(width) => {
                self.tag(b'b');
                self.value(&width.to_string());
            }
            Inline::FootnoteMark(number) => {
                self.tag(b'f');
                self.value(&number.to_string());
            }
            Inline::LineBreak => self.tag(b'r'),
        }
    }

    /// What the block prints itself, without the blocks in it, the rows of its table, and of a step's head the title.
    pub fn block(&mut self, block: &Block) {
        match &block.kind {
            BlockKind::Heading { level, number, text } => {
                self.out.extend([MARK, b'H', *level]);
                self.text(number.as_deref().unwrap_or(""));
                self.end();
                self.line(text);
            }
            BlockKind::Paragraph(text) => {
                self.tag(b'P');
                self.line(text);
            }
            BlockKind::List { ordered, items: _ } => {
                self.tag(b'L');
                self.text(&ordered.map_or_else(String::new, |n| n.to_string()));
            }
            BlockKind::Table(table) => self.table(table),
            BlockKind::Safety { word, blocks: _ } => {
                self.tag(b'S');
                self.text(word.word());
            }
            BlockKind::Figure(figure) => self.figure(figure, block.anchor.as_ref()),
            BlockKind::Drawing(Drawn { drawing, caption }) => {
                self.tag(b'D');
                drawing.push_bytes(self.units, &mut self.out);
                self.line(caption);
            }
            BlockKind::Fields(fields) => {
                self.tag(b'F');
                self.fields(fields);
            }
            BlockKind::Values(fields) => {
                self.tag(b'V');
                self.fields(fields);
            }
            // It repeats what is in it.
            BlockKind::Region(_) => {}
            BlockKind::StepHead(head) => self.head(head),
            BlockKind::Group(Group { role, title, blocks: _ }) => {
                self.tag(b'G');
                self.text(role);
                self.end();
                self.line(title);
            }
            BlockKind::SignOff { role } => {
                self.tag(b'O');
                self.line(role);
            }
            BlockKind::Quote(_) => self.tag(b'Q'),
            BlockKind::Preformatted(text) => {
                self.tag(b'C');
                self.text(text);
            }
            BlockKind::Contents(entries) => {
                self.tag(b'N');
                for entry in entries {
                    self.out.push(entry.level);
                    self.anchor(Some(&entry.to));
                    self.line(&entry.title);
                }
            }
            BlockKind::Footnote { number, blocks: _ } => {
                self.tag(b'T');
                self.text(&number.to_string());
            }
            BlockKind::Rule => self.tag(b'R'),
        }
    }

    fn fields(&mut self, fields: &[Field]) {
        for field in fields {
            self.line(&field.label);
            self.line(&field.value);
        }
    }

    fn head(&mut self, head: &StepHead) {
        let StepHead { number: _, title: _, section, hand, effectivity, facts } = head;
        self.tag(b'A');
        self.line(section);
        self.text(hand.map_or("", |h| h.word()));
        self.end();
        self.line(effectivity.as_deref().unwrap_or(&[]));
        self.fields(facts);
    }

    fn figure(&mut self, figure: &Figure, anchor: Option<&Anchor>) {
        let Figure { name, label: _, alt, caption, view, crop, callouts, arrows, width } = figure;
        self.tag(b'I');
        self.anchor(anchor);
        let picture = (self.pictures)(name);
        self.text(&picture);
        self.end();
        self.text(alt);
        self.end();
        self.line(caption);
        self.line(view);
        if let Some(crop) = crop {
            let (left, top, wide, high) = crop.around(100.0, 100.0);
            self.places(&[left, top, wide, high]);
        }
        for Callout { number, at, text, to } in callouts {
            self.value(&number.to_string());
            self.places(&[at.0, at.1]);
            self.line(text);
            self.anchor(to.as_ref());
        }
        for Arrow { from, to } in arrows {
            self.tag(b'a');
            self.places(&[from.0, from.1, to.0, to.1]);
        }
        if let Some(width) = width {
            self.value(&plain(&width.pieces(self.units)));
        }
    }

    /// What stands over the rows.
    fn table(&mut self, table: &Table) {
        let Table { role, caption, columns, rows: _ } = table;
        self.tag(b'B');
        self.text(role.word());
        self.end();
        self.line(caption);
        columns.iter().for_each(|column| self.line(&column.title));
    }

    /// What a row says, each cell under its heading. A cell that says nothing is not told from one that is not there:
    /// a new column marks the rows that fill it.
    pub fn row(&mut self, table: &Table, row: &TableRow) {
        self.tag(b'W');
        let mut column = 0;
        for cell in &row.cells {
            if !cell.content.is_empty() {
                self.line(table.columns.get(column).map_or(&[][..], |c| &c.title));
                self.out.push(cell.span.max(1));
                self.line(&cell.content);
            }
            column += usize::from(cell.span.max(1));
        }
    }
}

fn shown(measure: Measure, units: UnitStyle) -> String {
    plain(&measure.pieces(units))
}

/// What the numbers of a line are of, where nothing else stands in it: `2.1, 2.4`.
fn numbers_alone(line: &[Inline]) -> Option<BTreeSet<&Anchor>> {
    if line.len() < 3 {
        return None;
    }
    let mut all = BTreeSet::new();
    for inline in line {
        match inline {
            Inline::Link { content, .. } => match &content[..] {
                [Inline::Number { of, .. }] => {
                    all.insert(of);
                }
                _ => return None,
            },
            Inline::Text(text) if &**text == ", " => {}
            _ => return None,
        }
    }
    Some(all)
}
