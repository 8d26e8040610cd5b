//! Mistakes that careful people make, put into a copy of the demonstration manual one at a time: each is found once, and
//! at the place where it was made.

mod contradictions;
mod joints;
mod sentences;
mod tubes;

use std::sync::OnceLock;

use kitwright::compile::check;
use kitwright::diag::{Colour, Format, render};
use kitwright::source::{Disk, Files as _, Memory, Place};

use crate::outside;

/// The demonstration manual in memory, so that a copy can be changed; without releases and kits: one cause is one finding,
/// and what a release holds against the same change is looked at elsewhere.
fn demonstration() -> Memory {
    static FILES: OnceLock<Memory> = OnceLock::new();
    let made = || {
        let mut files = whole();
        let register = |path: &String| path.starts_with("releases/") || path == "kits.csv" || path == "shipped.csv";
        let paths: Vec<String> = files.list().expect("listed").into_iter().map(|e| e.path).filter(register).collect();
        paths.iter().for_each(|path| assert!(files.remove(path)));
        files
    };
    FILES.get_or_init(made).clone()
}

/// The findings of the demonstration as it stands, the same for every change.
fn unchanged() -> &'static [(String, String)] {
    static FOUND: OnceLock<Vec<(String, String)>> = OnceLock::new();
    FOUND.get_or_init(|| findings(&demonstration()))
}

/// All of it.
fn whole() -> Memory {
    let disk = Disk::open(&outside::project().join("manual-src")).expect("it is there");
    let mut files = Memory::new();
    for entry in disk.list().expect("it can be listed") {
        files.insert(entry.path.clone(), disk.read(&entry.path).expect("it can be read"));
    }
    files
}

/// Every finding: rule, file and place, and all that is said of it.
fn findings(files: &Memory) -> Vec<(String, String)> {
    let checked = check(files, &|_| ()).expect("memory can be listed");
    let place = |d: &kitwright::diag::Diagnostic| match d.span {
        Some(span) => {
            let name = checked.sources.name(span.file);
            match checked.sources.place(span) {
                Place::Text { line, .. } => format!("{} {name}:{line}", d.rule),
                Place::Cell { row, column } => format!("{} {name} row {row}, {column}", d.rule),
            }
        }
        None => format!("{} {}", d.rule, d.file.clone().unwrap_or_default()),
    };
    let places: Vec<String> = checked.findings.iter().map(place).collect();
    let said = render(&checked.findings, &checked.sources, Format::Full, Colour::Off);
    places.into_iter().map(|p| (p, said.clone())).collect()
}

/// Replaces the `old` that stands in `path` exactly once, and returns the line it stands in.
#[track_caller]
fn edit(files: &mut Memory, path: &str, old: &str, new: &str) -> usize {
    let text = String::from_utf8(files.read(path).expect("the file is there")).expect("UTF-8");
    assert_eq!(text.matches(old).count(), 1, "{old:?} in {path}");
    let line = text[..text.find(old).expect("it is there")].matches('\n').count() + 1;
    files.insert(path, text.replacen(old, new, 1));
    line
}

/// The one finding that a change brings.
#[track_caller]
fn brings(change: impl FnOnce(&mut Memory) -> String) {
    let mut files = demonstration();
    let before = unchanged();
    let expected = change(&mut files);
    let found = findings(&files);
    let new: Vec<&str> = found.iter().map(|f| f.0.as_str()).filter(|p| !before.iter().any(|b| b.0 == *p)).collect();
    assert_eq!(new, [expected.as_str()], "{}", found.first().map_or("", |f| &f.1));
}

#[test]
fn without_a_mistake_there_is_no_finding() {
    let found = findings(&whole());
    assert!(found.is_empty(), "{}", found[0].1);
}

const KEEL: &str = "steps/frame/10-keel-join.md";
const CABLE: &str = "steps/steering/50-cable.md";

#[test]
fn a_part_number_mistyped() {
    brings(|files| {
        // The letter O for a zero.
        let line = edit(files, CABLE, "  - SK-510\n", "  - SK-51O\n");
        format!("unknown-part {CABLE}:{line}")
    });
}

