//! Hardware and stock.

use crate::source::{Span, Spanned};
use crate::trade::Drill;
use crate::units::{Designation, Length, Measure, StockId, Unit};

/// A row of the hardware list.
#[derive(Clone, Debug)]
pub struct Hardware {
    pub designation: Spanned<Designation>,
    pub name: String,
    pub kind: HardwareKind,
    pub unit: Unit,
    pub bin: String,
    pub bag: String,
    pub crate_: String,
    pub thread: String,
    pub diameter: Option<Spanned<Length>>,
    pub length: Option<Spanned<Length>>,
    /// Of a blind rivet the largest.
    pub grip: Option<Spanned<Length>>,
    /// The smallest grip of a blind rivet.
    pub least_grip: Option<Spanned<Length>>,
    pub thickness: Option<Spanned<Length>>,
    pub height: Option<Spanned<Length>>,
    /// The drill for its hole.
    pub hole: Option<Spanned<Drill>>,
    /// The reamer for its hole, where it is reamed.
    pub reamer: Option<Spanned<Drill>>,
    /// Columns whose value the author marks as from memory.
    pub recalled: Vec<&'static str>,
    pub material: String,
    /// Property class, as it is marked.
    pub class: Option<Spanned<String>>,
    /// What it bears without giving, as its maker says it.
    pub strength: Option<Spanned<Measure>>,
    /// Never used again once taken off.
    pub one_use: bool,
    /// What is supplied in its place, where this one is no longer bought.
    pub replaced_by: Option<Spanned<Designation>>,
    pub note: String,
    /// The row.
    pub span: Span,
}

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($variant:ident = $word:literal,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($variant,)* }

        impl $name {
            /// All of them, in the order in which they are explained.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)*];

            /// The word as it is written in the sources and in documents.
            pub fn word(self) -> &'static str {
                match self { $(Self::$variant => $word,)* }
            }

            /// The one with this word; case does not count.
            pub fn from_word(word: &str) -> Option<Self> {
                let word = word.trim();
                Self::ALL.iter().copied().find(|k| k.word().eq_ignore_ascii_case(word))
            }
        }
    };
}
pub(crate) use words;

words! {
    /// What kind of hardware it is.
    HardwareKind {
        Bolt = "bolt",
        Screw = "screw",
        Nut = "nut",
        PlainNut = "plain nut",
        CastleNut = "castle nut",
        CheckNut = "check nut",
        ElasticNut = "elastic nut",
        MetalNut = "all-metal nut",
        Washer = "washer",
        SolidRivet = "solid rivet",
        BlindRivet = "blind rivet",
        ClevisPin = "clevis pin",
        CotterPin = "cotter pin",
        Eyebolt = "eyebolt",
        Turnbuckle = "turnbuckle",
        Cable = "cable",
        CableFitting = "cable fitting",
        Sleeve = "sleeve",
        Thimble = "thimble",
        Clamp = "clamp",
        Bearing = "bearing",
        Hook = "hook",
        Spring = "spring",
        Tape = "tape",
        Other = "other",
    }
}

impl HardwareKind {
    pub fn is_nut(self) -> bool {
        matches!(
            self,
            Self::Nut | Self::PlainNut | Self::CastleNut | Self::CheckNut | Self::ElasticNut | Self::MetalNut
        )
    }
}

/// A line of stock.
#[derive(Clone, Debug)]
pub struct Stock {
    pub id: Spanned<StockId>,
    pub material: String,
    pub shape: StockShape,
    pub outside_diameter: Option<Spanned<Length>>,
    pub wall: Option<Spanned<Length>>,
    pub bar_length: Option<Spanned<Length>>,
    pub cost: String,
    pub span: Span,
}

words! {
    /// The shape of raw stock.
    StockShape {
        RoundTube = "round tube",
        SquareTube = "square tube",
        Bar = "bar",
        Angle = "angle",
        Sheet = "sheet",
        Cable = "cable",
        Fabric = "fabric",
        Other = "other",
    }
}
