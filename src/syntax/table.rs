//! Tables: a heading row and rows of text cells, each with its place.
//!
//! Owns: separators, quoted cells, rows that are too long or too short, headings. Must not know: what a column means.

use super::csv_rows;
use crate::diag::{Diagnostic, Sink};
use crate::source::{CellPlace, FileId, SourceMap, Span, Spanned};

/// A table as the author sees it.
#[derive(Clone, Debug)]
pub struct SourceTable {
    pub file: FileId,
    /// Headings as written, white space folded. A column without a heading that holds something has an empty one.
    pub columns: Vec<Spanned<String>>,
    pub rows: Vec<SourceRow>,
    /// What was assumed about encoding and separator, for `--verbose`.
    pub assumed: String,
}

#[derive(Clone, Debug)]
pub struct SourceRow {
    /// As a spreadsheet numbers it: the heading is row 1, unless empty rows stand above it.
    pub number: u32,
    /// The whole row.
    pub span: Span,
    /// As many cells as there are columns; trimmed.
    pub cells: Vec<Spanned<String>>,
}

/// How many columns are read, and how many rows: more than any manual, less than what hurts.
pub(super) const MOST_COLUMNS: usize = 1_000;
pub(super) const MOST_ROWS: usize = 200_000;
/// How many cells are read of one table, those left blank at the end of short rows too.
pub(super) const MOST_CELLS: usize = 2_000_000;
/// The longest text in a cell, in bytes: what the cell of a spreadsheet holds (ISO/IEC 29500 files of common programs).
const LONGEST_CELL: usize = 32_767;

/// A row as it stands in a text, before it is known how many columns there are.
#[derive(Clone, Debug)]
pub(super) struct RawRow {
    pub number: u32,
    /// Where the row starts and ends in the text, without its line end.
    pub start: usize,
    pub end: usize,
    pub cells: Vec<RawCell>,
}

impl RawRow {
    fn is_empty(&self) -> bool {
        self.cells.iter().all(|c| c.text.trim().is_empty())
    }
}

/// A cell as it stands in a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct RawCell {
    pub start: usize,
    pub end: usize,
    /// Where it starts with its quote.
    pub outer: usize,
    /// What it holds, quotes taken off.
    pub text: String,
}

/// Reads a CSV file: adds its text and its cells to `sources`. Ragged rows, an empty heading, a heading that
/// stands twice go to `sink`; a ragged row is filled or cut and kept. None where there is no heading row.
pub fn parse_csv(path: &str, bytes: &[u8], sources: &mut SourceMap, sink: &mut Sink) -> Option<SourceTable> {
    let decoded = super::decode(bytes);
    let (separator, from) = csv_rows::separator(&decoded.text);
    let mut text = decoded.text;
    let marks = text.chars().filter(|c| *c == separator || *c == '\n' || *c == '\r').count();
    if marks > MOST_CELLS {
        sink.push(too_many_cells().in_file(path));
        return None;
    }
    let (rows, _) = csv_rows::split(&text, from, separator);
    let top = heading_row(&rows).and_then(|top| rows.get(top));
    if top.map_or(0, RawRow::width).min(MOST_COLUMNS).saturating_mul(rows.len()) > MOST_CELLS {
        sink.push(too_many_cells().in_file(path));
        return None;
    }
    let short = pad(&mut text, &rows, separator);
    let (rows, faults) = csv_rows::split(&text, from, separator);
    let file = sources.add(path, text);
    for fault in faults {
        sink.push(fault.explain(file));
    }
    if decoded.damaged {
        sink.push(
            Diagnostic::error("unreadable-characters", "some characters of the file can't be read")
                .in_file(path)
                .help(format!("the file was read as {}; save it again with the encoding UTF-8", decoded.encoding)),
        );
    }
    if let Some(row) = rows.iter().find(|r| short.contains(&r.number)) {
        let numbers: Vec<String> = short.iter().take(6).map(u32::to_string).collect();
        let headline = match short.len() {
            1 => format!("row {} has fewer cells than the heading", row.number),
            n if n > numbers.len() => {
                format!("rows {} and {} more have fewer cells than the heading", numbers.join(", "), n - numbers.len())
            }
            _ => format!("rows {} have fewer cells than the heading", numbers.join(", ")),
        };
        sink.push(
            Diagnostic::warning("ragged-row", headline)
                .at(Span::new(file, row.start..row.end), "the cells that are missing at its end are read as blank")
                .help("save the table from a spreadsheet, or add the separators that are missing"),
        );
    }
    let table = assemble(file, rows, sources, sink);
    let word = match separator {
        '\t' => "tab",
        ';' => "semicolon",
        _ => "comma",
    };
    let mut table = table?;
    super::numbers::settle(&mut table, separator == ';', sink);
    Some(SourceTable { assumed: format!("{}, separated by {word}", decoded.encoding), ..table })
}

