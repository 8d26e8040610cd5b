//! Blocks as the values that the templates show: one component a kind.

use std::collections::BTreeSet;

use tera::{Map, Value};

use super::inline::{TICK_BOX, hand_shape};
use super::marks::Marks;
use super::site::Site;
use crate::document::{
    Block, BlockKind, ContentsEntry, Field, Group, Inline, ListItem, Origin, Region, SafetyWord, StepHead, plain_text,
};
use crate::emit::EmitError;
use crate::units::UnitStyle;

/// How deep blocks may stand inside one another. The template engine takes components 20 deep; a block inside a
/// block takes two, the innermost up to three.
const DEEPEST: usize = 8;

/// What is known while the blocks of one page are written.
pub struct PageWriter<'a> {
    pub site: &'a Site<'a>,
    pub leaf: usize,
    pub marks: Marks<'a>,
    /// Footnotes that a mark has led to already; only the first mark is led back to.
    pub notes_seen: BTreeSet<u32>,
    /// Figures written so far.
    pub figures: usize,
    groups: usize,
    /// What we are in has a change bar, so what is inside needs none of its own.
    barred: bool,
    /// The level of the heading before, so that none is left out.
    heading: u8,
    /// The id of the heading of the group we are in, for tables without a caption.
    pub group_id: Option<String>,
}

