use proptest::prelude::*;

use super::{Colour, Format, render};
use crate::diag::{Diagnostic, Diagnostics};
use crate::source::{CellPlace, FileId, SourceMap, Span};

fn sources() -> SourceMap {
    let mut sources = SourceMap::new();
    sources.add("steps/frame/keel.md", "---\nstep: keel\nparts: [KW-101, KW-130]\n---\nText\n");
    let table = sources.add("parts.csv", "number,name,ICE\nKW-103,\"Mast foot\",two\n");
    let cell = |start, end, row, column: &str| CellPlace { start, end, row, column: column.into() };
    sources.set_cells(
        table,
        vec![
            cell(0, 6, 1, "number"),
            cell(7, 11, 1, "name"),
            cell(12, 15, 1, "ICE"),
            cell(16, 22, 41, "number"),
            cell(23, 33, 41, "name"),
            cell(35, 38, 41, "ICE"),
        ],
    );
    sources
}

fn found(sources: &SourceMap) -> Diagnostics {
    let part = Span::new(FileId(0), 31..37);
    Diagnostics::collect(
        vec![
            Diagnostic::error("unknown-part", "no part has the number `KW-130`")
                .at(part, "not in the list of parts")
                .note(Span::new(FileId(1), 16..22), "the nearest")
                .help("write `KW-103`")
                .about("KW-130")
                .in_configuration("ICE")
                .in_configuration("ICE+brake"),
            Diagnostic::warning("quantity", "`two` is not a quantity")
                .at(Span::new(FileId(1), 35..38), "a number stands here")
                .help("write a whole number"),
            Diagnostic::warning("ragged-row", "row 41 has fewer cells than the heading")
                .at(Span::new(FileId(1), 16..38), "read as blank"),
            Diagnostic::error("missing-file", "there is no `hardware.csv`").in_file("hardware.csv").help("add it"),
        ],
        sources,
    )
}

#[test]
fn a_finding_shows_its_place_its_text_and_the_way_out() {
    let sources = sources();
    let text = render(&found(&sources), &sources, Format::Full, Colour::Off);
    let wanted = "\
ERROR  there is no `hardware.csv`
    at  hardware.csv
    do  add it
  rule  missing-file

WARNING  row 41 has fewer cells than the heading
    at  parts.csv, row 41

  row 41 | number  KW-103
         | name    Mast foot
         | ICE     two
         | ^^^^^^ read as blank

  rule  ragged-row

WARNING  `two` is not a quantity
    at  parts.csv, row 41, column ICE

  row 41 | number  KW-103
         | name    Mast foot
         | ICE     two
         |         ^^^ a number stands here

    do  write a whole number
  rule  quantity

ERROR  no part has the number `KW-130`
    at  steps/frame/keel.md:3:17

       3 | parts: [KW-101, KW-130]
         |                 ^^^^^^ not in the list of parts

   see  parts.csv, row 41, column number

  row 41 | number  KW-103
         |         ^^^^^^ the nearest
         | name    Mast foot
         | ICE     two

    do  write `KW-103`
    in  ICE, ICE+brake
  rule  unknown-part

2 errors and 2 warnings
";
    assert_eq!(text, wanted);
}

#[test]
fn colour_changes_nothing_but_colour() {
    let sources = sources();
    let found = found(&sources);
    let plain = render(&found, &sources, Format::Full, Colour::Off);
    let coloured = render(&found, &sources, Format::Full, Colour::On);
    assert!(coloured.contains("\x1b[1;31mERROR\x1b[0m"));
    // anstream's stripper, a general-purpose library, is the judge of what is colour.
    assert_eq!(anstream::adapter::strip_str(&coloured).to_string(), plain);
}

#[test]
fn short_lines_are_for_editors() {
    let sources = sources();
    let text = render(&found(&sources), &sources, Format::Lines, Colour::On);
    let lines: Vec<_> = text.lines().collect();
    assert_eq!(lines[0], "hardware.csv: error: missing-file: there is no `hardware.csv`");
    assert_eq!(lines[2], "parts.csv:2:20: warning: quantity: `two` is not a quantity");
    assert_eq!(lines[4], "2 errors and 2 warnings");
}

#[test]
fn json_lines_hold_every_field() {
    let sources = sources();
    let text = render(&found(&sources), &sources, Format::Json, Colour::On);
    let lines: Vec<serde_json::Value> = text.lines().map(|l| serde_json::from_str(l).unwrap()).collect();
    assert_eq!(
        lines[3],
        serde_json::json!({
            "rule": "unknown-part", "level": "error", "headline": "no part has the number `KW-130`",
            "file": "steps/frame/keel.md", "line": 3, "column": 17, "start": 31, "end": 37, "text": "KW-130",
            "label": "not in the list of parts", "help": "write `KW-103`", "about": ["KW-130"],
            "configurations": ["ICE", "ICE+brake"],
            "notes": [{
                "label": "the nearest", "file": "parts.csv", "line": 2, "column": 1, "start": 16, "end": 22,
                "text": "KW-103", "row": 41, "heading": "number"
            }],
        })
    );
    assert_eq!(lines[0]["file"], "hardware.csv");
    assert_eq!(lines[4], serde_json::json!({ "errors": 2, "warnings": 2, "hints": 0 }));
}

#[test]
fn nothing_found_is_said() {
    let found = Diagnostics::default();
    assert_eq!(render(&found, &SourceMap::new(), Format::Full, Colour::On), "no errors, warnings or hints\n");
}

#[test]
fn long_lines_are_cut_round_what_is_wrong() {
    let mut sources = SourceMap::new();
    let text = format!("{}\tWRONG{}", "é ".repeat(200), " x".repeat(200));
    let start = text.find("WRONG").unwrap();
    let file = sources.add("a.md", text);
    let found = vec![Diagnostic::error("r", "h").at(Span::new(file, start..start + 5), "here")];
    let out = render(&Diagnostics::collect(found, &sources), &sources, Format::Full, Colour::Off);
    let lines: Vec<&str> = out.lines().collect();
    let line = lines.iter().position(|l| l.contains("WRONG")).unwrap();
    assert!(lines[line].chars().count() <= 98, "{out}");
    let column = |l: &str, what: &str| l[..l.find(what).unwrap()].chars().count();
    assert_eq!(column(lines[line], "WRONG"), column(lines[line + 1], "^^^^^"));
}

proptest! {
    #[test]
    fn no_text_breaks_rendering(text in "(\\PC|[\x00-\x1f]|é|\n|\t|\u{202e}){0,80}", a in 0..90usize, b in 0..90usize) {
        let mut sources = SourceMap::new();
        let (a, b) = (a.min(b).min(text.len()), a.max(b).min(text.len()));
        let file = sources.add("a.md", text.clone());
        let found = vec![Diagnostic::error("r", text.clone()).at(Span::new(file, a..b), text.clone()).help(text.clone())];
        let found = Diagnostics::collect(found, &sources);
        for format in [Format::Full, Format::Lines] {
            let out = render(&found, &sources, format, Colour::Off);
            prop_assert!(out.chars().all(|c| c == '\n' || !c.is_control()));
        }
        for line in render(&found, &sources, Format::Json, Colour::Off).lines() {
            prop_assert!(serde_json::from_str::<serde_json::Value>(line).is_ok());
        }
    }
}
