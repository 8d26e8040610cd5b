//! Where each crate that Cargo.toml names may stand: a row for every one, and no room that does not use it.

use super::rust_text::{RustFile, rust_files, sources};
use crate::dependencies::metadata::{Direct, metadata};

/// A crate's name in code, where the program may name it (beginnings of paths), and why nowhere else. Each of the places
/// names it. Tests may name what they like; a crate for tests alone has no place in the program.
const CRATES: &[(&str, &[&str], &str)] = &[
    ("allsorts", &["src/figure/vector.rs", "src/layout/fonts.rs"], "fonts are cut down where letters are set"),
    ("anstream", &["src/cli/"], "only the command line knows a terminal"),
    ("base64", &["src/figure/"], "pictures in a drawing are looked into in one place"),
    ("calamine", &["src/syntax/"], "workbooks are read in one place"),
    ("clap", &["src/cli/"], "only the command line knows arguments"),
    ("clap_complete", &["src/cli/"], "only the command line knows arguments"),
    ("clap_mangen", &["src/cli/"], "only the command line knows arguments"),
    ("csv", &["src/emit/csv/"], "tables are written in one place; they are read by `syntax`, which keeps places"),
    ("dejavu", &["src/typeface.rs"], "each font file is in the program once"),
    ("encoding_rs", &["src/syntax/"], "text is decoded in one place"),
    ("exif", &["src/figure/"], "what a photograph carries is read in one place"),
    ("flate2", &["src/emit/pdf/", "src/figure/"], "streams of PDF, and what a picture holds, are packed one by one"),
    ("granit_parser", &["src/syntax/yaml/"], "YAML is read in one place"),
    ("harfrust", &["src/layout/fonts.rs"], "text is shaped in one place"),
    ("hypher", &["src/layout/lines.rs"], "lines are broken in one place"),
    (
        "indexmap",
        &["src/check/", "src/diag/", "src/document/", "src/joint/", "src/model/", "src/plan/", "src/resolve/"],
        "the author's order is kept in values; what is written out is in its order already",
    ),
    ("jpeg_encoder", &["src/figure/"], "photographs are made smaller and grey in one place"),
    (
        "libm",
        &["src/drawing/", "src/emit/", "src/figure/", "src/geometry/", "src/joint/", "src/layout/"],
        "values of the trade are exact; only geometry and what is drawn needs more",
    ),
    ("lopdf", &["src/emit/pdf/"], "one module knows how PDF objects are written"),
    ("memchr", &["src/figure/"], "marks in a photograph are looked for in one place"),
    ("num_rational", &["src/units/rational.rs"], "fractions are exact behind one type"),
    ("png", &["src/figure/"], "pictures are read in one place"),
    ("printpdf", &["src/emit/pdf/"], "one module knows how PDF objects are written"),
    ("pulldown_cmark", &["src/syntax/markdown/"], "Markdown is read in one place"),
    (
        "rayon",
        &[
            "src/change/",
            "src/check/",
            "src/cli/",
            "src/compile/",
            "src/compile.rs",
            "src/emit/",
            "src/layout/",
            "src/model/",
            "src/resolve/",
            "src/source/",
        ],
        "what is done side by side is collected in order, where whole files, configurations and pages are handed out",
    ),
    ("resvg", &["src/figure/"], "drawings are read in one place"),
    ("roxmltree", &["src/figure/svg/"], "drawings are read in one place"),
    ("serde", &["src/diag/render/"], "findings as JSON lines; other JSON is written value by value"),
    (
        "serde_json",
        &["src/change/", "src/cli/release.rs", "src/diag/render/", "src/emit/html/"],
        "JSON is the form of releases, of reports for programs and of the pages' data",
    ),
    ("sha2", &["src/change/digest.rs", "src/cli/kept.rs", "src/emit/"], "digests are made where bytes are final"),
    ("signal_hook", &["src/cli/"], "only the command line knows signals"),
    ("simplecss", &["src/figure/svg/"], "style sheets of drawings are read in one place"),
    ("skrifa", &["src/layout/fonts.rs"], "fonts are measured in one place"),
    ("strsim", &["src/check/", "src/diag/near.rs", "src/syntax/markdown/"], "the nearest name is found in one place"),
    ("tera", &["src/emit/html/"], "only HTML is made from templates"),
    ("textwrap", &["src/cli/", "src/diag/render/", "src/layout/lines.rs"], "lines are broken where they are shown"),
    ("unicode_linebreak", &["src/layout/lines.rs"], "lines are broken in one place"),
    ("walkdir", &["src/cli/", "src/source/disk.rs"], "reading goes through `Files`, writing through `Output`"),
    ("zip", &["src/emit/stick/", "src/syntax/"], "archives are of workbooks and of sticks"),
    ("zune_jpeg", &["src/figure/"], "photographs are read in one place"),
    // For tests.
    ("image", &[], "another reading of pictures, to compare with"),
    ("divan", &[], "benchmarks"),
    ("proptest", &[], "properties"),
    ("rust_xlsxwriter", &[], "workbooks to read back"),
    ("tempfile", &[], "folders for tests"),
];

