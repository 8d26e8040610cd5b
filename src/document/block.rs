//! Blocks: what stands below one another.

use std::sync::Arc;

use super::inline::{Anchor, Inlines};
use super::table::Table;
use crate::drawing::Drawing;
use crate::figure::Crop;
use crate::trade::SafetyWord;
use crate::units::{FigureName, Hand, Length, StepId};

/// Where a block comes from, so that findings and change bars find it again.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Origin {
    pub step: Option<StepId>,
    /// The front-matter field, or `text`.
    pub field: &'static str,
    /// The item's number in its field, from 0.
    pub item: usize,
}

/// A block with its origin and, where links lead to it, its anchor.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    pub kind: BlockKind,
    pub origin: Origin,
    pub anchor: Option<Anchor>,
}

#[derive(Clone, Debug, PartialEq)]
pub enum BlockKind {
    /// A heading inside a leaf. Level 2 to 4; level 1 is the leaf's own title.
    Heading {
        level: u8,
        number: Option<Arc<str>>,
        text: Inlines,
    },
    Paragraph(Inlines),
    /// A list; `ordered` is the first number.
    List {
        ordered: Option<u64>,
        items: Vec<ListItem>,
    },
    Table(Table),
    /// A safety message. Always stands before what it guards.
    Safety {
        word: SafetyWord,
        blocks: Vec<Block>,
    },
    Figure(Figure),
    /// A drawing that the compiler has made.
    Drawing(Drawn),
    /// Label and value pairs: the title page, what a measure asks for.
    Fields(Vec<Field>),
    /// What an action needs at hand, below it: label and value.
    Values(Vec<Field>),
    /// The head of a step's leaf: takes the place of the plain title.
    StepHead(StepHead),
    /// Blocks that belong together, with a title: "Pull from the crate", "Sign off".
    Group(Group),
    /// A part of a step's leaf, by what the reader does there.
    Region(Region),
    /// A place to sign: who, and room for name and date.
    SignOff {
        role: Inlines,
    },
    /// A quotation or set-off remark.
    Quote(Vec<Block>),
    /// Text that keeps its line ends.
    Preformatted(Arc<str>),
    /// A table of contents, in the order of the document; paged documents add the page.
    Contents(Vec<ContentsEntry>),
    /// A footnote's text.
    Footnote {
        number: u32,
        blocks: Vec<Block>,
    },
    /// A line across.
    Rule,
}

#[derive(Clone, Debug, PartialEq)]
pub struct ListItem {
    /// A box to tick before the item.
    pub tick: bool,
    pub blocks: Vec<Block>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Field {
    pub label: Inlines,
    pub value: Inlines,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// What the group is for; a style hook: `pull`, `hardware`, `joints`, `cuts`, `bends`,
    /// `flattened`, `cables`, `offsets`, `holes`, `one-jig`, `tools`, `measure`, `inspect`, `sign-off`, `do`.
    pub role: &'static str,
    pub title: Inlines,
    pub blocks: Vec<Block>,
}

/// What the reader of a step does in a part of its leaf.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RegionRole {
    /// Fetches what the step takes.
    Pull,
    /// Works from figure and actions, side by side where there is room.
    Work,
    /// Looks at pictures while working.
    Figures,
    /// Looks things up.
    Lookup,
}

impl RegionRole {
    /// A word for class names.
    pub fn word(self) -> &'static str {
        match self {
            Self::Pull => "pull",
            Self::Work => "work",
            Self::Figures => "figures",
            Self::Lookup => "lookup",
        }
    }
}

/// Blocks of a step's leaf that stand together. It prints nothing of its own but a line that says in short what is in it,
/// where that can be opened and closed.
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    pub role: RegionRole,
    pub in_short: Inlines,
    pub blocks: Vec<Block>,
}

/// The head of a step.
#[derive(Clone, Debug, PartialEq)]
pub struct StepHead {
    /// `3.12`
    pub number: Arc<str>,
    pub title: Inlines,
    /// `3 Steering`
    pub section: Inlines,
    pub hand: Option<Hand>,
    /// Where the step holds, in words, where that differs from the whole manual.
    pub effectivity: Option<Inlines>,
    /// Further facts in a line each: makes, hours, persons.
    pub facts: Vec<Field>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    pub name: FigureName,
    /// `Figure 3.12-1`
    pub label: Arc<str>,
    pub alt: Arc<str>,
    pub caption: Inlines,
    /// View direction and which way is up and forward, in words.
    pub view: Inlines,
    /// The part of the picture that is shown; all of it where none is given.
    pub crop: Option<Crop>,
    pub callouts: Vec<Callout>,
    pub arrows: Vec<Arrow>,
    /// Printed width; as wide as fits where it is not given.
    pub width: Option<Length>,
}

/// A drawing of the compiler's own, with the line below it.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawn {
    pub drawing: Drawing,
    pub caption: Inlines,
}

/// An arrow over a figure. Both ends across and down, in percent of what is shown of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arrow {
    pub from: (f64, f64),
    pub to: (f64, f64),
}

/// A numbered mark in a figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Callout {
    pub number: u32,
    /// Across and down from the top left, in percent of what is shown of the figure, 0 to 100.
    pub at: (f64, f64),
    /// What it points at, as the table below the figure says it.
    pub text: Inlines,
    /// The row of a table that it is tied to.
    pub to: Option<Anchor>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct ContentsEntry {
    /// 1 or 2.
    pub level: u8,
    pub number: Option<Arc<str>>,
    pub title: Inlines,
    pub to: Anchor,
}
