//! Workbooks (.xlsx): each sheet is a table.
//!
//! Owns: which sheets are read, what of a cell can't be told for sure, limits. Must not know: what a column means, but
//! for those whose entries must be text.

use std::collections::BTreeMap;
use std::io::{Cursor, Read as _};

use calamine::{DataRef, Reader as _, Xlsx};

use super::SourceTable;
use super::table::{MOST_CELLS, MOST_COLUMNS, MOST_ROWS, RawCell, RawRow, assemble, heading_row, letters};
use crate::diag::{Diagnostic, Refusal, Sink, did_you_mean, nearest};
use crate::source::{FileId, SourceMap, Span};

/// The sheets that are read.
const SHEETS: [&str; 6] = ["parts", "hardware", "stock", "holes", "kits", "shipped"];
/// Columns whose entries are names; a number there may have lost its leading zeros.
const NAMES: [&str; 7] = ["number", "opposite", "cut from", "designation", "stock", "release", "part"];
/// The only column in which a date is meant.
const DATE: &str = "date";
/// The most bytes that a workbook unpacks to, and the most files in it.
const LARGEST: u64 = 64 << 20;
const MOST_FILES: usize = 2_000;

/// Reads the sheets of a workbook, by name. A formula without a value, a merged cell, a number where text may
/// have lost its leading zeros go to `sink` at their cells.
pub fn parse_workbook(
    path: &str,
    bytes: &[u8],
    sources: &mut SourceMap,
    sink: &mut Sink,
) -> Vec<(String, SourceTable)> {
    let mut book = match open(bytes) {
        Ok(book) => book,
        Err(refusal) => {
            sink.push(Diagnostic::error("broken-workbook", refusal.headline).in_file(path).help(refusal.help));
            return Vec::new();
        }
    };
    let mut tables = Vec::new();
    let mut found = Vec::new();
    for sheet in book.sheet_names() {
        let name = sheet.trim().to_lowercase();
        if !SHEETS.contains(&name.as_str()) {
            let within = || SHEETS.into_iter().find(|s| name.split_whitespace().any(|word| word == *s));
            if let Some(meant) = nearest(&name, SHEETS).or_else(within) {
                sink.push(
                    Diagnostic::warning("unread-sheet", format!("the sheet `{sheet}` is not read"))
                        .in_file(path)
                        .help(format!("{} Then give the sheet that name", did_you_mean(meant))),
                );
            }
            continue;
        }
        if found.contains(&name) {
            continue;
        }
        found.push(name.clone());
        match read_sheet(&mut book, &sheet) {
            Ok(read) => tables.extend(table(path, &sheet, read, sources, sink).map(|t| (name, t))),
            Err(words) => sink.push(
                Diagnostic::error("broken-workbook", format!("the sheet `{sheet}` can't be read"))
                    .in_file(path)
                    .help(format!("save the workbook again as .xlsx, or the sheet as CSV ({words})")),
            ),
        }
    }
    if found.is_empty() {
        sink.push(
            Diagnostic::error("broken-workbook", "the workbook has none of the sheets that are read")
                .in_file(path)
                .help("name its sheets `parts`, `hardware`, `stock`, `holes`, `kits`, `shipped`"),
        );
    }
    tables
}

type Workbook<'a> = Xlsx<Cursor<&'a [u8]>>;

/// Opens a workbook after looking at what it unpacks to.
fn open(bytes: &[u8]) -> Result<Workbook<'_>, Refusal> {
    const AGAIN: &str = "save it again from the spreadsheet as .xlsx, without a password";
    let broken = || Refusal::new("the file is no workbook of the kind .xlsx, or is broken", AGAIN);
    let large = || {
        let headline = format!("the workbook unpacks to more than {} MB, and is not read", LARGEST >> 20);
        Refusal::new(headline, "take out what is not part of the tables, or save the sheets as CSV")
    };
    if bytes.starts_with(b"\xD0\xCF\x11\xE0") {
        return Err(Refusal::new("the workbook has a password, or is of the older kind .xls", AGAIN));
    }
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).map_err(|_| broken())?;
    if archive.len() > MOST_FILES {
        return Err(large());
    }
    // The sizes that an archive declares prove nothing; it is unpacked once, and counted.
    let mut total = 0;
    for i in 0..archive.len() {
        let entry = archive.by_index(i).map_err(|_| broken())?;
        let mut unpacked = Vec::new();
        total += entry.take(LARGEST + 1 - total).read_to_end(&mut unpacked).map_err(|_| broken())? as u64;
        if total > LARGEST {
            return Err(large());
        }
        if has_endless_place(&unpacked) {
            return Err(broken());
        }
    }
    Xlsx::new(Cursor::new(bytes)).map_err(|_| broken())
}

