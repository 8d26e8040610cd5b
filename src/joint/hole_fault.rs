//! What can be wrong about a hole.

use crate::model::{Joint, StackMember, StepItem};
use crate::source::Span;
use crate::trade::Cited;
use crate::units::{Designation, Length, PartNumber, StepId};

/// Something about a hole that can't be right.
#[derive(Clone, Debug)]
pub struct HoleFault<'a> {
    pub kind: HoleFaultKind<'a>,
    pub part: &'a PartNumber,
    pub step: &'a StepId,
    pub span: Span,
}

#[derive(Clone, Debug)]
pub enum HoleFaultKind<'a> {
    /// A fastener goes through a part that has fewer holes of its size than fasteners by then. `pilot` are those that
    /// are there and too small.
    NoHoleForFastener {
        joint: &'a StepItem<Joint>,
        member: &'a StepItem<StackMember>,
        there: i64,
        needed: i64,
        pilot: Vec<&'a str>,
    },
    /// A fastener goes into a part with a hole whose size or number is not told. `supplied`: as it comes.
    SizeNotKnown { name: &'a str, supplied: bool },
    /// Match-drilled from a part that is not in place.
    FromNotInPlace { from: &'a PartNumber, later: Option<&'a StepId> },
    /// Match-drilled with a smaller drill than the hole it is guided by, which was opened before: the drill wanders.
    OpenedTooEarly { from: &'a PartNumber, guide: Length, drill: Length, opened: Span },
    /// Made larger while the part it was drilled through together with is not in place.
    OpenedApart { name: &'a str, other: &'a PartNumber },
    /// More holes opened up or reamed than there are.
    MoreThanThere { name: &'a str, there: i64, wanted: i64 },
    /// A reamer that is not a little larger than the hole it goes into.
    ReamerAllowance { before: Length, reamer: Length },
    /// Drilled and never deburred.
    NeverDeburred { name: &'a str },
    /// Drilled, and never primed; `again` where it was primed before.
    NeverPrimed { name: &'a str, again: bool },
    /// In the end larger than right for its fastener.
    TooLarge { size: Length, right: Cited<Length>, for_: &'a str },
    /// More holes made for a fastener than fasteners of its size put through the part. `with` are parts that are drilled
    /// or fastened together with it and have as many too many.
    LeftEmpty { for_: &'a str, made: i64, fitted: i64, with: Vec<&'a PartNumber> },
    /// Made for a fastener that no joint of the part has; what they have.
    ForAnother { for_: &'a str, fitted: Vec<&'a Designation> },
    /// Opened up to no more than it has.
    OpensNothing { name: &'a str, had: Length, drill: Length },
    /// In the end smaller than its fastener.
    TooSmall { size: Length, fastener: Cited<Length>, for_: &'a str },
}
