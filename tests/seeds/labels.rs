//! How a key is called in the kinds of mistakes, and in which group of the table it counts.

use kitwright::model::schema::{Form, Holds, KeyLeaf};

/// The groups of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    Parts,
    Hands,
    Joints,
    Holes,
    Cuts,
    Cables,
    Order,
    Tools,
    Measures,
    Text,
    Links,
    Figures,
    Conditions,
    Tables,
}

impl Group {
    pub const ALL: [Self; 14] = [
        Self::Parts,
        Self::Hands,
        Self::Joints,
        Self::Holes,
        Self::Cuts,
        Self::Cables,
        Self::Order,
        Self::Tools,
        Self::Measures,
        Self::Text,
        Self::Links,
        Self::Figures,
        Self::Conditions,
        Self::Tables,
    ];

    pub fn title(self) -> &'static str {
        match self {
            Self::Parts => "parts",
            Self::Hands => "hands",
            Self::Joints => "joints",
            Self::Holes => "holes",
            Self::Cuts => "cuts and bends",
            Self::Cables => "cables, bonds, wires",
            Self::Order => "order",
            Self::Tools => "tools, loose hardware",
            Self::Measures => "measures",
            Self::Text => "text",
            Self::Links => "links",
            Self::Figures => "callouts and figures",
            Self::Conditions => "conditions",
            Self::Tables => "tables and settings",
        }
    }

    /// Of a key at the top of a step.
    pub fn of_key(name: &str) -> Self {
        match name {
            "parts" | "makes" => Self::Parts,
            "hand" | "opposite" | "opposite-keep" | "opposite-swap" => Self::Hands,
            "joints" => Self::Joints,
            "holes" | "one-jig" => Self::Holes,
            "cuts" | "bends" | "flattened" => Self::Cuts,
            "cables" | "bonds" | "cured" | "wires" => Self::Cables,
            "step" | "section" | "after" | "inspect" | "closes" => Self::Order,
            "hardware" | "tools" | "consumables" => Self::Tools,
            "measure" | "offsets" | "hours" | "sign-off" => Self::Measures,
            "title" | "safety" | "if-already-built" => Self::Text,
            "figures" => Self::Figures,
            "only" => Self::Conditions,
            _ => Self::Tables,
        }
    }
}

/// The keys that nothing is made of for the builder: what is accepted, and levels of rules.
pub fn is_for_the_compiler(list: &str) -> bool {
    matches!(list, "accept" | "levels" | "typing-errors" | "step" | "language")
}

/// What a leaf is called: `cuts angle`, `stack part`; the one line of an item is called by its first key.
pub fn label(leaf: &KeyLeaf) -> String {
    let short = match leaf.key.holds {
        Holds::Items(form) | Holds::Entries(_, &Holds::Items(form)) => form.keys.first().map(|k| k.name),
        _ => None,
    };
    match short {
        Some(first) => format!("{} {first}", leaf.key.name),
        None if leaf.within.len() < 2 => leaf.key.name.to_owned(),
        None => format!("{} {}", of_form(leaf.form), leaf.key.name),
    }
}

/// The name of a form: `cuts` of "an item of `cuts`".
pub fn of_form(form: &Form) -> &'static str {
    form.what.split('`').nth(1).unwrap_or(form.what)
}