type Table<'a> = &'a [(&'a str, &'a [&'a str], &'a str)];

#[test]
fn each_crate_has_a_row_and_stands_in_its_places() {
    let faults = faults(CRATES, &metadata().direct, &sources(), &rust_files("tests"));
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// What is wrong between the table, Cargo.toml and the code.
fn faults(table: Table, direct: &[Direct], program: &[RustFile], tests: &[RustFile]) -> Vec<String> {
    let mut faults = Vec::new();
    let program_lines: Vec<(&str, Vec<(usize, &str)>)> =
        program.iter().map(|file| (file.path.as_str(), file.lines_outside_tests().collect())).collect();
    for (name, places, _) in table {
        if !direct.iter().any(|d| d.code == *name) {
            faults.push(format!("`{name}` has a row and is no dependency; take the row out"));
        }
        let mut idle: Vec<&str> = places.to_vec();
        for (path, lines) in &program_lines {
            let named: Vec<usize> = lines.iter().filter(|(_, code)| names(code, name)).map(|(line, _)| *line).collect();
            if named.is_empty() {
                continue;
            }
            idle.retain(|place| !path.starts_with(place));
            if !places.iter().any(|place| path.starts_with(place)) {
                faults.extend(named.iter().map(|line| format!("{path}:{line}: `{name}` may not stand here")));
            }
        }
        for place in idle {
            faults.push(format!("`{name}` may stand in {place} and does not; take the place out of its row"));
        }
    }
    for d in direct {
        let Some((name, places, _)) = table.iter().find(|(name, ..)| *name == d.code) else {
            faults.push(format!("`{}` of Cargo.toml has no row that says where it may stand", d.name));
            continue;
        };
        if d.for_tests != places.is_empty() {
            faults.push(format!("`{name}` has places in the program, or else it belongs to the dev-dependencies"));
        }
        let everywhere = || program.iter().chain(tests).flat_map(|file| file.code.lines());
        if d.for_tests && !everywhere().any(|code| names(code, name)) {
            faults.push(format!("`{name}` is a dependency that nothing uses"));
        }
    }
    faults
}

/// A line names a crate: as the head of a path, or alone behind `use`.
fn names(code: &str, name: &str) -> bool {
    let part = |c: char| c.is_alphanumeric() || c == '_';
    code.match_indices(name).any(|(at, _)| {
        let (before, after) = (&code[..at], &code[at + name.len()..]);
        if before.chars().next_back().is_some_and(|c| part(c) || matches!(c, ':' | '.' | '\''))
            || after.starts_with(part)
        {
            return false;
        }
        let used = before.trim_end().ends_with("use") || before.trim_end().ends_with("extern crate");
        after.starts_with("::") || used
    })
}

#[test]
fn finds_each_planted_fault() {
    const TABLE: Table = &[("csv", &["src/emit/"], "tables"), ("proptest", &[], "properties")];
    let direct = |list: &[(&str, bool)]| -> Vec<Direct> {
        let one = |(name, for_tests): &(&str, bool)| Direct {
            name: (*name).to_owned(),
            code: name.replace('-', "_"),
            for_tests: *for_tests,
        };
        list.iter().map(one).collect()
    };
    let sound = || direct(&[("csv", false), ("proptest", true)]);
    let program = || vec![RustFile::new("src/emit/table.rs", "//! T.\nuse csv::Writer;\n")];
    let tests = [RustFile::new("tests/random.rs", "use proptest::prelude::*;\n")];
    assert_eq!(faults(TABLE, &sound(), &program(), &tests), Vec::<String>::new());

    let mut planted = program();
    planted.push(RustFile::new("src/model/read.rs", "#[cfg(test)]\nmod testing;\n\nfn f() { csv::Reader::new() }\n"));
    assert_eq!(faults(TABLE, &sound(), &planted, &tests), ["src/model/read.rs:4: `csv` may not stand here"]);
    planted[1] = RustFile::new("src/model/read.rs", "use csv as tables;\n");
    assert_eq!(faults(TABLE, &sound(), &planted, &tests), ["src/model/read.rs:1: `csv` may not stand here"]);
    planted[1] = RustFile::new("src/model/read.rs", "use super::csv::A;\nfn f(csv: u8) { csv.x(); mycsv::y() }\n");
    assert_eq!(faults(TABLE, &sound(), &planted, &tests), Vec::<String>::new());

    let more = direct(&[("csv", false), ("proptest", true), ("num-rational", false)]);
    assert_eq!(
        faults(TABLE, &more, &program(), &tests),
        ["`num-rational` of Cargo.toml has no row that says where it may stand"]
    );
    assert_eq!(
        faults(TABLE, &direct(&[("csv", false)]), &program(), &tests),
        ["`proptest` has a row and is no dependency; take the row out"]
    );
    assert_eq!(faults(TABLE, &sound(), &program(), &[]), ["`proptest` is a dependency that nothing uses"]);
    let unused = [RustFile::new("src/emit/table.rs", "#[cfg(test)]\nmod tests {\n    use csv::Reader;\n}\n")];
    assert_eq!(
        faults(TABLE, &sound(), &unused, &tests),
        ["`csv` may stand in src/emit/ and does not; take the place out of its row"]
    );
    let swapped = direct(&[("csv", true), ("proptest", true)]);
    assert_eq!(
        faults(TABLE, &swapped, &program(), &tests),
        ["`csv` has places in the program, or else it belongs to the dev-dependencies"]
    );
}
