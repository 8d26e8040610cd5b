//! What is glued, and what has to have cured before work goes on; as the author wrote it.

use super::hardware::words;
use crate::source::{Span, Spanned};
use crate::units::{ConsumableId, PartNumber, Period, Temperature};

/// Parts that are glued together.
#[derive(Clone, Debug)]
pub struct Bond {
    pub bond: Spanned<String>,
    pub parts: Vec<Spanned<PartNumber>>,
    pub adhesive: Spanned<ConsumableId>,
    /// How much is mixed.
    pub amount: Option<String>,
    /// How the pieces are held while it cures.
    pub clamped: Option<String>,
    pub if_wrong: Option<String>,
}

/// A bond that a step waits for.
#[derive(Clone, Debug)]
pub struct Cured {
    pub bond: Spanned<String>,
    pub to: CureState,
}

words! {
    /// How far a bond has cured.
    CureState {
        Handling = "handling",
        Full = "full",
    }
}

/// What the maker of an adhesive says of it.
#[derive(Clone, Debug)]
pub struct Adhesive {
    pub span: Span,
    /// What is done to the faces before.
    pub preparation: Option<String>,
    /// Resin to hardener, as it is written.
    pub ratio: Option<String>,
    pub ratio_by: Option<RatioBy>,
    /// Below this it does not cure.
    pub least: Option<Temperature>,
    /// How long it can be worked after it is mixed.
    pub pot_life: Option<Period>,
    /// From the coldest to the warmest.
    pub cures: Vec<Cure>,
    pub shelf_life: Option<String>,
    pub test_piece: Option<String>,
    pub protection: Option<String>,
    /// The keys that are written, be it with what can't be read.
    pub said: Vec<&'static str>,
}

words! {
    /// How a mixing ratio is measured.
    RatioBy {
        Weight = "weight",
        Volume = "volume",
    }
}

/// How long an adhesive cures at a temperature and above it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cure {
    pub at: Temperature,
    pub handling: Option<Period>,
    pub full: Period,
}

impl Cure {
    /// How long it takes to cure so far; none where the maker does not say.
    pub fn time(self, to: CureState) -> Option<Period> {
        match to {
            CureState::Handling => self.handling,
            CureState::Full => Some(self.full),
        }
    }
}
