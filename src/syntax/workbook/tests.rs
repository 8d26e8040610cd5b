use std::io::{Cursor, Read, Write};

use proptest::prelude::*;
use rust_xlsxwriter::{ExcelDateTime, Format, Workbook};

use super::parse_workbook;
use crate::diag::Sink;
use crate::source::{Place, SourceMap};
use crate::syntax::SourceTable;

fn read(bytes: &[u8]) -> (Vec<(String, SourceTable)>, SourceMap, Sink) {
    let (mut sources, mut sink) = (SourceMap::new(), Sink::new());
    let tables = parse_workbook("kit.xlsx", bytes, &mut sources, &mut sink);
    (tables, sources, sink)
}

/// What is said, and where.
fn said(sources: &SourceMap, sink: &Sink) -> Vec<(String, Place)> {
    sink.iter().map(|d| (d.headline.clone(), sources.place(d.span.unwrap()))).collect()
}

fn cell(row: u32, column: &str) -> Place {
    Place::Cell { row, column: column.into() }
}

/// A workbook written by rust_xlsxwriter, a general-purpose library.
fn book(fill: impl FnOnce(&mut rust_xlsxwriter::Worksheet)) -> Vec<u8> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.set_name("Parts").unwrap();
    fill(sheet);
    book.save_to_buffer().unwrap()
}

/// The workbook with one of its files changed.
fn edited(bytes: &[u8], name: &str, edit: impl Fn(String) -> String) -> Vec<u8> {
    let mut from = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
    let mut to = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for i in 0..from.len() {
        let mut file = from.by_index(i).unwrap();
        let mut text = String::new();
        file.read_to_string(&mut text).unwrap();
        let file_name = file.name().unwrap().into_owned();
        to.start_file(&file_name, zip::write::SimpleFileOptions::default()).unwrap();
        let text = if file_name == name { edit(text) } else { text };
        to.write_all(text.as_bytes()).unwrap();
    }
    to.finish().unwrap().into_inner()
}

const SHEET: &str = "xl/worksheets/sheet1.xml";

#[test]
fn a_sheet_is_a_table_like_any_other() {
    let bytes = book(|s| {
        for (column, title) in ["Number", "name", "cut  length", "ICE", "date"].iter().enumerate() {
            s.write(1, column as u16, *title).unwrap();
        }
        s.write(2, 0, "0104").unwrap();
        s.write(2, 1, "Mast\tfoot, \"left\"").unwrap();
        s.write(2, 2, 23.9375).unwrap();
        s.write(4, 0, "KW-2").unwrap();
        s.write(4, 2, 0.1 + 0.2).unwrap();
        s.write(4, 3, 12).unwrap();
        let date = ExcelDateTime::from_ymd(2026, 3, 9).unwrap();
        s.write_with_format(4, 4, &date, &Format::new().set_num_format("yyyy-mm-dd")).unwrap();
    });
    let (tables, sources, sink) = read(&bytes);
    assert!(sink.is_empty(), "{sink:?}");
    let (name, table) = &tables[0];
    assert_eq!(name, "parts");
    assert_eq!(table.columns[2].value, "cut length");
    let rows: Vec<(u32, Vec<&str>)> =
        table.rows.iter().map(|r| (r.number, r.cells.iter().map(|c| c.value.as_str()).collect())).collect();
    assert_eq!(rows[0], (3, vec!["0104", "Mast\tfoot, \"left\"", "23.9375", "", ""]));
    assert_eq!(rows[1], (5, vec!["KW-2", "", "0.3", "12", "2026-03-09"]));
    assert_eq!(sources.place(table.rows[1].cells[1].span), cell(5, "name"));
    assert_eq!(sources.slice(table.rows[0].cells[2].span), "23.9375");
    assert_eq!(sources.name(table.file), "kit.xlsx, sheet Parts");
}

