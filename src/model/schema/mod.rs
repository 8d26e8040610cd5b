//! The schema: every key of front matter, of `manual.yaml` and every column of the tables, each with the kind of thing
//! that it holds.
//!
//! Reading, the reference, unknown names, where a thing is used, conditions, the step for the other hand and what a
//! change touches all walk by it, so that a new key is known to all of them from its first day.
//!
//! Owns: keys, what they hold, walking trees and tables by them. Must not know: rules, documents, how a value is read.

mod cable_keys;
mod form;
mod joint_keys;
mod manual_keys;
mod mention;
mod step_keys;
mod table_keys;
mod walk;
mod words;

pub use manual_keys::{ACCEPT, CONSUMABLES_KEY, FASTENING, MANUAL, PAGE, TOOLS_KEY};
pub use mention::{
    Mention, Under, Within, mentions, names_in_page, names_in_settings, names_in_step, names_in_tables, thing_of,
};
pub use step_keys::STEP;
pub use table_keys::{HARDWARE_ROWS, HOLE_ROWS, KIT_ROWS, PART_ROWS, SHIPPED_ROWS, STOCK_ROWS, TABLES, TableForm};
pub use walk::{KeyLeaf, Named, column_of, walk, walk_table};
pub(super) use walk::{counted, part_of};
pub use words::{item_words, words};

/// What a name is the name of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Thing {
    Part,
    Hardware,
    /// A part or an item of hardware: both lists are looked in.
    Item,
    Stock,
    Step,
    Section,
    Figure,
    Tool,
    Consumable,
    Assembly,
    Datum,
    Joint,
    JointKind,
    Hole,
    Cable,
    Bond,
    Wire,
    Variant,
    Option,
    /// A variant or an option, in a condition.
    Condition,
    Rule,
    Release,
}

impl Thing {
    /// Whether a name that stands for a `self` can be that of a `thing`: a variant or an option is named in conditions too,
    /// where it is not said which of them it is.
    pub fn may_name(self, thing: Thing) -> bool {
        self == thing || self == Self::Condition && matches!(thing, Self::Variant | Self::Option)
    }

    /// In one word, as messages and references in the text say it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Part => "part",
            Self::Hardware => "hardware",
            Self::Item => "part or hardware",
            Self::Stock => "stock",
            Self::Step => "step",
            Self::Section => "section",
            Self::Figure => "figure",
            Self::Tool => "tool",
            Self::Consumable => "consumable",
            Self::Assembly => "assembly",
            Self::Datum => "datum",
            Self::Joint => "joint",
            Self::JointKind => "kind of joint",
            Self::Hole => "hole",
            Self::Bond => "bond",
            Self::Wire => "wire",
            Self::Cable => "cable",
            Self::Variant => "variant",
            Self::Option => "option",
            Self::Condition => "variant or option",
            Self::Rule => "rule",
            Self::Release => "release",
        }
    }

    /// What a reference in the text refers to by its scheme: `part:KW-103-L`.
    pub fn of_scheme(scheme: &str) -> Option<Self> {
        const SCHEMES: [Thing; 6] =
            [Thing::Part, Thing::Hardware, Thing::Step, Thing::Figure, Thing::Tool, Thing::Consumable];
        SCHEMES.into_iter().find(|t| t.word() == scheme)
    }

    /// Whether the names of such things hold words for a side, which the other hand's step says the other way round.
    /// Others have a table of opposites, or stay as they are.
    pub fn named_in_words(self) -> bool {
        matches!(self, Self::Assembly | Self::Datum | Self::Joint | Self::Hole | Self::Cable | Self::Bond | Self::Wire)
    }
}

