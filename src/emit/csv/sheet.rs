//! A register as a table.

use super::table::Csv;
use crate::document::CsvSheet;

/// The sheet as a CSV file: its rows under a head row.
pub fn sheet_csv(sheet: &CsvSheet) -> Vec<u8> {
    let mut table = Csv::new(sheet.columns.iter().copied());
    for row in &sheet.rows {
        table.row(row.iter().map(String::as_str));
    }
    table.into_bytes()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_stand_under_their_columns() {
        let sheet = CsvSheet { columns: &["part", "hole"], rows: vec![vec!["KW-1".to_owned(), "a, b".to_owned()]] };
        // Read back by the csv crate behind the byte order mark.
        let bytes = sheet_csv(&sheet);
        let mut reader = csv::Reader::from_reader(&bytes[3..]);
        assert_eq!(reader.headers().expect("a head row"), vec!["part", "hole"]);
        let row = reader.records().next().expect("one row").expect("as long as the head row");
        assert_eq!(row, vec!["KW-1", "a, b"]);
    }
}
