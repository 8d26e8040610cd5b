//! The words of a document as a reader has them, walked apart from layout.

use kitwright::document::*;
use kitwright::layout::Laid;
use kitwright::units::{UnitStyle, plain};

/// The words of a leaf in reading order, list markers and page numbers included.
/// A grey document says what the hatches of the specimen's drawing stand for.
pub fn of_leaf(leaf: &Leaf, document: &Document, laid: &Laid) -> Vec<String> {
    let key = if document.purpose == Purpose::Manual { "" } else { "In grey: blue green red" };
    let mut walk = Walk { units: document.meta.units, key, laid, out: String::new() };
    if !matches!(leaf.blocks.first().map(|b| &b.kind), Some(BlockKind::StepHead(_))) {
        walk.put(leaf.number.as_deref().unwrap_or(""));
        walk.line(&leaf.title);
    }
    leaf.blocks.iter().for_each(|b| walk.block(b));
    walk.out.split_whitespace().map(str::to_owned).collect()
}

struct Walk<'a> {
    units: UnitStyle,
    key: &'static str,
    laid: &'a Laid,
    out: String,
}

impl Walk<'_> {
    fn put(&mut self, text: &str) {
        self.out.push_str(text);
        self.out.push(' ');
    }

    fn line(&mut self, inlines: &[Inline]) {
        self.inlines(inlines);
        self.out.push(' ');
    }

    fn inlines(&mut self, inlines: &[Inline]) {
        for inline in inlines {
            match inline {
                Inline::Text(t) | Inline::Code(t) | Inline::Number { shown: t, .. } => self.out.push_str(t),
                Inline::Strong(c) | Inline::Emphasis(c) => self.inlines(c),
                Inline::Link { content, .. } | Inline::Outside { content, .. } => self.inlines(content),
                Inline::PageOf(anchor) => {
                    let page = self.laid.anchors.get(anchor).map(|p| self.laid.pages[p.page].label.to_string());
                    self.out.push_str(&page.unwrap_or_else(|| "?".to_owned()));
                }
                Inline::Length(l) => self.out.push_str(&plain(&l.pieces(self.units))),
                Inline::Measure(m) => self.out.push_str(&plain(&m.pieces(self.units))),
                Inline::Angle(a) => self.out.push_str(&a.to_string()),
                Inline::Quantity(q) => self.out.push_str(&q.to_string()),
                Inline::Hand(h) => self.out.push_str(h.word()),
                Inline::Callout(n) | Inline::FootnoteMark(n) => self.out.push_str(&n.to_string()),
                Inline::LineBreak => self.out.push(' '),
                Inline::TickBox | Inline::Blank(_) => {}
            }
        }
    }

    fn block(&mut self, block: &Block) {
        match &block.kind {
            BlockKind::Heading { number, text, .. } => {
                self.put(number.as_deref().unwrap_or(""));
                self.line(text);
            }
            BlockKind::Paragraph(text) => self.line(text),
            BlockKind::List { ordered, items } => {
                for (i, item) in items.iter().enumerate() {
                    match ordered {
                        Some(first) => self.put(&format!("{}.", first + i as u64)),
                        None if !item.tick => self.put("\u{2022}"),
                        None => {}
                    }
                    item.blocks.iter().for_each(|b| self.block(b));
                }
            }
            BlockKind::Table(table) => {
                self.line(&table.caption);
                table.columns.iter().for_each(|c| self.line(&c.title));
                table.rows.iter().flat_map(|r| &r.cells).for_each(|c| self.line(&c.content));
            }
            BlockKind::Safety { word, blocks } => {
                self.put(word.word());
                blocks.iter().for_each(|b| self.block(b));
            }
            BlockKind::Figure(figure) => {
                figure.callouts.iter().for_each(|c| self.put(&c.number.to_string()));
                self.put(&figure.label);
                self.line(&figure.caption);
                self.line(&figure.view);
                if figure.name.as_str() == "foot.svg" {
                    self.put(self.key);
                }
                for callout in &figure.callouts {
                    self.put(&callout.number.to_string());
                    self.line(&callout.text);
                }
            }
            BlockKind::Drawing(drawn) => {
                for ink in drawn.drawing.ink() {
                    if let kitwright::drawing::Ink::Text(text) = ink {
                        self.put(&kitwright::drawing::plain_words(&text.words, self.units));
                    }
                }
                self.line(&drawn.caption);
            }
            BlockKind::Fields(fields) | BlockKind::Values(fields) => self.fields(fields),
            // What is in short opens and closes it on a screen.
            BlockKind::Region(region) => region.blocks.iter().for_each(|b| self.block(b)),
            BlockKind::StepHead(head) => {
                self.put(&head.number);
                self.line(&head.title);
                self.line(&head.section);
                self.put(head.hand.map_or("", |h| h.word()));
                self.line(head.effectivity.as_deref().unwrap_or(&[]));
                self.fields(&head.facts);
            }
            BlockKind::Group(group) => {
                self.line(&group.title);
                group.blocks.iter().for_each(|b| self.block(b));
            }
            BlockKind::SignOff { role } => {
                self.line(role);
                self.put("Name Date");
            }
            BlockKind::Quote(blocks) => blocks.iter().for_each(|b| self.block(b)),
            BlockKind::Preformatted(text) => self.put(text),
            BlockKind::Contents(entries) => {
                for entry in entries {
                    self.put(entry.number.as_deref().unwrap_or(""));
                    self.line(&entry.title);
                    self.line(&[Inline::PageOf(entry.to.clone())]);
                }
            }
            BlockKind::Footnote { number, blocks } => {
                self.put(&number.to_string());
                blocks.iter().for_each(|b| self.block(b));
            }
            BlockKind::Rule => {}
        }
    }

    fn fields(&mut self, fields: &[Field]) {
        for field in fields {
            self.line(&field.label);
            self.line(&field.value);
        }
    }
}