/// How a name is used where it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Use {
    /// This is where the thing gets its name.
    Named,
    /// Among the parts of a step.
    Taken,
    CutOut,
    /// Among the hardware of a step.
    Listed,
    Fastener,
    UnderHead,
    UnderNut,
    Nut,
    Pin,
    /// The kind of joint that a joint is.
    OfKind,
    /// Hardware that a joint has from its kind.
    ByKind,
    Clamped,
    Cut,
    Onto,
    Bent,
    Flattened,
    CableOf,
    CableEnd,
    /// A cable's sheath is made of it.
    Sheath,
    Glued,
    GluedWith,
    /// A step waits until it has cured.
    Cured,
    /// What its maker says of it.
    Described,
    WireOf,
    WireEnd,
    CrimpedWith,
    Guide,
    Drilled,
    DrilledFrom,
    HoleFor,
    HoleName,
    SetOutFrom,
    Shown,
    ShownOpposite,
    PointedAt,
    ComesBefore,
    InSection,
    Made,
    UsedUp,
    Inspected,
    Closed,
    Needed,
    /// Sent to who has built it already.
    Sent,
    InText,
    OppositeOf,
    CutFrom,
    MadeOf,
    ReplacedBy,
    Shipped,
    PutInPlace,
    BasedOn,
    Excluded,
    Required,
    Grouped,
    Configured,
    Registered,
    InCondition,
    DeburrsWith,
    PrimesWith,
    TouchesUp,
    SealsWith,
    Accepted,
    Levelled,
    Since,
}

impl Use {
    /// What is said of the place in the note of a finding.
    pub fn note(self) -> &'static str {
        match self {
            Self::Named => "named here",
            Self::Taken => "taken here",
            Self::CutOut => "cut out of another part here",
            Self::Listed | Self::Needed => "listed here",
            Self::Fastener
            | Self::UnderHead
            | Self::UnderNut
            | Self::Nut
            | Self::Pin
            | Self::Clamped
            | Self::CableEnd => "in a joint here",
            Self::OfKind => "a joint of it here",
            Self::ByKind => "in a joint of its kind here",
            Self::Cut => "cut here",
            Self::Onto => "fitted onto here",
            Self::Bent => "bent here",
            Self::Flattened => "flattened here",
            Self::CableOf => "made into a cable here",
            Self::Guide => "leads a cable here",
            Self::Sheath => "a cable runs in it here",
            Self::Glued => "glued here",
            Self::GluedWith => "glued with it here",
            Self::Cured => "waited for here",
            Self::Described => "described here",
            Self::WireOf => "made into a wire here",
            Self::WireEnd => "on the end of a wire here",
            Self::CrimpedWith => "crimped with it here",
            Self::Drilled => "drilled here",
            Self::DrilledFrom => "drilled from here",
            Self::HoleFor => "a hole for it here",
            Self::HoleName => "worked on here",
            Self::SetOutFrom => "measured from here",
            Self::Shown => "shown here",
            Self::ShownOpposite => "shown by the opposite step",
            Self::PointedAt => "in a figure here",
            Self::ComesBefore => "waited for here",
            Self::InSection => "named here",
            Self::Made => "made here",
            Self::UsedUp => "used here",
            Self::Inspected => "inspected here",
            Self::Closed => "closed here",
            Self::Sent => "sent to who has built it already",
            Self::InText => "in the text here",
            Self::OppositeOf => "an opposite in the parts list",
            Self::CutFrom => "cut from it in the parts list",
            Self::MadeOf => "named here",
            Self::ReplacedBy | Self::PutInPlace => "supplied in the place of another",
            Self::Shipped => "in shipped.csv",
            Self::BasedOn => "based on here",
            Self::Excluded => "excluded here",
            Self::Required => "required here",
            Self::Grouped => "in a group",
            Self::Configured => "in a configuration",
            Self::Registered => "in the kit register",
            Self::InCondition => "and here",
            Self::DeburrsWith => "deburrs here",
            Self::PrimesWith => "primes here",
            Self::TouchesUp => "touches up here",
            Self::SealsWith => "seals here",
            Self::Accepted => "accepted here",
            Self::Levelled => "set here",
            Self::Since => "named here",
        }
    }

    /// Hardware that a step fits: of its list, in a joint, in a cable or in a wire.
    pub fn fitted(self) -> bool {
        matches!(
            self,
            Self::Listed
                | Self::Fastener
                | Self::UnderHead
                | Self::UnderNut
                | Self::Nut
                | Self::Pin
                | Self::ByKind
                | Self::Clamped
                | Self::CableEnd
                | Self::Sheath
                | Self::WireOf
                | Self::WireEnd
        )
    }

    /// Something takes the place of another thing.
    pub fn replaces(self) -> bool {
        matches!(self, Self::ReplacedBy | Self::PutInPlace | Self::Sent)
    }

    /// Whether a name in this use must be known beforehand. Others are held against each other by rules of their own.
    pub fn must_be_known(self) -> bool {
        !matches!(
            self,
            Self::Named
                | Self::Made
                | Self::Inspected
                | Self::Closed
                | Self::HoleName
                | Self::Shipped
                | Self::PutInPlace
        )
    }
}