/// Whether the name of a cell or of a range of cells is longer than any: the reader would count beyond its numbers and
/// take the cell for another one.
fn has_endless_place(xml: &[u8]) -> bool {
    let endless = |place: &[u8]| {
        let letters = place.iter().take_while(|b| b.is_ascii_alphabetic()).count();
        letters > 6 || place[letters..].iter().take_while(|b| b.is_ascii_digit()).count() > 9
    };
    xml.split(u8::is_ascii_whitespace).any(|word| {
        let value = word.strip_prefix(b"r=").or_else(|| word.strip_prefix(b"ref="));
        let Some((quote, value)) = value.and_then(<[u8]>::split_first) else { return false };
        value.split(|b| b == quote).next().unwrap_or_default().split(|b| *b == b':').any(endless)
    })
}

/// A cell: its text, and what could not be told for sure.
struct SheetCell {
    text: String,
    doubt: Option<Doubt>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Doubt {
    /// A number, which may have been more than a number.
    Number,
    Date,
    /// A formula whose value was not saved.
    Uncomputed,
    /// `#REF!` and the like.
    Error,
}

#[derive(Default)]
struct WorkbookSheet {
    rows: BTreeMap<u32, BTreeMap<u32, SheetCell>>,
    /// Top left cells of merged areas: row and column from 0.
    merged: Vec<(u32, u32)>,
    /// The first cell beyond the limits.
    beyond: Option<(u32, u32)>,
}

fn read_sheet(book: &mut Workbook<'_>, name: &str) -> Result<WorkbookSheet, String> {
    let mut sheet = WorkbookSheet::default();
    let merged = book.merge_cells_by_sheet_name(name).map_err(|e| e.to_string())?;
    sheet.merged = merged.iter().map(|d| d.start).collect();
    sheet.merged.sort_unstable();
    let mut cells = book.worksheet_cells_reader(name).map_err(|e| e.to_string())?;
    let mut count = 0;
    while let Some(record) = cells.next_cell_with_formula_metadata().map_err(|e| e.to_string())? {
        let (row, column) = record.pos;
        let cell = cell(&record.value, record.formula.is_some());
        if cell.text.trim().is_empty() && cell.doubt.is_none() {
            continue;
        }
        count += 1;
        if row as usize > MOST_ROWS || column as usize >= MOST_COLUMNS || count > MOST_CELLS {
            sheet.beyond = sheet.beyond.or(Some((row, column)));
            continue;
        }
        sheet.rows.entry(row).or_default().insert(column, cell);
    }
    Ok(sheet)
}

fn cell(value: &DataRef<'_>, formula: bool) -> SheetCell {
    let (text, doubt) = match value {
        DataRef::Empty => (String::new(), formula.then_some(Doubt::Uncomputed)),
        DataRef::String(s) => (s.clone(), None),
        DataRef::SharedString(s) => ((*s).to_owned(), None),
        DataRef::Int(n) => (n.to_string(), Some(Doubt::Number)),
        DataRef::Float(n) => (number(*n), Some(Doubt::Number)),
        DataRef::Bool(b) => (if *b { "yes" } else { "no" }.to_owned(), None),
        DataRef::DateTime(date) => {
            let (year, month, day, ..) = date.to_ymd_hms_milli();
            (format!("{year:04}-{month:02}-{day:02}"), Some(Doubt::Date))
        }
        DataRef::DateTimeIso(text) => (text.get(..10).unwrap_or(text).to_owned(), Some(Doubt::Date)),
        DataRef::DurationIso(text) => (text.clone(), Some(Doubt::Date)),
        DataRef::Error(error) => (error.to_string(), Some(Doubt::Error)),
    };
    SheetCell { text, doubt }
}

/// A number as a spreadsheet shows it: 15 significant digits, no exponent.
fn number(n: f64) -> String {
    let rounded = format!("{n:.14e}").parse::<f64>().unwrap_or(n);
    // No sheet means a negative nothing.
    if rounded == 0.0 { "0".to_owned() } else { rounded.to_string() }
}

/// A sheet as a table: its text is made, a line for each row with tabs between the cells.
fn table(
    path: &str,
    name: &str,
    sheet: WorkbookSheet,
    sources: &mut SourceMap,
    sink: &mut Sink,
) -> Option<SourceTable> {
    let width = sheet.rows.values().filter_map(|r| r.keys().next_back()).max().map_or(0, |c| *c as usize + 1);
    let mut text = String::new();
    let mut rows = Vec::new();
    let mut doubts: Vec<(u32, usize, Doubt, std::ops::Range<usize>)> = Vec::new();
    let mut places: BTreeMap<(u32, u32), std::ops::Range<usize>> = BTreeMap::new();
    let large = sheet.rows.len().saturating_mul(width) > MOST_CELLS;
    let file_name = format!("{path}, sheet {name}");
    if large || sheet.beyond.is_some() {
        let at = sheet.beyond.map_or(String::new(), |(r, c)| format!(" (cell {}{})", letters(c as usize), r + 1));
        sink.push(
            Diagnostic::error("table-too-large", format!("the sheet is larger than is read{at}"))
                .in_file(&file_name)
                .help("delete the rows and columns that are not part of the table"),
        );
        if large {
            return None;
        }
    }
    for (&row, cells) in &sheet.rows {
        let start = text.len();
        let mut raw = Vec::with_capacity(width);
        for column in 0..width {
            if column > 0 {
                text.push('\t');
            }
            let start = text.len();
            let mut value = String::new();
            if let Some(cell) = cells.get(&(column as u32)) {
                // An error or an unwanted date is told once, here; it is read as blank.
                let doubtful = matches!(cell.doubt, Some(Doubt::Error | Doubt::Uncomputed));
                text.push_str(&cell.text);
                if !doubtful {
                    value.clone_from(&cell.text);
                }
                if let Some(doubt) = cell.doubt {
                    doubts.push((row, column, doubt, start..text.len()));
                }
            }
            places.insert((row, column as u32), start..text.len());
            raw.push(RawCell { outer: start, start, end: text.len(), text: value });
        }
        rows.push(RawRow { number: row + 1, start, end: text.len(), cells: raw });
        text.push('\n');
    }
    let file = sources.add(file_name, text);
    let top = heading_row(&rows).and_then(|at| rows.get(at));
    let heading = top.map(|r| r.cells.iter().map(|c| folded(&c.text)).collect::<Vec<_>>()).unwrap_or_default();
    let heading_row = top.map_or(0, |r| r.number - 1);
    for row in &mut rows {
        for (column, cell) in row.cells.iter_mut().enumerate() {
            let is_date = |d: &(u32, usize, Doubt, _)| d.0 == row.number - 1 && d.1 == column && d.2 == Doubt::Date;
            let dated = heading.get(column).is_some_and(|h| h == DATE);
            if !dated
                && doubts
                    .binary_search_by_key(&(row.number - 1, column), |d| (d.0, d.1))
                    .is_ok_and(|i| is_date(&doubts[i]))
            {
                cell.text.clear();
            }
        }
    }
    let mut table = assemble(file, rows, sources, sink);
    if let Some(table) = &mut table {
        super::numbers::settle(table, false, sink);
    }
    report(&doubts, &heading, heading_row, file, sink);
    for at in sheet.merged.iter().filter(|at| at.0 >= heading_row).filter_map(|at| places.get(at)) {
        sink.push(
            Diagnostic::error("unclear-cell", "this cell is merged with others")
                .at(Span::new(file, at.clone()), "only the first of the merged cells holds the entry")
                .help("take the merge away and fill in each cell"),
        );
    }
    table
}

fn folded(heading: &str) -> String {
    heading.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

fn report(
    doubts: &[(u32, usize, Doubt, std::ops::Range<usize>)],
    heading: &[String],
    heading_row: u32,
    file: FileId,
    sink: &mut Sink,
) {
    let mut numbers: BTreeMap<usize, (usize, std::ops::Range<usize>)> = BTreeMap::new();
    for (row, column, doubt, at) in doubts {
        let title = heading.get(*column).map_or("", String::as_str);
        let span = Span::new(file, at.clone());
        let found = |headline: &str, label: &str, help: &str| {
            Diagnostic::error("unclear-cell", headline).at(span, label).help(help)
        };
        match doubt {
            Doubt::Number if NAMES.contains(&title) && *row > heading_row => {
                numbers.entry(*column).or_insert((0, at.clone())).0 += 1;
            }
            Doubt::Number => {}
            Doubt::Date if title == DATE && *row > heading_row => {}
            Doubt::Date => sink.push(found(
                "this cell holds a date",
                "a spreadsheet makes a date of an entry like 1/2 or 3-4",
                "format the column as text, then write the entry again",
            )),
            Doubt::Uncomputed => sink.push(found(
                "this cell holds a formula whose value was not saved",
                "what it comes to is not known",
                "open the workbook in a spreadsheet, let it calculate, and save it; or write the value",
            )),
            Doubt::Error => sink.push(found(
                "this cell holds an error of the spreadsheet",
                "a formula went wrong",
                "put the formula right, or write the value",
            )),
        }
    }
    for (column, (count, at)) in numbers {
        let title = &heading[column];
        let cells = if count == 1 { "1 entry".to_owned() } else { format!("{count} entries") };
        sink.push(
            Diagnostic::warning("number-as-value", format!("{cells} of the column `{title}` are kept as numbers"))
                .at(Span::new(file, at), "the first; leading zeros may have been lost")
                .help("format the column as text, then check these entries"),
        );
    }
}

#[cfg(test)]
mod tests;
