//! A register as plain rows, for a spreadsheet.

use crate::resolve::ResolvedStep;

/// Rows under a head row; every row has a cell for every column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CsvSheet {
    pub columns: &'static [&'static str],
    pub rows: Vec<Vec<String>>,
}

/// How a sheet names a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum StepName {
    /// By its number, for a reader.
    Number,
    /// By its id, to be compared: numbers follow from the order.
    Id,
}

impl StepName {
    pub(super) fn of(self, step: &ResolvedStep) -> String {
        match self {
            Self::Number => step.number.to_string(),
            Self::Id => step.step.id.value.to_string(),
        }
    }
}
