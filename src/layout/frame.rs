//! What layout hands over: pages with items at fixed points, and the structure they belong to.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::fonts::FaceId;
use crate::document::{Anchor, Origin};
use crate::figure::{Crop, KeyEntry};
use crate::units::FigureName;

/// A colour, 0xRRGGBB in sRGB. Whether it is printed as grey is the emitter's choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Color(pub u32);

impl Color {
    pub const BLACK: Self = Self(0x00_00_00);
    pub const WHITE: Self = Self(0xFF_FF_FF);
}

/// A laid-out document. Lengths are in points (1/72 in); y runs down from the page's top edge.
#[derive(Clone, Debug, Default)]
pub struct Laid {
    pub pages: Vec<LaidPage>,
    pub tags: Vec<Tag>,
    /// Outline entries in reading order.
    pub outline: Vec<OutlineEntry>,
    /// Where each anchor stands.
    pub anchors: BTreeMap<Anchor, PagePoint>,
    /// What each used glyph says, for reading back and searching.
    pub glyph_texts: BTreeMap<(FaceId, u16), Arc<str>>,
    pub problems: Vec<Problem>,
    /// What stands for colours in the drawings of a document that is printed in grey.
    pub keys: BTreeMap<FigureName, Vec<KeyEntry>>,
    /// Every figure as placed.
    pub placed: Vec<PlacedFigure>,
    pub title: Arc<str>,
    pub author: Arc<str>,
    pub subject: Arc<str>,
    /// BCP 47.
    pub language: Arc<str>,
}

/// A point of a page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PagePoint {
    /// Index of the page, from 0.
    pub page: usize,
    /// Points from the top edge.
    pub y: f64,
}

#[derive(Clone, Debug)]
pub struct LaidPage {
    /// Width and height in points.
    pub size: (f64, f64),
    /// The number printed on it.
    pub label: Arc<str>,
    /// In reading order; furniture first.
    pub items: Vec<PageItem>,
    pub links: Vec<Link>,
}

/// Something drawn. `tag` is its structure element; none for furniture and decoration.
#[derive(Clone, Debug)]
pub struct PageItem {
    pub tag: Option<TagId>,
    /// Left and baseline for text; left and top for the rest.
    pub at: (f64, f64),
    pub kind: ItemKind,
}

#[derive(Clone, Debug)]
pub enum ItemKind {
    Text(TextRun),
    Shape(PageShape),
    /// A picture at a size, or the part of it that is shown.
    Figure {
        name: FigureName,
        crop: Option<Crop>,
        width: f64,
        height: f64,
    },
}

/// Glyphs of one face, size and colour on one baseline.
#[derive(Clone, Debug)]
pub struct TextRun {
    pub face: FaceId,
    /// Points.
    pub size: f64,
    pub color: Color,
    pub glyphs: Vec<Glyph>,
    /// What the run says where its glyphs don't say it themselves: a soft hyphen, a fraction.
    pub actual: Option<Arc<str>>,
}

impl TextRun {
    /// Width in points.
    pub fn width(&self) -> f64 {
        self.glyphs.iter().map(|g| f64::from(g.advance)).sum::<f64>() * self.size / 1000.0
    }
}

/// A glyph by its number in the face; measures in 1/1000 em.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Glyph {
    pub id: u16,
    pub advance: i16,
    pub dx: i16,
    pub dy: i16,
}

/// A path with fill and stroke. Coordinates are relative to the item's point.
#[derive(Clone, Debug)]
pub struct PageShape {
    pub path: Vec<Segment>,
    pub fill: Option<Color>,
    pub stroke: Option<Stroke>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Segment {
    Move(f64, f64),
    Line(f64, f64),
    Curve(f64, f64, f64, f64, f64, f64),
    Close,
}

impl Segment {
    /// Where it ends; nowhere of its own for a closing line.
    pub fn end(&self) -> Option<(f64, f64)> {
        match *self {
            Self::Move(x, y) | Self::Line(x, y) | Self::Curve(.., x, y) => Some((x, y)),
            Self::Close => None,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    pub color: Color,
    /// Points.
    pub width: f64,
    /// Length of dashes and of the gaps between them in points; none for a plain line.
    pub dash: Option<(f64, f64)>,
}

/// A place to click.
#[derive(Clone, Debug)]
pub struct Link {
    pub to: Target,
    /// Left, top, right, bottom.
    pub rect: (f64, f64, f64, f64),
    pub tag: TagId,
    /// What it says, for those who can't see it.
    pub says: Arc<str>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Target {
    Inside(Anchor),
    Outside(Arc<str>),
}

/// Index of a structure element in [`Laid::tags`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TagId(pub u32);

/// A structure element. Elements stand in reading order; a parent stands before its children.
#[derive(Clone, Debug)]
pub struct Tag {
    pub role: Role,
    pub parent: Option<TagId>,
    /// Alternative text.
    pub alt: Option<Arc<str>>,
    /// How many columns a cell covers, where more than one.
    pub columns: u8,
}

/// Standard structure types of ISO 32000-1, 14.8.4.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    Document,
    Section,
    Division,
    Heading(u8),
    Paragraph,
    Span,
    List,
    OrderedList,
    ListItem,
    ListLabel,
    ListBody,
    Table,
    TableHead,
    TableBody,
    Row,
    HeadOfColumn,
    HeadOfRow,
    Cell,
    Caption,
    Figure,
    Link,
    Note,
    Quote,
    Code,
    Contents,
    ContentsItem,
}

#[derive(Clone, Debug)]
pub struct OutlineEntry {
    /// 1 is the outermost.
    pub level: u8,
    pub title: Arc<str>,
    pub to: PagePoint,
}

/// A figure as printed.
#[derive(Clone, Debug)]
pub struct PlacedFigure {
    pub name: FigureName,
    pub anchor: Option<Anchor>,
    pub origin: Origin,
    pub page: usize,
    /// Points.
    pub width: f64,
    pub height: f64,
}

/// What layout could not do as asked. Each is drawn visibly; none is silent.
#[derive(Clone, Debug, PartialEq)]
pub enum Problem {
    /// No font has this character; a substitute is drawn.
    MissingGlyph { character: char, origin: Origin },
    /// A figure is not there or can't be read; its alternative text is printed in its place.
    MissingFigure { name: FigureName, origin: Origin },
    /// A link or a page reference leads nowhere.
    MissingAnchor { anchor: Anchor, origin: Origin },
    /// A safety message is taller than a page and was split.
    SafetySplit { origin: Origin },
    /// A table needs more width than the page has; its text was set smaller or broken inside words.
    TableTight { origin: Origin },
    /// The author's font can't be used; the built-in font was.
    BadFont { reason: String },
}