#[test]
fn what_can_not_be_told_for_sure_is_told() {
    let bytes = book(|s| {
        for (column, title) in ["number", "ICE", "note"].iter().enumerate() {
            s.write(0, column as u16, *title).unwrap();
        }
        s.write(1, 0, 104).unwrap();
        s.write(2, 0, 105).unwrap();
        s.write_with_format(1, 1, ExcelDateTime::from_ymd(2026, 1, 2).unwrap(), &Format::new().set_num_format("d-mmm"))
            .unwrap();
        s.write_formula(2, 1, "=1+1").unwrap();
        s.merge_range(3, 1, 3, 2, "x", &Format::new()).unwrap();
        s.write(4, 0, "A").unwrap();
    });
    let bytes = edited(&bytes, SHEET, |xml| {
        let xml = xml.replace("<f>1+1</f><v>0</v>", "<f>1+1</f>");
        xml.replace("</sheetData>", "<row r=\"7\"><c r=\"B7\" t=\"e\"><f>1/0</f><v>#DIV/0!</v></c></row></sheetData>")
    });
    let (tables, sources, sink) = read(&bytes);
    assert_eq!(
        said(&sources, &sink),
        [
            ("this cell holds a date".into(), cell(2, "ICE")),
            ("this cell holds a formula whose value was not saved".into(), cell(3, "ICE")),
            ("this cell holds an error of the spreadsheet".into(), cell(7, "ICE")),
            ("2 entries of the column `number` are kept as numbers".into(), cell(2, "number")),
            ("this cell is merged with others".into(), cell(4, "ICE")),
        ]
    );
    let rows = &tables[0].1.rows;
    assert_eq!(rows[0].cells[1].value, "");
    assert_eq!(rows[0].cells[0].value, "104");
}

#[test]
fn other_sheets_are_passed_over() {
    let mut book = Workbook::new();
    for name in ["hardware", "Notes", "part"] {
        book.add_worksheet().set_name(name).unwrap().write(0, 0, "a").unwrap();
    }
    let (tables, _, sink) = read(&book.save_to_buffer().unwrap());
    assert_eq!(tables.iter().map(|t| t.0.as_str()).collect::<Vec<_>>(), ["hardware"]);
    assert_eq!(sink[0].headline, "the sheet `part` is not read");
    let mut book = Workbook::new();
    book.add_worksheet();
    let (_, _, sink) = read(&book.save_to_buffer().unwrap());
    assert_eq!(sink[0].headline, "the workbook has none of the sheets that are read");
}

#[test]
fn hostile_workbooks_are_refused() {
    assert!(read(b"").2[0].headline.contains("no workbook"));
    assert!(read(b"\xD0\xCF\x11\xE0\xA1\xB1").2[0].headline.contains("password"));

    let plain = book(|s| {
        s.write(0, 0, "number").unwrap();
    });
    let bomb = edited(&plain, "xl/styles.xml", |xml| xml + &" ".repeat(140 << 20));
    assert!(bomb.len() < 1 << 20);
    assert!(read(&bomb).2[0].headline.contains("unpacks to more than 64 MB"));

    // The last cell of a sheet (ISO/IEC 29500: XFD1048576); a table as wide as that is never made.
    let far = edited(&plain, SHEET, |xml| {
        xml.replace("</sheetData>", "<row r=\"1048576\"><c r=\"XFD1048576\"><v>1</v></c></row></sheetData>")
    });
    let (tables, _, sink) = read(&far);
    assert_eq!(sink[0].headline, "the sheet is larger than is read (cell XFD1048576)");
    assert_eq!(tables.len(), 1);
}

proptest! {
    #[test]
    fn no_bytes_break_reading(bytes: Vec<u8>, at in 0..6000usize, to: u8) {
        let _ = read(&bytes);
        let mut whole = book(|s| { s.write(0, 0, "number").unwrap(); s.write(1, 0, "A").unwrap(); });
        let at = at % whole.len();
        whole[at] = to;
        let _ = read(&whole);
    }

    #[test]
    fn no_sheet_breaks_reading(inner in "(<row r=\"[0-9]{1,8}\">|</row>|<c r=\"[A-Z]{1,4}[0-9]{1,7}\"( t=\"[sbendtr]{1,3}\")?( s=\"[0-9]\")?>|</c>|<v>[0-9a-z.#]{0,6}</v>|<f>[A-Z0-9+]{0,4}</f>|<is><t>x</t></is>){0,20}") {
        let plain = book(|s| { s.write(0, 0, "number").unwrap(); });
        let bytes = edited(&plain, SHEET, |xml| xml.replace("</sheetData>", &format!("{inner}</sheetData>")));
        let (_, sources, sink) = read(&bytes);
        for d in sink {
            if let Some(span) = d.span {
                prop_assert!(sources.text(span.file).get(span.range()).is_some());
            }
        }
    }
}
