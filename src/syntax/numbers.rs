//! Numbers in tables from a spreadsheet whose country writes a decimal comma.
//!
//! Owns: which cells hold one, and which numbers beside them have two readings. Must not know: what a column means.

use super::SourceTable;
use crate::diag::{Diagnostic, Sink};
use crate::units::{cell_text, thousands_or_decimals, with_point};

/// Gives every number with a decimal comma a point: `282,5` is read as `282.5`. Where a table has such numbers, or is `parted` by
/// semicolons as those spreadsheets write it, the point of `1.600 mm` may part thousands: it goes to `sink` and is read as blank.
pub(super) fn settle(table: &mut SourceTable, parted: bool, sink: &mut Sink) {
    let mut commas = false;
    for cell in table.rows.iter_mut().flat_map(|r| &mut r.cells) {
        commas |= with_point(&cell.value).is_some();
        cell.value = cell_text(&cell.value);
    }
    for cell in table.rows.iter_mut().flat_map(|r| &mut r.cells) {
        let Some((whole, decimal)) = thousands_or_decimals(&cell.value) else { continue };
        // Nobody measures a thousandth of a millimetre or a gram here.
        let fine = [" mm", " g"].iter().any(|unit| whole.ends_with(unit));
        if commas || parted && fine {
            sink.push(
                Diagnostic::error("two-readings", format!("`{}` may be {whole} or {decimal}", cell.value))
                    .at(cell.span, "the point may part thousands")
                    .help(format!("write `{whole}` or `{decimal}`")),
            );
            cell.value.clear();
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::source::SourceMap;
    use crate::syntax::parse_csv;

    fn read(text: &str) -> (Vec<Vec<String>>, Vec<String>) {
        let (mut sources, mut sink) = (SourceMap::new(), Vec::new());
        let table = parse_csv("t.csv", text.as_bytes(), &mut sources, &mut sink).unwrap();
        let cells = table.rows.into_iter().map(|r| r.cells.into_iter().map(|c| c.value).collect()).collect();
        (cells, sink.into_iter().map(|d| format!("{}: {}", d.headline, d.help)).collect())
    }

    #[test]
    fn decimal_commas_are_read_as_points() {
        let (cells, found) =
            read("number;cut length;note\n100;282,5;a, b\n101;1.282,5 mm;Rohr 25x1,5\n102;0,125;2\u{A0}x\n");
        assert_eq!(cells, [["100", "282.5", "a, b"], ["101", "1282.5 mm", "Rohr 25x1,5"], ["102", "0.125", "2 x"]]);
        assert!(found.is_empty(), "{found:?}");
        // From a workbook or another separator as well: a comma before one or two digits parts no thousands.
        assert_eq!(read("number,wall\n100,\"1,5\"\n").0, [["100", "1.5"]]);
    }

    #[test]
    fn a_point_that_may_part_thousands_is_not_guessed() {
        let (cells, found) = read("number;cut length;wall\n100;1.600;1,5\n");
        assert_eq!(cells, [["100", "", "1.5"]]);
        assert_eq!(found, ["`1.600` may be 1600 or 1.6: write `1600` or `1.6`"]);
        let (_, found) = read("number;cut length\n100;1.600 mm\n");
        assert_eq!(found, ["`1.600 mm` may be 1600 mm or 1.6 mm: write `1600 mm` or `1.6 mm`"]);
        for plain in ["number,cut length\n100,1.600 mm\n", "number;wall\n100;1.250\n", "number;wall\n100;0.125\n"] {
            assert!(read(plain).1.is_empty(), "{plain}");
        }
    }
}
