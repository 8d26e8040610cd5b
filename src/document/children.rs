//! What stands in what: the one place that knows which kinds of blocks and pieces of a line hold others, and in which
//! lines a block says something.

use super::block::{Block, BlockKind, Field, ListItem};
use super::inline::{Anchor, Inline, Inlines};

/// What a line is to the block that it stands in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineRole {
    /// What the block says.
    Said,
    /// What that is called: labels, titles of groups, the view of a picture.
    Label,
    /// Headings of tables and steps, and what repeats words of another place.
    Heading,
}

impl Block {
    /// The blocks in it: of a list those of each item, else all in one run.
    pub fn children(&self) -> impl DoubleEndedIterator<Item = &[Block]> {
        let (items, one): (&[ListItem], Option<&[Block]>) = match &self.kind {
            BlockKind::List { items, .. } => (items, None),
            BlockKind::Group(group) => (&[], Some(&group.blocks)),
            BlockKind::Region(region) => (&[], Some(&region.blocks)),
            BlockKind::Safety { blocks, .. } | BlockKind::Quote(blocks) | BlockKind::Footnote { blocks, .. } => {
                (&[], Some(blocks))
            }
            BlockKind::Heading { .. }
            | BlockKind::Paragraph(_)
            | BlockKind::Table(_)
            | BlockKind::Figure(_)
            | BlockKind::Drawing(_)
            | BlockKind::Fields(_)
            | BlockKind::Values(_)
            | BlockKind::StepHead(_)
            | BlockKind::SignOff { .. }
            | BlockKind::Preformatted(_)
            | BlockKind::Contents(_)
            | BlockKind::Rule => (&[], None),
        };
        items.iter().map(|item| item.blocks.as_slice()).chain(one)
    }

    /// The same, to be changed.
    pub fn children_mut(&mut self) -> impl Iterator<Item = &mut Vec<Block>> {
        let (items, one): (&mut [ListItem], Option<&mut Vec<Block>>) = match &mut self.kind {
            BlockKind::List { items, .. } => (items, None),
            BlockKind::Group(group) => (&mut [], Some(&mut group.blocks)),
            BlockKind::Region(region) => (&mut [], Some(&mut region.blocks)),
            BlockKind::Safety { blocks, .. } | BlockKind::Quote(blocks) | BlockKind::Footnote { blocks, .. } => {
                (&mut [], Some(blocks))
            }
            BlockKind::Heading { .. }
            | BlockKind::Paragraph(_)
            | BlockKind::Table(_)
            | BlockKind::Figure(_)
            | BlockKind::Drawing(_)
            | BlockKind::Fields(_)
            | BlockKind::Values(_)
            | BlockKind::StepHead(_)
            | BlockKind::SignOff { .. }
            | BlockKind::Preformatted(_)
            | BlockKind::Contents(_)
            | BlockKind::Rule => (&mut [], None),
        };
        items.iter_mut().map(|item| &mut item.blocks).chain(one)
    }

    /// Its own lines in reading order, without those of the blocks in it, each with what it is.
    pub fn lines(&self) -> Vec<(LineRole, &Inlines)> {
        use LineRole::{Heading, Label, Said};
        fn of_field(field: &Field) -> [(LineRole, &Inlines); 2] {
            [(Label, &field.label), (Said, &field.value)]
        }
        match &self.kind {
            BlockKind::Heading { text, .. } | BlockKind::Paragraph(text) | BlockKind::SignOff { role: text } => {
                vec![(Said, text)]
            }
            BlockKind::Table(table) => {
                let heads = std::iter::once(&table.caption).chain(table.columns.iter().map(|c| &c.title));
                let cells = table.rows.iter().flat_map(|row| &row.cells).map(|cell| (Said, &cell.content));
                heads.map(|head| (Heading, head)).chain(cells).collect()
            }
            BlockKind::Figure(figure) => {
                let callouts = figure.callouts.iter().map(|callout| (Said, &callout.text));
                [(Said, &figure.caption), (Label, &figure.view)].into_iter().chain(callouts).collect()
            }
            BlockKind::Drawing(drawn) => vec![(Said, &drawn.caption)],
            BlockKind::Fields(fields) | BlockKind::Values(fields) => fields.iter().flat_map(of_field).collect(),
            BlockKind::StepHead(head) => {
                let heads = [(Heading, &head.section), (Heading, &head.title)];
                let effectivity = head.effectivity.iter().map(|holds| (Label, holds));
                heads.into_iter().chain(effectivity).chain(head.facts.iter().flat_map(of_field)).collect()
            }
            BlockKind::Group(group) => vec![(Label, &group.title)],
            BlockKind::Region(region) => vec![(Heading, &region.in_short)],
            BlockKind::Contents(entries) => entries.iter().map(|entry| (Heading, &entry.title)).collect(),
            BlockKind::List { .. }
            | BlockKind::Safety { .. }
            | BlockKind::Quote(_)
            | BlockKind::Footnote { .. }
            | BlockKind::Preformatted(_)
            | BlockKind::Rule => Vec::new(),
        }
    }

