//! Where steps begin on paper.

/// Where a step of a printed document may start.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum StepStart {
    /// Each on a page of its own.
    NewPage,
    /// Where the last one ends, unless it would then break over more pages than on a page of its own.
    #[default]
    WhereItFits,
}