/// Adds the separators that short rows lack, so that every cell has a place of its own, and a last line end.
/// Gives the numbers of the short rows.
fn pad(text: &mut String, rows: &[RawRow], separator: char) -> std::collections::BTreeSet<u32> {
    let top = heading_row(rows).unwrap_or(0);
    let width = rows.get(top).map_or(0, RawRow::width).min(MOST_COLUMNS);
    let short: Vec<_> = rows.iter().skip(top).filter(|r| !r.is_empty() && r.cells.len() < width).collect();
    let mut padded = String::with_capacity(text.len());
    let mut at = 0;
    for row in &short {
        padded.push_str(&text[at..row.end]);
        padded.extend(std::iter::repeat_n(separator, width - row.cells.len()));
        at = row.end;
    }
    padded.push_str(&text[at..]);
    *text = padded;
    if !text.ends_with('\n') {
        text.push('\n');
    }
    short.iter().map(|r| r.number).collect()
}

/// The row of the headings: the first that holds something, but for titles of one cell above a row of several.
pub(super) fn heading_row(rows: &[RawRow]) -> Option<usize> {
    let filled = |row: &RawRow| row.cells.iter().filter(|c| !c.text.trim().is_empty()).count();
    let mut counts = rows.iter().map(filled).enumerate().filter(|(_, n)| *n > 0).take(5);
    let first = counts.next()?;
    let heading = if first.1 == 1 { counts.find(|(_, n)| *n >= 3) } else { None };
    Some(heading.unwrap_or(first).0)
}

/// Makes a table of rows whose places are in the text of `file`, and declares its cells.
pub(super) fn assemble(
    file: FileId,
    rows: Vec<RawRow>,
    sources: &mut SourceMap,
    sink: &mut Sink,
) -> Option<SourceTable> {
    let Some(top) = heading_row(&rows) else {
        sink.push(
            Diagnostic::error("empty-table", "the table is empty")
                .in_file(sources.name(file))
                .help("the first row holds the headings, each further row one entry"),
        );
        return None;
    };
    let mut rows = limited(rows, file, sink);
    for cell in rows.iter_mut().flat_map(|row| &mut row.cells) {
        let source = sources.text(file).get(cell.start..cell.end).unwrap_or("");
        let span = Span::new(file, cell.start..cell.end);
        if let Some(seen) = super::hidden::without_hidden(&cell.text, source, span, sink) {
            cell.text = seen;
        }
    }
    let heading = &rows[top];
    let entries: Vec<&RawRow> = rows[top + 1..].iter().filter(|r| !r.is_empty()).collect();
    let width = heading.width().min(MOST_COLUMNS);
    if heading.width() > MOST_COLUMNS {
        let span = Span::new(file, heading.start..heading.end);
        sink.push(
            Diagnostic::error("table-too-large", format!("more than {MOST_COLUMNS} columns are not read"))
                .at(span, format!("{} headings", heading.width()))
                .help("take out the columns that hold nothing"),
        );
    }
    let columns: Vec<Spanned<String>> = heading.cells[..width].iter().map(|c| fold(c, file)).collect();
    check_headings(&columns, &entries, file, sink);
    check_long(&entries, width, heading.number, file, sink);

    let names: Vec<std::sync::Arc<str>> = columns
        .iter()
        .enumerate()
        .map(|(i, c)| if c.value.is_empty() { letters(i).into() } else { c.value.as_str().into() })
        .collect();
    // Empty rows too: a cell that is read as blank can be what a message is about.
    let places = rows
        .iter()
        .flat_map(|row| {
            row.cells.iter().enumerate().map(|(i, c)| CellPlace {
                start: c.outer as u32,
                end: c.end as u32,
                row: row.number,
                column: names.get(i).cloned().unwrap_or_else(|| letters(i).into()),
            })
        })
        .collect();
    sources.set_cells(file, places);
    let rows = entries
        .into_iter()
        .map(|row| SourceRow {
            number: row.number,
            span: Span::new(file, row.start..row.end),
            cells: row.cells.iter().take(width).map(|c| trim(c, file)).collect(),
        })
        .collect();
    Some(SourceTable { file, columns, rows, assumed: String::new() })
}

