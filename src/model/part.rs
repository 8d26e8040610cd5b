//! Parts: rows of the bill of materials.

use std::collections::BTreeMap;

use super::hardware::words;
use crate::source::{Span, Spanned};
use crate::trade::Drill;
use crate::units::{Hand, Length, OptionName, PartNumber, StockId, UnitStyle, VariantName, Weight, plain};

/// A row of the parts list.
#[derive(Clone, Debug)]
pub struct Part {
    pub number: Spanned<PartNumber>,
    pub name: String,
    pub hand: Option<Hand>,
    /// The cell of the hand, where something stands in it.
    pub hand_span: Option<Span>,
    pub opposite: Option<Spanned<PartNumber>>,
    pub material: String,
    pub stock: Option<Spanned<StockId>>,
    pub cut_length: Option<Spanned<Length>>,
    /// The length in which it is supplied, from `blank 48 in` or the column `blank length`.
    pub blank_length: Option<Spanned<Length>>,
    pub supplied: Supplied,
    pub variants: BTreeMap<VariantName, QuantityCell>,
    pub options: BTreeMap<OptionName, QuantityCell>,
    pub bin: String,
    pub crate_: String,
    pub bag: String,
    pub area: String,
    pub finish: String,
    pub weight: Option<Weight>,
    pub made_by: MadeBy,
    /// The part this piece is cut out of.
    pub cut_from: Option<Spanned<PartNumber>>,
    /// The part that is supplied in its place, where this one is no longer made.
    pub replaced_by: Option<Spanned<PartNumber>>,
    /// What the author says of the part under this number as it was before.
    pub interchangeable: Option<Spanned<Interchangeable>>,
    /// What becomes of it when a conversion takes it off.
    pub when_removed: WhenRemoved,
    /// The name by which steps may call it and the parts that do the same in other variants.
    pub called: Option<Spanned<String>>,
    pub note: String,
    /// The row.
    pub span: Span,
}

impl Part {
    /// The note, where there is one.
    pub fn remark(&self) -> Option<&str> {
        Some(self.note.as_str()).filter(|note| !note.is_empty())
    }
}

/// A quantity cell: signed for an option, not negative for a variant.
#[derive(Clone, Copy, Debug)]
pub struct QuantityCell {
    pub count: i64,
    pub span: Span,
}

/// The state in which a part is in the crate.
#[derive(Clone, Debug, Default)]
pub struct Supplied {
    /// Both ends as drawn: nobody cuts it again.
    pub cut: bool,
    /// Holes that are there at pilot size, by name.
    pub pilot_holes: Vec<String>,
    /// Holes that are there at full size, by name.
    pub holes: Vec<String>,
    /// It is said that there are none.
    pub no_holes: bool,
    pub finished: bool,
    pub assembled: bool,
    /// The cell.
    pub span: Option<Span>,
}

/// A declaration that a part which differs from the one that a release shipped under its number may stand in its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Interchangeable {
    pub how: Interchange,
    /// The letter of the release with which the other one was shipped.
    pub since: String,
}

words! {
    /// Which of two parts of one number may stand in the place of the other.
    Interchange {
        BothWays = "both ways",
        NewForOld = "new for old",
    }
}

words! {
    /// What becomes of a part that a conversion takes off.
    WhenRemoved {
        Keep = "keep",
        Return = "return",
        Scrap = "scrap",
    }
}

/// A row of the list of holes: a hole of a part, or several alike in a row.
#[derive(Clone, Debug)]
pub struct ListedHole {
    pub part: Spanned<PartNumber>,
    pub hole: Spanned<String>,
    /// Of one piece; at least one.
    pub count: i64,
    /// As supplied.
    pub size: Option<Spanned<Drill>>,
    /// From end A or the left edge to the first.
    pub along: Option<Spanned<Length>>,
    /// From the lower edge, or around a tube from its datum line.
    pub across: Option<Spanned<Length>>,
    /// From one to the next of the row.
    pub pitch: Option<Spanned<Length>>,
    /// Least distance to an edge.
    pub edge: Option<Spanned<Length>>,
    pub note: String,
    /// The row.
    pub span: Span,
}

impl ListedHole {
    /// The row in words, its remark left out: `A 4 × 1/4 in, 3/4 in apart, 1/2 in from the edge`.
    pub fn words(&self, units: UnitStyle) -> String {
        let length = |l: Spanned<Length>| plain(&l.value.pieces(units));
        let mut words = format!("{} {} ×", self.hole.value, self.count);
        words.push_str(&self.size.map_or_else(String::new, |s| format!(" {}", s.value)));
        let said =
            [(self.along, "along"), (self.across, "across"), (self.pitch, "apart"), (self.edge, "from the edge")];
        for (length_there, what) in said.into_iter().filter_map(|(l, what)| Some((l?, what))) {
            words.push_str(&format!(", {} {what}", length(length_there)));
        }
        words
    }
}

/// Who makes a part.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MadeBy {
    #[default]
    Maker,
    Builder,
    Bought,
}