    /// The same, to be changed.
    pub fn lines_mut(&mut self) -> Vec<&mut Inlines> {
        fn of_field(field: &mut Field) -> [&mut Inlines; 2] {
            [&mut field.label, &mut field.value]
        }
        match &mut self.kind {
            BlockKind::Heading { text, .. } | BlockKind::Paragraph(text) | BlockKind::SignOff { role: text } => {
                vec![text]
            }
            BlockKind::Table(table) => {
                let heads = std::iter::once(&mut table.caption).chain(table.columns.iter_mut().map(|c| &mut c.title));
                let cells = table.rows.iter_mut().flat_map(|row| &mut row.cells).map(|cell| &mut cell.content);
                heads.chain(cells).collect()
            }
            BlockKind::Figure(figure) => {
                let callouts = figure.callouts.iter_mut().map(|callout| &mut callout.text);
                [&mut figure.caption, &mut figure.view].into_iter().chain(callouts).collect()
            }
            BlockKind::Drawing(drawn) => vec![&mut drawn.caption],
            BlockKind::Fields(fields) | BlockKind::Values(fields) => fields.iter_mut().flat_map(of_field).collect(),
            BlockKind::StepHead(head) => {
                let heads = [&mut head.section, &mut head.title];
                let facts = head.facts.iter_mut().flat_map(of_field);
                heads.into_iter().chain(&mut head.effectivity).chain(facts).collect()
            }
            BlockKind::Group(group) => vec![&mut group.title],
            BlockKind::Region(region) => vec![&mut region.in_short],
            BlockKind::Contents(entries) => entries.iter_mut().map(|entry| &mut entry.title).collect(),
            BlockKind::List { .. }
            | BlockKind::Safety { .. }
            | BlockKind::Quote(_)
            | BlockKind::Footnote { .. }
            | BlockKind::Preformatted(_)
            | BlockKind::Rule => Vec::new(),
        }
    }

    /// Where links lead to in it: the block itself and the rows of a table.
    pub fn anchors(&self) -> impl Iterator<Item = &Anchor> {
        let rows = match &self.kind {
            BlockKind::Table(table) => table.rows.as_slice(),
            _ => &[],
        };
        self.anchor.iter().chain(rows.iter().filter_map(|row| row.anchor.as_ref()))
    }
}

/// The blocks and all that stand in them, in reading order, outer ones first.
pub fn all_blocks(blocks: &[Block]) -> impl Iterator<Item = &Block> {
    let mut open: Vec<&Block> = blocks.iter().rev().collect();
    std::iter::from_fn(move || {
        let block = open.pop()?;
        open.extend(block.children().rev().flat_map(|run| run.iter().rev()));
        Some(block)
    })
}

impl Inline {
    /// What stands in it.
    pub fn children(&self) -> &[Inline] {
        match self {
            Self::Strong(content)
            | Self::Emphasis(content)
            | Self::Link { content, .. }
            | Self::Outside { content, .. } => content,
            Self::Text(_)
            | Self::Code(_)
            | Self::Number { .. }
            | Self::PageOf(_)
            | Self::Length(_)
            | Self::Angle(_)
            | Self::Quantity(_)
            | Self::Measure(_)
            | Self::Hand(_)
            | Self::Callout(_)
            | Self::TickBox
            | Self::Blank(_)
            | Self::FootnoteMark(_)
            | Self::LineBreak => &[],
        }
    }

    /// The same, to be changed; nothing where nothing can stand in it.
    pub fn children_mut(&mut self) -> Option<&mut Inlines> {
        match self {
            Self::Strong(content)
            | Self::Emphasis(content)
            | Self::Link { content, .. }
            | Self::Outside { content, .. } => Some(content),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::{Group, plain_text};
    use crate::units::UnitStyle;

    fn block(kind: BlockKind) -> Block {
        Block { kind, origin: Default::default(), anchor: None }
    }

    fn said(text: &str) -> Block {
        block(BlockKind::Paragraph(vec![Inline::text(text)]))
    }

    #[test]
    fn blocks_come_in_reading_order_and_lines_can_be_changed_where_they_are_read() {
        let item = |text: &str| ListItem { tick: false, blocks: vec![said(text), block(BlockKind::Quote(vec![]))] };
        let list = block(BlockKind::List { ordered: None, items: vec![item("b"), item("c")] });
        let group = Group { role: "do", title: vec![Inline::strong("a")], blocks: vec![list, said("d")] };
        let mut blocks = vec![block(BlockKind::Group(group)), said("e")];
        let words = |blocks: &[Block]| -> String {
            let lines = all_blocks(blocks).flat_map(Block::lines);
            lines.map(|(_, line)| plain_text(line, UnitStyle::InchFraction)).collect()
        };
        assert_eq!(words(&blocks), "abcde");
        fn shout(blocks: &mut [Block]) {
            for block in blocks {
                block.lines_mut().into_iter().for_each(|line| line.push(Inline::text("!")));
                block.children_mut().for_each(|inner| shout(inner));
            }
        }
        shout(&mut blocks);
        assert_eq!(words(&blocks), "a!b!c!d!e!");
    }
}
