//! Tables.

use super::block::Origin;
use super::inline::{Anchor, Inlines};

/// What a table is for; a style hook.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TableRole {
    Parts,
    Hardware,
    Cuts,
    Holes,
    Joints,
    Measures,
    /// What is glued, each row with the maker's times.
    Bonds,
    /// What must have cured before a step.
    Cured,
    /// What is on back order and a step waits for.
    Owed,
    Callouts,
    Index,
    PickList,
    Receiving,
    Plain,
}

impl TableRole {
    /// A word for class names.
    pub fn word(self) -> &'static str {
        match self {
            Self::Parts => "parts",
            Self::Hardware => "hardware",
            Self::Cuts => "cuts",
            Self::Holes => "holes",
            Self::Joints => "joints",
            Self::Measures => "measures",
            Self::Bonds => "bonds",
            Self::Cured => "cured",
            Self::Owed => "owed",
            Self::Callouts => "callouts",
            Self::Index => "index",
            Self::PickList => "pick-list",
            Self::Receiving => "receiving",
            Self::Plain => "plain",
        }
    }
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum CellAlign {
    #[default]
    Start,
    Center,
    End,
}

/// How wide a column wants to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Width {
    /// As wide as its widest cell.
    Fit,
    /// A share of what is left, with this weight.
    Share(u8),
}

#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    pub title: Inlines,
    pub align: CellAlign,
    pub width: Width,
    pub kind: ColumnKind,
}

/// What the cells of a column say, where that matters to how they are set.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ColumnKind {
    #[default]
    Plain,
    /// They name their row (`th scope=row`).
    Name,
    Quantity,
    Hand,
    /// Where a thing lies: bag, crate or bin, as the title says.
    Place,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    pub role: TableRole,
    /// Said before the table, and to screen readers; may be empty where a group's title says it.
    pub caption: Inlines,
    pub columns: Vec<Column>,
    pub rows: Vec<TableRow>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct TableRow {
    pub cells: Vec<TableCell>,
    pub anchor: Option<Anchor>,
    pub origin: Origin,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct TableCell {
    pub content: Inlines,
    /// How many columns it covers; 0 and 1 are one. A row with a single cell over all columns is a subheading.
    pub span: u8,
}