#[test]
fn a_part_number_mistyped_into_another_that_exists() {
    brings(|files| {
        let path = "steps/frame/70-head.md";
        let line = edit(files, path, "  - SK-105\n", "  - SK-103\n");
        format!("quantity-mismatch {path}:{line}")
    });
}

#[test]
fn a_step_said_to_be_for_the_other_hand() {
    brings(|files| {
        let path = "steps/frame/40-stay.md";
        let line = edit(files, path, "hand: left", "hand: right");
        format!("wrong-hand {path}:{line}")
    });
}

#[test]
fn a_part_of_the_other_hand_pulled() {
    brings(|files| {
        let path = "steps/frame/40-stay.md";
        let line = edit(files, path, "  - { part: SK-111-L, do: trial fit }", "  - { part: SK-111-R, do: trial fit }");
        format!("wrong-hand {path}:{line}")
    });
}

#[test]
fn a_hand_swapped_in_the_parts_list() {
    brings(|files| {
        edit(files, "parts.csv", "\nSK-111-L,Side stay,left,", "\nSK-111-L,Side stay,right,");
        format!("wrong-hand parts.csv row {}, hand", row(files, "SK-111-L"))
    });
}

#[test]
fn a_column_mistyped() {
    for (column, mistyped) in [("cut length", "cut lenght"), ("ICE", "ICEE"), ("stock", "stok"), ("hand", "hnad")] {
        brings(|files| {
            edit(files, "parts.csv", &format!(",{column},"), &format!(",{mistyped},"));
            format!("misspelt-column parts.csv row 1, {mistyped}")
        });
    }
}

#[test]
fn a_quantity_changed_in_a_step() {
    brings(|files| {
        let line = edit(files, KEEL, "  - SK-103\n", "  - 2 x SK-103\n");
        format!("quantity-mismatch {KEEL}:{line}")
    });
}

#[test]
fn a_quantity_changed_in_the_parts_list() {
    brings(|files| {
        let row = row(files, "SK-240");
        let text = String::from_utf8(files.read("parts.csv").expect("it is there")).expect("UTF-8");
        let changed: Vec<String> = text.lines().map(|l| with_cell(l, "SK-240", 8, "2")).collect();
        files.insert("parts.csv", changed.join("\n"));
        format!("quantity-mismatch parts.csv row {row}, SAND")
    });
}

#[test]
fn a_row_of_the_parts_list_deleted() {
    brings(|files| {
        let text = String::from_utf8(files.read("parts.csv").expect("it is there")).expect("UTF-8");
        let kept: Vec<&str> = text.lines().filter(|l| !l.starts_with("SK-510,")).collect();
        assert_eq!(kept.len() + 1, text.lines().count());
        files.insert("parts.csv", kept.join("\n"));
        format!("unknown-part {CABLE}:{}", line_of(files, CABLE, "  - SK-510"))
    });
}

#[test]
fn hardware_mistyped() {
    brings(|files| {
        let line = edit(files, CABLE, "    fastener: AN4-15A\n", "    fastener: AN4-51A\n");
        format!("unknown-hardware {CABLE}:{line}")
    });
}

#[test]
fn a_figure_deleted() {
    brings(|files| {
        assert!(files.remove("figures/mast-step.svg"));
        let path = "steps/frame/60-mast-step-drill.md";
        format!("unknown-figure {path}:{}", line_of(files, path, "figure: mast-step.svg"))
    });
}

fn line_of(files: &Memory, path: &str, what: &str) -> usize {
    let text = String::from_utf8(files.read(path).expect("it is there")).expect("UTF-8");
    text.lines().position(|l| l.contains(what)).expect("it stands there") + 1
}

fn row(files: &Memory, number: &str) -> usize {
    line_of(files, "parts.csv", &format!("{number},"))
}

/// The line with one cell changed, where it is the row of `number`. The row has no quoted cell before that.
fn with_cell(line: &str, number: &str, column: usize, value: &str) -> String {
    if !line.starts_with(&format!("{number},")) {
        return line.to_owned();
    }
    let mut cells: Vec<&str> = line.split(',').collect();
    assert_ne!(cells[column], value);
    cells[column] = value;
    cells.join(",")
}