fn too_many_cells() -> Diagnostic {
    Diagnostic::error("table-too-large", format!("more than {MOST_CELLS} cells are not read"))
        .help("take out the rows and columns that are not part of the table")
}

fn limited(mut rows: Vec<RawRow>, file: FileId, sink: &mut Sink) -> Vec<RawRow> {
    if let Some(row) = rows.get(MOST_ROWS) {
        sink.push(
            Diagnostic::error("table-too-large", format!("more than {MOST_ROWS} rows are not read"))
                .at(Span::new(file, row.start..row.end), "from here on nothing is read")
                .help("split the table, or take out what is not part of it"),
        );
        rows.truncate(MOST_ROWS);
    }
    for cell in rows.iter_mut().flat_map(|row| &mut row.cells).filter(|cell| cell.text.len() > LONGEST_CELL) {
        sink.push(
            Diagnostic::error("table-too-large", format!("a cell of more than {LONGEST_CELL} characters is not read"))
                .at(Span::new(file, cell.start..cell.start), "it begins here")
                .help("shorten it; a quote that is opened and not closed takes in all that follows"),
        );
        cell.text.clear();
    }
    rows
}

fn check_headings(columns: &[Spanned<String>], rows: &[&RawRow], file: FileId, sink: &mut Sink) {
    let mut seen: std::collections::BTreeMap<String, Span> = std::collections::BTreeMap::new();
    let mut unnamed: Vec<(usize, Span, Span)> = Vec::new();
    for (i, column) in columns.iter().enumerate() {
        if column.value.is_empty() {
            let filled = rows.iter().find_map(|r| r.cells.get(i).filter(|c| !c.text.trim().is_empty()));
            unnamed.extend(filled.map(|cell| (i, column.span, trim(cell, file).span)));
            continue;
        }
        match seen.entry(column.value.to_lowercase()) {
            std::collections::btree_map::Entry::Vacant(e) => {
                e.insert(column.span);
            }
            std::collections::btree_map::Entry::Occupied(first) => sink.push(
                Diagnostic::error("duplicate-column", format!("the heading `{}` stands twice", column.value))
                    .at(column.span, "the second time")
                    .note(*first.get(), "the first time")
                    .help("rename one of the two columns, or take it out"),
            ),
        }
    }
    if let Some((i, span, entry)) = unnamed.first() {
        let d = match unnamed.len() {
            1 => Diagnostic::error("unnamed-column", format!("column {} has entries and no heading", letters(*i)))
                .help("write a heading, or clear the column"),
            _ => {
                let all: Vec<String> = unnamed.iter().map(|u| letters(u.0)).collect();
                Diagnostic::error("unnamed-column", format!("columns {} have entries and no heading", all.join(", ")))
                    .help("write a heading for each, or clear them; merged cells hold one heading only")
            }
        };
        sink.push(d.at(*span, "no heading").note(*entry, "its first entry"));
    }
}

/// A row that holds something beyond the last heading: as a rule a separator inside a text has moved its cells.
fn check_long(rows: &[&RawRow], width: usize, heading: u32, file: FileId, sink: &mut Sink) {
    for row in rows {
        let Some(first) = row.cells.iter().skip(width).find(|c| !c.text.trim().is_empty()) else { continue };
        sink.push(
            Diagnostic::error("ragged-row", format!("row {} has more cells than the heading", row.number))
                .at(trim(first, file).span, format!("row {heading} has no heading above this"))
                .help("put a text that holds the separator in double quotes; check that no cell of the row has moved"),
        );
    }
}

impl RawRow {
    /// The number of cells up to the last that holds something.
    fn width(&self) -> usize {
        self.cells.iter().rposition(|c| !c.text.trim().is_empty()).map_or(0, |i| i + 1)
    }
}

