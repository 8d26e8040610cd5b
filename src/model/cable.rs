//! Cables, as the author wrote them: what one is, and what a step does to it.

use super::hardware::words;
use super::step::StepItem;
use crate::source::{Span, Spanned};
use crate::units::{Designation, Length, Measure, PartNumber};

/// What a step says of a cable and does to it, in this order: end A is closed, the cable is led through its guides,
/// end B is closed.
#[derive(Clone, Debug)]
pub struct CableUse {
    /// Its id, the same wherever it is worked on.
    pub cable: Spanned<String>,
    /// What it is made of.
    pub part: Option<Spanned<PartNumber>>,
    /// Strands and wires, for example 7x19.
    pub construction: Option<Spanned<String>>,
    pub kind: CableKind,
    /// What it works on.
    pub for_: CableFor,
    /// What the sheath of a bowden cable is made of: a part number or a designation.
    pub sheath: Option<Spanned<String>>,
    /// What the sheath is cut to, without its ferrules.
    pub sheath_length: Option<Spanned<Length>>,
    /// Finished, from pin to pin.
    pub length: Option<Spanned<Length>>,
    /// What is written on it.
    pub label: Option<Spanned<String>>,
    /// Pulleys and fairleads in their order from end A.
    pub run: Vec<StepItem<Guide>>,
    /// The designer's load for the proof.
    pub proof_load: Option<Spanned<Measure>>,
    pub end_a: Option<CableEnd>,
    pub end_b: Option<CableEnd>,
    pub thread: Option<CableLead>,
}

words! {
    /// What runs in a cable.
    CableKind {
        Rope = "rope",
        Bowden = "bowden",
    }
}

words! {
    /// What a cable works on.
    CableFor {
        Steering = "steering",
        Brakes = "brakes",
        Rig = "rig",
        Other = "other",
    }
}

/// What a cable is led through.
#[derive(Clone, Debug)]
pub struct Guide {
    pub kind: GuideKind,
    /// A part number or a designation.
    pub name: Spanned<String>,
    pub at: Option<String>,
}

words! {
    /// What leads a cable.
    GuideKind {
        Fairlead = "fairlead",
        Pulley = "pulley",
    }
}

/// Leading a cable through its guides.
#[derive(Clone, Debug)]
pub enum CableLead {
    /// All of them, in their order.
    All(Span),
    /// These, in this order.
    These(Vec<Spanned<String>>),
}

/// An end of a cable and what closes it.
#[derive(Clone, Debug)]
pub struct CableEnd {
    pub span: Span,
    pub thimble: Option<Spanned<Designation>>,
    pub sleeve: Option<Spanned<Designation>>,
    /// How many sleeves.
    pub sleeves: i64,
    /// Presses of each sleeve.
    pub crimps: Option<i64>,
    /// Cable beyond the bearing point of the thimble: round it, back through the sleeve, and the tail.
    pub loop_: Option<Spanned<Length>>,
    /// What stands out of the sleeve when it is pressed.
    pub tail: Option<Spanned<Length>>,
    /// From the pin at this end to the bearing point of the thimble; zero where the pin goes through the thimble.
    pub reach: Option<Spanned<Length>>,
    pub turnbuckle: Option<Spanned<Designation>>,
    /// The two ends of a turnbuckle that comes in three pieces, that of the cable first.
    pub turnbuckle_ends: Vec<Spanned<Designation>>,
    /// Thread of the turnbuckle's end towards the cable; the other has the other.
    pub thread: Option<Spanned<ThreadHand>>,
    /// Turns of safety wire round each shank of the turnbuckle.
    pub wraps: Option<Spanned<i64>>,
    /// On the inner wire of a bowden cable.
    pub nipple: Option<Spanned<Designation>>,
    /// On its sheath.
    pub ferrule: Option<Spanned<Designation>>,
    /// The load that the maker of the end gives for it.
    pub maker_value: Option<Spanned<Measure>>,
    /// The parts that the pin of this end passes.
    pub pin_through: Vec<Spanned<PartNumber>>,
    /// How the turnbuckle is kept from turning.
    pub safety: Option<Spanned<String>>,
    /// What else goes into the end.
    pub fittings: Vec<(Spanned<Designation>, i64)>,
}

words! {
    /// Which way a thread runs. It is the same on both sides of a craft.
    ThreadHand {
        Left = "left",
        Right = "right",
    }
}

impl CableUse {
    /// End A and end B, where this step closes them.
    pub fn ends(&self) -> [Option<&CableEnd>; 2] {
        [self.end_a.as_ref(), self.end_b.as_ref()]
    }

    /// It says what the cable is, and does not only work on it.
    pub fn defines(&self) -> bool {
        self.length.is_some()
    }
}

impl CableEnd {
    /// The hardware that closing this end takes, with how many of each.
    pub fn hardware(&self) -> impl Iterator<Item = (&Spanned<Designation>, i64)> {
        let thimble = self.thimble.iter().map(|d| (d, 1));
        let sleeve = self.sleeve.iter().map(|d| (d, self.sleeves));
        let turnbuckle = self.turnbuckle.iter().chain(&self.turnbuckle_ends).map(|d| (d, 1));
        let bowden = self.nipple.iter().chain(&self.ferrule).map(|d| (d, 1));
        thimble.chain(sleeve).chain(turnbuckle).chain(bowden).chain(self.fittings.iter().map(|(d, n)| (d, *n)))
    }
}