/// A side that a length is measured to, in a key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lateral {
    Left,
    Right,
    Neither,
}

/// What a key holds.
#[derive(Clone, Copy, Debug)]
pub enum Holds {
    /// A name of a thing, and how it is used here.
    Name(Thing, Use),
    /// The same with a count or an amount before it: `2 x KW-102`.
    Counted(Thing, Use),
    /// A name, or one of these words.
    NameOr(&'static [&'static str], Thing, Use),
    /// `VARIANT+option+option`.
    Configuration(Use),
    Condition,
    /// Words that the builder reads. A side in them is the other one in the opposite step.
    Words,
    /// Words that stay as they are: a number, a place of the shop, a reason for the maker.
    Plain,
    /// One of these words.
    Word(&'static [&'static str]),
    YesNo,
    Hand,
    /// A whole hour, seen at an end.
    Clock,
    Length,
    /// A length to a side.
    Away(Lateral),
    /// A length with a sign, to one side of an axis.
    Offset,
    Angle,
    Number,
    Count,
    Quantity,
    Measure,
    Torque,
    Drill,
    Weight,
    /// A share in percent, a least number, or both.
    Spare,
    Period,
    Temperature,
    WireSize,
    Colour,
    Date,
    /// The face of a part that is up in a jig for both hands, and the other one.
    FaceUp,
    OtherFaceUp,
    /// Percent of a picture's width and height.
    Point,
    /// Left, top, width and height in percent of a picture.
    Crop,
    /// The path of a file of the manual. Releases carry its bytes.
    File,
    /// The state in which a part is supplied, with names of holes.
    Supplied,
    /// A list of items.
    Items(&'static Form),
    /// A group of keys.
    Group(&'static Form),
    /// Entries under names of the author's: what the names are, and what each holds.
    Entries(&'static Holds, &'static Holds),
}

impl Holds {
    /// The keys of what it holds: of the items of a list, of a group, of the entries under names of the author's.
    pub fn inner(self) -> Option<&'static Form> {
        match self {
            Self::Items(form) | Self::Group(form) => Some(form),
            Self::Entries(_, held) => held.inner(),
            _ => None,
        }
    }
}

/// A key of a mapping or a column of a table.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    pub name: &'static str,
    pub holds: Holds,
    /// What it means, in the words of the reference.
    pub doc: &'static str,
    /// A value as it may be written; empty where that of its kind serves.
    example: &'static str,
    /// What holds where it is not written; empty where nothing does.
    pub usual: &'static str,
    /// Says nothing to the builder, or says it by the order of the steps.
    pub silent: bool,
}

/// A key, what it holds and what it means.
pub const fn key(name: &'static str, holds: Holds, doc: &'static str) -> Key {
    Key { name, holds, doc, example: "", usual: "", silent: false }
}

impl Key {
    pub(super) const fn shown(self, example: &'static str) -> Self {
        Self { example, ..self }
    }

    pub const fn usual(self, usual: &'static str) -> Self {
        Self { usual, ..self }
    }

    pub const fn silent(self) -> Self {
        Self { silent: true, ..self }
    }
}

/// The keys that belong together: of a file, of an item of a list, of a group.
#[derive(Debug)]
pub struct Form {
    /// In messages: `an item of `cuts``.
    pub what: &'static str,
    pub keys: &'static [Key],
    /// What an item holds that is written on one line without keys.
    pub short: Option<Holds>,
    /// Keys without which an item says nothing; of those in one list one is enough.
    pub needs: &'static [&'static [&'static str]],
}

impl Form {
    pub fn key(&self, name: &str) -> Option<&'static Key> {
        self.keys.iter().find(|k| k.name == name)
    }
}