/// A heading: white space folded.
fn fold(cell: &RawCell, file: FileId) -> Spanned<String> {
    let trimmed = trim(cell, file);
    trimmed.map(|t| t.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// A cell without the white space round it. Where quotes were taken out of its middle its place is the whole cell.
fn trim(cell: &RawCell, file: FileId) -> Spanned<String> {
    let text = cell.text.trim();
    let verbatim = cell.end - cell.start == cell.text.len();
    let lead = if verbatim { cell.text.len() - cell.text.trim_start().len() } else { 0 };
    let (start, end) = match (verbatim, text.is_empty()) {
        (true, false) => (cell.start + lead, cell.start + lead + text.len()),
        (true, true) => (cell.start, cell.start),
        (false, _) => (cell.start, cell.end),
    };
    Spanned::new(text.to_owned(), Span::new(file, start..end))
}

/// A column as a spreadsheet letters it: A, B, … Z, AA.
pub(super) fn letters(column: usize) -> String {
    let mut rest = column;
    let mut word = Vec::new();
    loop {
        word.push(b'A' + (rest % 26) as u8);
        if rest < 26 {
            break;
        }
        rest = rest / 26 - 1;
    }
    word.reverse();
    String::from_utf8_lossy(&word).into_owned()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{SourceTable, letters, parse_csv};
    use crate::diag::Sink;
    use crate::source::{Place, SourceMap};

    fn read(text: &str) -> (Option<SourceTable>, SourceMap, Sink) {
        let (mut sources, mut sink) = (SourceMap::new(), Sink::new());
        let table = parse_csv("parts.csv", text.as_bytes(), &mut sources, &mut sink);
        (table, sources, sink)
    }

    fn values(table: &SourceTable) -> Vec<(u32, Vec<&str>)> {
        table.rows.iter().map(|r| (r.number, r.cells.iter().map(|c| c.value.as_str()).collect())).collect()
    }

    #[test]
    fn separators_are_told_apart() {
        for (text, assumed) in [
            ("number,name\nKW-1,a;b\n", "UTF-8, separated by comma"),
            ("number;name\nKW-1;a,b\n", "UTF-8, separated by semicolon"),
            ("number\tname\r\nKW-1\ta,b\r\n", "UTF-8, separated by tab"),
            ("sep=;\nnumber;name\nKW-1;x\n", "UTF-8, separated by semicolon"),
            ("\"a;b;c\",name\nKW-1,x\n", "UTF-8, separated by comma"),
        ] {
            let (table, _, sink) = read(text);
            let table = table.unwrap();
            assert_eq!((table.assumed.as_str(), table.columns.len(), sink.len()), (assumed, 2, 0), "{text}");
            assert_eq!(table.rows[0].cells[0].value, "KW-1");
        }
    }

    #[test]
    fn rows_are_numbered_as_a_spreadsheet_shows_them() {
        let (table, sources, sink) = read("number,name,ICE\n\nKW-1,\"two\nlines\",2\n,,\nKW-2, b ,\n");
        let table = table.unwrap();
        assert!(sink.is_empty());
        assert_eq!(values(&table), [(3, vec!["KW-1", "two\nlines", "2"]), (5, vec!["KW-2", "b", ""])]);
        let cell = &table.rows[1].cells[2];
        assert_eq!(sources.place(cell.span), Place::Cell { row: 5, column: "ICE".into() });
        let cell = &table.rows[0].cells[1];
        assert_eq!(sources.place(cell.span), Place::Cell { row: 3, column: "name".into() });
        assert_eq!(sources.slice(table.rows[1].cells[1].span), "b");
    }

    #[test]
    fn quotes_inch_marks_and_leading_zeros_stay() {
        let (table, _, sink) = read("a,b,c\n0104,1/4\" bolt,\"3/4\"\" tube, long\"\n");
        assert!(sink.is_empty());
        assert_eq!(values(&table.unwrap())[0].1, ["0104", "1/4\" bolt", "3/4\" tube, long"]);
    }

    #[test]
    fn ragged_rows_are_told_and_kept() {
        let (table, sources, sink) = read("a,b,c\n1\n1,2,3,,\n1,2,3,4");
        let table = table.unwrap();
        assert_eq!(values(&table)[0].1, ["1", "", ""]);
        assert_eq!(sources.place(table.rows[0].cells[1].span), Place::Cell { row: 2, column: "b".into() });
        let said: Vec<_> =
            sink.iter().map(|d| (d.level.word(), d.headline.as_str(), sources.place(d.span.unwrap()))).collect();
        assert_eq!(
            said,
            [
                ("warning", "row 2 has fewer cells than the heading", Place::Cell { row: 2, column: "a".into() }),
                ("error", "row 4 has more cells than the heading", Place::Cell { row: 4, column: "D".into() }),
            ]
        );
    }

    #[test]
    fn headings_are_checked() {
        let (table, _, sink) = read("Part  no.,,part NO.,x,\n1,,3,4,\n1,5,,,\n");
        assert_eq!(table.unwrap().columns[0].value, "Part no.");
        let said: Vec<_> = sink.iter().map(|d| d.headline.as_str()).collect();
        assert_eq!(said, ["the heading `part NO.` stands twice", "column B has entries and no heading"]);
        // One cause, one finding: a merged heading leaves several columns without.
        let (_, _, sink) = read("a,,,b\n1,2,3,4\n");
        assert_eq!(
            sink.iter().map(|d| d.headline.as_str()).collect::<Vec<_>>(),
            ["columns B, C have entries and no heading"]
        );
        assert!(read("").0.is_none() && read("\n,,\n").0.is_none());
        assert_eq!(read("").2[0].headline, "the table is empty");
    }

    #[test]
    fn quotes_that_do_not_fit_are_told() {
        let (_, sources, sink) = read("a,b\n\"x\"y,2\n\"z,3\n");
        let said: Vec<_> = sink.iter().map(|d| (d.headline.as_str(), sources.place(d.span.unwrap()))).collect();
        assert_eq!(said[0], ("a cell goes on after its closing quote", Place::Cell { row: 2, column: "a".into() }));
        assert_eq!(said[1], ("a quote is opened and never closed", Place::Cell { row: 3, column: "a".into() }));
        assert_eq!(said.len(), 2);
        let (table, _, _) = read("a,b\n\"z,3\nx,4\n");
        assert_eq!(values(&table.unwrap()), [(2, vec!["\"z", "3"]), (3, vec!["x", "4"])]);
    }

    #[test]
    fn columns_are_lettered_as_in_a_spreadsheet() {
        // ISO/IEC 29500-1, 18.18.7: column letters of a cell reference; the last column of a sheet is XFD.
        assert_eq!([0, 25, 26, 701, 702, 16_383].map(letters), ["A", "Z", "AA", "ZZ", "AAA", "XFD"]);
    }

    proptest! {
        #[test]
        fn no_text_breaks_reading(text in "([a-c0-9]|[,;\t\"\r\n ]|é|\\PC){0,80}") {
            let (table, sources, sink) = read(&text);
            for d in &sink {
                if let Some(span) = d.span {
                    prop_assert!(sources.text(span.file).get(span.range()).is_some());
                    sources.place(span);
                }
            }
            if let Some(table) = table {
                for row in &table.rows {
                    prop_assert_eq!(row.cells.len(), table.columns.len());
                    for (cell, column) in row.cells.iter().zip(&table.columns) {
                        prop_assert!(sources.text(table.file).get(cell.span.range()).is_some());
                        let Place::Cell { row: number, column: name } = sources.place(cell.span) else { panic!() };
                        prop_assert_eq!(number, row.number);
                        prop_assert!(column.value.is_empty() || name == column.value);
                    }
                }
            }
        }

        /// The csv crate, a general-purpose reader of RFC 4180, finds the same cells in well-formed tables.
        #[test]
        fn cells_are_those_of_another_reader(rows in proptest::collection::vec(proptest::collection::vec("[a-z0-9,;\" \n]{0,6}", 3), 1..8)) {
            let mut writer = csv::Writer::from_writer(Vec::new());
            writer.write_record(["h,1", "h2", "h3"]).unwrap();
            for row in &rows {
                writer.write_record(row).unwrap();
            }
            let text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
            let (table, _, sink) = read(&text);
            prop_assert!(sink.is_empty(), "{:?} {:?}", text, sink);
            let wanted: Vec<Vec<String>> = rows
                .into_iter()
                .map(|r| r.into_iter().map(|c| crate::units::with_point(c.trim()).unwrap_or_else(|| c.trim().to_owned())).collect::<Vec<_>>())
                .filter(|r| r.iter().any(|c| !c.is_empty()))
                .collect();
            let found: Vec<Vec<String>> = table.unwrap().rows.into_iter().map(|r| r.cells.into_iter().map(|c| c.value).collect()).collect();
            prop_assert_eq!(found, wanted);
        }
    }
}
