//! A CSV table as RFC 4180 describes it, safe to open in a spreadsheet program.

use std::borrow::Cow;

use csv::{QuoteStyle, Terminator, Writer, WriterBuilder};

/// U+FEFF in UTF-8. Spreadsheet programs take a CSV file for the machine's old code page without it, and then
/// show the wrong signs.
const BYTE_ORDER_MARK: &[u8] = b"\xef\xbb\xbf";

/// A table that is written row by row: UTF-8 with a byte order mark, comma, CRLF (RFC 4180).
pub struct Csv {
    writer: Writer<Vec<u8>>,
}

impl Csv {
    /// A table with a head row.
    pub fn new<'a>(columns: impl IntoIterator<Item = &'a str>) -> Self {
        let writer = WriterBuilder::new()
            .terminator(Terminator::CRLF)
            .quote_style(QuoteStyle::Necessary)
            .flexible(true)
            .from_writer(BYTE_ORDER_MARK.to_vec());
        let mut table = Self { writer };
        table.row(columns);
        table
    }

    /// Adds a row.
    pub fn row<'a>(&mut self, cells: impl IntoIterator<Item = &'a str>) {
        for cell in cells {
            self.writer.write_field(neutral(cell).as_bytes()).expect("memory takes every cell");
        }
        self.writer.write_record(None::<&[u8]>).expect("memory takes every row");
    }

    /// The bytes of the file.
    pub fn into_bytes(self) -> Vec<u8> {
        self.writer.into_inner().unwrap_or_else(|_| unreachable!("memory takes every table"))
    }
}

/// The cell as text a spreadsheet program won't run: a formula opens with `=`, `+`, `-` or `@`, also behind
/// blanks, tabs and line ends, and also in the wide forms of those signs. An apostrophe before it makes it
/// text. A plain negative number stays a number.
fn neutral(cell: &str) -> Cow<'_, str> {
    let opens = cell.trim_start().starts_with(['=', '+', '-', '@', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}']);
    let control = cell.starts_with(['\t', '\r', '\n']);
    if (opens || control) && !is_negative_number(cell) { Cow::Owned(format!("'{cell}")) } else { Cow::Borrowed(cell) }
}

fn is_negative_number(cell: &str) -> bool {
    let Some(digits) = cell.strip_prefix('-') else { return false };
    let (whole, places) = digits.split_once('.').unwrap_or((digits, "0"));
    [whole, places].iter().all(|part| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(cells: &[&str]) -> Vec<u8> {
        let mut table = Csv::new(["a", "b"]);
        table.row(cells.iter().copied());
        table.into_bytes()
    }

    #[test]
    fn follows_rfc_4180_behind_a_byte_order_mark() {
        // RFC 4180 section 2, rules 1, 5, 6 and 7: CRLF; quotes around comma, line end, quote; quotes doubled.
        assert_eq!(written(&["b CRLF\r\nbb", "b\"bb, c"]), b"\xef\xbb\xbfa,b\r\n\"b CRLF\r\nbb\",\"b\"\"bb, c\"\r\n");
    }

    #[test]
    fn an_empty_row_of_one_cell_stays_a_row() {
        let mut table = Csv::new(["a"]);
        table.row([""]);
        assert_eq!(table.into_bytes(), b"\xef\xbb\xbfa\r\n\"\"\r\n");
    }

    #[test]
    fn a_formula_becomes_text_and_a_number_stays_one() {
        for formula in [
            "=1+1",
            "+1",
            "-1+cmd|' /C x'!A0",
            "@SUM(A1)",
            "\t=1",
            "\r=1",
            " =1",
            "-",
            "-.5",
            "-1.",
            "\u{ff1d}1",
            "\nx",
        ] {
            assert_eq!(neutral(formula), format!("'{formula}"), "{formula:?}");
        }
        for plain in ["-2", "-0.05", "4", "AN3-5A", "KW-103-L", "0.05 lb", "", "a=b"] {
            assert_eq!(neutral(plain), plain);
        }
    }
}
