//! Workbooks that a spreadsheet library wrote (openpyxl), read as tables.

use kitwright::model::{Manual, read};
use kitwright::source::{Memory, Place};

use crate::outside;

/// A finding: its rule and the cell it is at, or the file.
type Found = (&'static str, String);

fn read_all() -> Option<impl Fn(&str) -> (Option<Manual>, Vec<Found>)> {
    let python = outside::python("workbooks written by openpyxl")?;
    let folder = tempfile::tempdir().expect("a folder can be made");
    outside::run(outside::script(&python, "workbook.py").arg(folder.path()));
    Some(move |name: &str| {
        let bytes = std::fs::read(folder.path().join(format!("{name}.xlsx"))).expect("the script wrote it");
        let mut files = Memory::new();
        files.insert("manual.yaml", "title: T\nvariants:\n  ICE: { title: Ice }\nconfigurations: [ICE]\nsections:\n  - { section: a, title: A }\n");
        files.insert("kit.xlsx", bytes);
        let read = read(&files).expect("memory can be read");
        let place = |d: &kitwright::diag::Diagnostic| match d.span.map(|s| read.sources.place(s)) {
            Some(Place::Cell { row, column }) => format!("row {row}, column {column}"),
            Some(Place::Text { line, column }) => format!("line {line}, {column}"),
            None => d.file.clone().unwrap_or_default(),
        };
        let found = read.faults.iter().map(|d| (d.rule, place(d))).collect();
        (read.manual, found)
    })
}

#[test]
fn workbooks_of_openpyxl_are_read_or_refused_at_the_cell() {
    let Some(read) = read_all() else { return };
    for name in ["sound", "whole-numbers"] {
        let (manual, found) = read(name);
        assert_eq!(found, [], "{name}");
        let parts: Vec<_> = manual
            .expect("there is a manual")
            .parts
            .values()
            .map(|p| (p.number.to_string(), p.name.clone(), p.variants.values().map(|c| c.count).sum::<i64>()))
            .collect();
        assert_eq!(parts, [("0104".into(), "Bracket".into(), 1), ("KW-105".into(), "Plate".into(), 2)], "{name}");
    }
    // What a cell holds is not known: an error there, never a guess.
    for (name, place) in
        [("formula", "row 3, column ICE"), ("date", "row 2, column cut length"), ("merged", "row 2, column ICE")]
    {
        assert_eq!(read(name).1, [("unclear-cell", place.to_owned())], "{name}");
    }
    // A number where a name with leading zeros was meant.
    assert_eq!(read("number").1, [("number-as-value", "row 2, column number".to_owned())]);
    let rules: Vec<_> = read("no-parts").1.into_iter().map(|f| f.0).collect();
    assert_eq!(rules, ["missing-file"]);
}