/// A map for a template.
pub fn map<const N: usize>(fields: [(&'static str, Value); N]) -> Value {
    fields.into_iter().map(|(key, value)| (key.into(), value)).collect::<Map>().into()
}

/// Markup, as opposed to text.
pub fn markup(html: &str) -> Value {
    Value::safe_string(html)
}

impl<'a> PageWriter<'a> {
    pub fn new(site: &'a Site<'a>, leaf: usize) -> Self {
        Self {
            site,
            leaf,
            marks: Marks::of(&site.document.leaves[leaf].blocks),
            notes_seen: BTreeSet::new(),
            figures: 0,
            groups: 0,
            barred: false,
            heading: 1,
            group_id: None,
        }
    }

    pub fn units(&self) -> UnitStyle {
        self.site.document.meta.units
    }

    /// The blocks of the page.
    pub fn page(&mut self) -> Result<Value, EmitError> {
        let leaf = &self.site.document.leaves[self.leaf];
        self.all(&leaf.blocks, Depth::default())
    }

    fn all(&mut self, blocks: &[Block], depth: Depth) -> Result<Value, EmitError> {
        if depth.blocks > DEEPEST {
            let page = self.site.document.leaves[self.leaf].anchor.clone();
            return Err(EmitError::TooDeep { page, limit: DEEPEST });
        }
        let values: Result<Vec<Value>, EmitError> = blocks.iter().map(|block| self.block(block, depth)).collect();
        Ok(values?.into())
    }

    /// What stands at the change bar of a block of this origin, where it has one.
    pub fn bar(&self, origin: &Origin) -> Option<&'a str> {
        if self.barred { None } else { self.site.document.bars.at(origin).map(|letter| &**letter) }
    }

    fn block(&mut self, block: &Block, depth: Depth) -> Result<Value, EmitError> {
        let changed = self.bar(&block.origin);
        let outer = self.barred;
        self.barred |= changed.is_some();
        let value = self.unmarked(block, changed, depth);
        self.barred = outer;
        value
    }

    fn unmarked(&mut self, block: &Block, changed: Option<&str>, depth: Depth) -> Result<Value, EmitError> {
        let (kind, of) = match &block.kind {
            BlockKind::Heading { level, number, text } => {
                ("heading", self.heading(*level, number.as_deref(), text, depth)?)
            }
            BlockKind::Paragraph(text) => ("paragraph", map([("text", markup(&self.line(text)?))])),
            BlockKind::List { ordered, items } => ("list", self.list(*ordered, items, depth)?),
            BlockKind::Table(table) => ("table", self.table(table)?),
            BlockKind::Safety { word, blocks } => ("safety", self.safety(*word, blocks, depth)?),
            BlockKind::Figure(figure) => ("figure", self.figure(figure)?),
            BlockKind::Drawing(drawn) => ("drawing", self.drawing(drawn)?),
            BlockKind::Fields(fields) => ("fields", map([("fields", self.fields(fields)?)])),
            BlockKind::Values(fields) => ("values", map([("fields", self.fields(fields)?)])),
            BlockKind::Region(region) => ("region", self.region(region, depth)?),
            BlockKind::StepHead(head) => ("step_head", self.step_head(head)?),
            BlockKind::Group(group) => ("group", self.group(group, depth)?),
            BlockKind::SignOff { role } => {
                ("sign_off", map([("role", markup(&self.line(role)?)), ("role_text", self.plain(role).into())]))
            }
            BlockKind::Quote(blocks) => ("quote", map([("blocks", self.all(blocks, depth.deeper())?)])),
            BlockKind::Preformatted(text) => ("preformatted", map([("text", Value::normal_string(text))])),
            BlockKind::Contents(entries) => ("contents", map([("entries", self.contents(entries)?)])),
            BlockKind::Footnote { number, blocks } => ("footnote", self.footnote(*number, blocks, depth)?),
            BlockKind::Rule => ("rule", map([])),
        };
        let id = block.anchor.as_ref().map(|anchor| Value::normal_string(anchor.as_str()));
        let changed = changed.map(Value::normal_string).into();
        Ok(map([("kind", kind.into()), ("id", id.into()), ("changed", changed), ("of", of)]))
    }

    /// A heading at the level the page leaves room for: below its group, and never more than one below the
    /// heading before it.
    fn heading(&mut self, level: u8, number: Option<&str>, text: &[Inline], depth: Depth) -> Result<Value, EmitError> {
        let level = level.max(depth.groups + 2).min(self.heading + 1).clamp(2, 6);
        self.heading = level;
        Ok(map([
            ("level", u32::from(level).into()),
            ("number", number.map(Value::normal_string).into()),
            ("text", markup(&self.line(text)?)),
        ]))
    }

    fn list(&mut self, ordered: Option<u64>, items: &[ListItem], depth: Depth) -> Result<Value, EmitError> {
        let items: Result<Vec<Value>, EmitError> = items.iter().map(|item| self.item(item, depth)).collect();
        Ok(map([("start", ordered.into()), ("items", items?.into())]))
    }

    /// An item that is one paragraph is a line of text; any other has blocks.
    fn item(&mut self, item: &ListItem, depth: Depth) -> Result<Value, EmitError> {
        let tick = if item.tick { markup(TICK_BOX) } else { Value::none() };
        Ok(match item.blocks.as_slice() {
            [Block { kind: BlockKind::Paragraph(text), anchor: None, origin }] => {
                let changed = self.bar(origin).map(Value::normal_string).into();
                map([
                    ("tick", tick),
                    ("changed", changed),
                    ("text", markup(&self.line(text)?)),
                    ("blocks", Value::none()),
                ])
            }
            blocks => map([
                ("tick", tick),
                ("changed", Value::none()),
                ("text", Value::none()),
                ("blocks", self.all(blocks, depth.deeper())?),
            ]),
        })
    }

    fn safety(&mut self, word: SafetyWord, blocks: &[Block], depth: Depth) -> Result<Value, EmitError> {
        Ok(map([
            ("name", word.word().to_ascii_lowercase().into()),
            ("word", word.word().into()),
            ("alerts", word.alerts().into()),
            ("blocks", self.all(blocks, depth.deeper())?),
        ]))
    }

    pub fn fields(&mut self, fields: &[Field]) -> Result<Value, EmitError> {
        let fields: Result<Vec<Value>, EmitError> = fields
            .iter()
            .map(|field| {
                let label = self.line(&field.label)?;
                let value = self.line(&field.value)?;
                Ok(map([("label", markup(&label)), ("value", markup(&value))]))
            })
            .collect();
        Ok(fields?.into())
    }

    fn step_head(&mut self, head: &StepHead) -> Result<Value, EmitError> {
        let effectivity = match &head.effectivity {
            Some(text) => markup(&self.line(text)?),
            None => Value::none(),
        };
        Ok(map([
            ("number", Value::normal_string(&head.number)),
            ("title", markup(&self.line(&head.title)?)),
            ("section", markup(&self.line(&head.section)?)),
            ("hand", head.hand.map(|hand| hand.word()).into()),
            ("hand_shape", head.hand.map(|hand| markup(&hand_shape(hand))).into()),
            ("effectivity", effectivity),
            ("facts", self.fields(&head.facts)?),
        ]))
    }

    fn group(&mut self, group: &Group, depth: Depth) -> Result<Value, EmitError> {
        self.groups += 1;
        let id = format!("_group-{}", self.groups);
        let level = (depth.groups + 2).min(6);
        self.heading = level;
        let title = self.line(&group.title)?;
        let outer = self.group_id.replace(id.clone());
        let blocks = self.all(&group.blocks, depth.deeper().in_group());
        self.group_id = outer;
        Ok(map([
            ("role", group.role.into()),
            ("title_id", id.into()),
            ("level", u32::from(level).into()),
            ("title", markup(&title)),
            ("blocks", blocks?),
        ]))
    }

    fn region(&mut self, region: &Region, depth: Depth) -> Result<Value, EmitError> {
        Ok(map([
            ("role", region.role.word().into()),
            ("in_short", markup(&self.line(&region.in_short)?)),
            ("blocks", self.all(&region.blocks, depth.deeper())?),
        ]))
    }

    fn contents(&mut self, entries: &[ContentsEntry]) -> Result<Value, EmitError> {
        let top = entries.iter().map(|entry| entry.level).min().unwrap_or(1);
        let mut tops: Vec<(Value, Vec<Value>)> = Vec::new();
        for entry in entries {
            let line = map([
                ("number", entry.number.as_deref().map(Value::normal_string).into()),
                ("title", markup(&self.line(&entry.title)?)),
                ("href", self.site.href(self.leaf, &entry.to)?.into()),
            ]);
            match tops.last_mut() {
                Some((_, below)) if entry.level > top => below.push(line),
                _ => tops.push((line, Vec::new())),
            }
        }
        let entries: Vec<Value> =
            tops.into_iter().map(|(line, below)| map([("line", line), ("below", below.into())])).collect();
        Ok(entries.into())
    }

    fn footnote(&mut self, number: u32, blocks: &[Block], depth: Depth) -> Result<Value, EmitError> {
        let marked = self.notes_seen.contains(&number);
        Ok(map([("number", number.into()), ("marked", marked.into()), ("blocks", self.all(blocks, depth.deeper())?)]))
    }

    /// A run as plain text, for attributes.
    pub fn plain(&self, inlines: &[Inline]) -> String {
        plain_text(inlines, self.units())
    }
}

/// How deep a block stands.
#[derive(Clone, Copy, Default)]
struct Depth {
    blocks: usize,
    groups: u8,
}

impl Depth {
    fn deeper(self) -> Self {
        Self { blocks: self.blocks + 1, ..self }
    }

    fn in_group(self) -> Self {
        Self { groups: self.groups.saturating_add(1), ..self }
    }
}
