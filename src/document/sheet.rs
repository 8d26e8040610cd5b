//! A register as plain rows, for a spreadsheet.

/// Rows under a head row; every row has a cell for every column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CsvSheet {
    pub columns: &'static [&'static str],
    pub rows: Vec<Vec<String>>,
}
