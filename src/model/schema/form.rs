//! What a value of each kind looks like: its form in words, its unit, an example.

use super::{Form, Holds, Key, Thing};

impl Key {
    /// A value as it may be written; empty for lists and groups, whose keys have their own.
    pub fn example(&self) -> &'static str {
        if self.example.is_empty() { self.holds.example() } else { self.example }
    }
}

impl Holds {
    /// The form in words, with the unit that a bare number has.
    pub fn form(&self) -> String {
        match self {
            Self::Name(thing, _) => thing.name_form().to_owned(),
            Self::Counted(thing, _) => format!("{}, with a count before it where it is not one", thing.name_form()),
            Self::NameOr(words, thing, _) => format!("{}, or {}", thing.name_form(), words.join(", ")),
            Self::Configuration(_) => "a variant and its options, joined by `+`".to_owned(),
            Self::Condition => "names of variants and options with and, or, not, brackets; serial 100..149".to_owned(),
            Self::Words => "a text for the builder".to_owned(),
            Self::Plain => "a text".to_owned(),
            Self::Word(words) => words.join(", "),
            Self::YesNo => "yes or no".to_owned(),
            Self::Hand => "left, right or none".to_owned(),
            Self::Clock => "a whole hour, 1 to 12".to_owned(),
            Self::Length | Self::Away(_) => "a length; a bare number is inches".to_owned(),
            Self::Offset => "a length with its sign; a bare number is inches".to_owned(),
            Self::Angle => "degrees".to_owned(),
            Self::Number => "a number".to_owned(),
            Self::Count => "a whole number of pieces".to_owned(),
            Self::Quantity => "a whole number of pieces, or an amount with its unit: ft, lb, m, m2, kg, g, litre, ml".to_owned(),
            Self::Measure => "a number with its unit: in, mm, m, deg, lb, N, in-lb, N m, psi, bar, kg, g, V, A, ohm, litre, ml, m2 or °C".to_owned(),
            Self::Torque => "a value or a range with its unit: in-lb or N m".to_owned(),
            Self::Drill => "a drill by number, letter, fraction or mm; `#` in quotes".to_owned(),
            Self::Weight => "a weight; a bare number is pounds".to_owned(),
            Self::Spare => "a percentage, `at least` and a number, or both".to_owned(),
            Self::Period => "a time with its unit: min, h or d".to_owned(),
            Self::Temperature => "a temperature with its unit: C or F".to_owned(),
            Self::WireSize => "a size: AWG 18, or 1.5 mm2".to_owned(),
            Self::Colour => "six hexadecimal digits behind `#`, in quotes".to_owned(),
            Self::Date => "year-month-day".to_owned(),
            Self::FaceUp | Self::OtherFaceUp => "a face in words".to_owned(),
            Self::Point => "two numbers in percent".to_owned(),
            Self::Crop => "four numbers in percent".to_owned(),
            Self::File => "the path of a file in the manual's folder".to_owned(),
            Self::Supplied => "states and named holes, joined by `;`".to_owned(),
            Self::Items(Form { short: Some(short), .. }) => format!("a list; an item is {}, or has keys", short.form()),
            Self::Items(_) => "a list; each item has keys".to_owned(),
            Self::Group(_) => "keys of its own".to_owned(),
            Self::Entries(names, held) => format!("entries: {}: {}", names.form(), held.form()),
        }
    }

    /// A value of the kind; empty for lists, groups and entries.
    pub fn example(&self) -> &'static str {
        match self {
            Self::Name(thing, _) | Self::NameOr(_, thing, _) => thing.example(),
            Self::Counted(Thing::Hardware | Thing::Item, _) => "2 x AN4-10A",
            Self::Counted(..) => "2 x KW-102",
            Self::Configuration(_) => "SHORT+brake",
            Self::Condition => "SHORT and not brake",
            Self::Words | Self::Plain | Self::Items(_) | Self::Group(_) | Self::Entries(..) => "",
            Self::Word(words) => words.first().copied().unwrap_or(""),
            Self::YesNo => "yes",
            Self::Hand => "left",
            Self::Clock => "3",
            Self::Length | Self::Away(_) => "23 15/16",
            Self::Offset => "-1/2",
            Self::Angle => "22.5",
            Self::Number => "4",
            Self::Count | Self::Quantity => "2",
            Self::Measure => "12 in",
            Self::Torque => "30..40 in-lb",
            Self::Drill => "\"#30\"",
            Self::Weight => "0.4",
            Self::Spare => "5 %, at least 2",
            Self::Period => "24 h",
            Self::Temperature => "20 C",
            Self::WireSize => "AWG 18",
            Self::Colour => "\"#1f5f6b\"",
            Self::Date => "2026-03-02",
            Self::FaceUp => "outer face",
            Self::OtherFaceUp => "inner face",
            Self::Point => "[40, 62]",
            Self::Crop => "[10, 20, 50, 60]",
            Self::File => "fonts/own.ttf",
            Self::Supplied => "blank 48 in; pilot holes lug",
        }
    }
}

impl Thing {
    fn name_form(self) -> &'static str {
        match self {
            Self::Part => "a part's number",
            Self::Hardware => "a designation",
            Self::Item => "a part's number or a designation",
            Self::Stock => "the id of a line of stock",
            Self::Step => "a step's id",
            Self::Section => "a section's id",
            Self::Figure => "a file in the folder of figures",
            Self::Tool => "a tool's id",
            Self::Consumable => "a consumable's id",
            Self::Assembly => "an assembly's id",
            Self::Datum => "a datum's id",
            Self::Joint => "a joint's id",
            Self::JointKind => "the name of a kind of joint",
            Self::Hole => "a hole's name",
            Self::Cable => "a cable's id",
            Self::Bond => "a bond's id",
            Self::Wire => "a wire's id",
            Self::Variant => "a variant's name",
            Self::Option => "an option's name",
            Self::Condition => "the name of a variant or an option",
            Self::Rule => "a rule's id",
            Self::Release => "a release's letter",
        }
    }

    fn example(self) -> &'static str {
        match self {
            Self::Part | Self::Item => "KW-103-L",
            Self::Hardware => "AN4-10A",
            Self::Stock => "tube-1",
            Self::Step => "join-keel",
            Self::Section => "frame",
            Self::Figure => "rail-left.svg",
            Self::Tool => "drill",
            Self::Consumable => "grease",
            Self::Assembly => "keel",
            Self::Datum => "keel-line",
            Self::Joint => "lug-bolt",
            Self::JointKind => "pivot",
            Self::Hole => "lug",
            Self::Cable => "left-stay",
            Self::Bond => "left-rib",
            Self::Wire => "left-lamp",
            Self::Variant => "SHORT",
            Self::Option => "brake",
            Self::Condition => "SHORT",
            Self::Rule => "sentence-length",
            Self::Release => "B",
        }
    }
}
