//! What to pull, as plain rows.

/// The kind of thing a row asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PickKind {
    Part,
    Hardware,
}

impl PickKind {
    pub fn word(self) -> &'static str {
        match self {
            Self::Part => "part",
            Self::Hardware => "hardware",
        }
    }
}

/// A row of the pick lists: an item that a step takes from the bins (in the shop) or from its bag and crate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PickRow {
    /// The step's id.
    pub step: String,
    /// `3.12`
    pub number: String,
    pub kind: PickKind,
    /// What it is, in words.
    pub item: String,
    /// Part number or designation.
    pub designation: String,
    /// What is there to be pulled.
    pub quantity: crate::units::Quantity,
    /// What is to be pulled too and is on back order.
    pub owed: crate::units::Quantity,
    /// What it stands for in this kit, and how many do; none where it is what the manual says.
    pub in_place_of: Vec<(String, crate::units::Rational)>,
    pub hand: Option<crate::units::Hand>,
    pub bin: String,
    pub bag: String,
    pub crate_: String,
    /// Of a washer, nut or pin of a joint: the fasteners it goes with, and how many for each.
    pub goes_with: Vec<(String, i64)>,
}
