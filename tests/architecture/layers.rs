//! Modules import downward only: the table of allowed edges, and every path of `src` read against it.

use std::collections::{BTreeMap, BTreeSet};

use super::rust_text::{RustFile, sources};

/// Each module of the crate and what it may import, in the order of the pipeline. A module sees only modules that
/// stand above it here.
const ALLOWED: &[(&str, &[&str])] = &[
    ("units", &[]),
    ("typeface", &[]),
    ("geometry", &["units"]),
    ("source", &[]),
    ("diag", &["source"]),
    ("syntax", &["units", "source", "diag"]),
    ("trade", &["units", "geometry"]),
    ("figure", &["units", "typeface"]),
    ("model", &["units", "geometry", "source", "diag", "syntax", "trade", "figure"]),
    ("action", &["units", "source", "syntax", "trade", "model"]),
    ("resolve", &["units", "source", "diag", "syntax", "trade", "model"]),
    ("joint", &["units", "source", "trade", "model", "resolve"]),
    ("change", &["units", "source", "diag", "syntax", "model", "resolve", "joint"]),
    ("plan", &["units", "geometry", "source", "trade", "model", "resolve"]),
    ("drawing", &["units", "geometry", "trade", "model", "joint", "plan"]),
    (
        "document",
        &[
            "units", "geometry", "source", "syntax", "trade", "figure", "model", "action", "resolve", "joint",
            "change", "plan", "drawing",
        ],
    ),
    ("layout", &["units", "typeface", "figure", "drawing", "document"]),
    (
        "check",
        &[
            "units", "geometry", "source", "diag", "syntax", "trade", "figure", "model", "action", "resolve", "joint",
            "change", "plan", "layout",
        ],
    ),
    // A document is all that an emitter knows: neither model nor resolve nor trade.
    ("emit", &["units", "source", "diag", "figure", "drawing", "document", "layout"]),
    (
        "compile",
        &["units", "typeface", "source", "diag", "model", "resolve", "change", "document", "layout", "check", "emit"],
    ),
    (
        "cli",
        &[
            "units", "source", "diag", "syntax", "trade", "model", "action", "resolve", "joint", "change", "document",
            "check", "emit", "compile",
        ],
    ),
];

type Table<'a> = &'a [(&'a str, &'a [&'a str])];

#[test]
fn modules_import_downward_and_the_table_says_no_more() {
    let files = sources();
    let faults = faults(ALLOWED, &files);
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn the_developers_page_says_the_same() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("DEVELOPERS.md");
    let page = std::fs::read_to_string(path).expect("DEVELOPERS.md is there");
    let faults = unlike(ALLOWED, &page);
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// What the page says otherwise than the table: the order of the modules, and modules that another must not know.
fn unlike(table: Table, page: &str) -> Vec<String> {
    let mut faults = Vec::new();
    let chain = page.split("\n\n").find(|p| p.trim_start().starts_with("units,")).unwrap_or("");
    let order: Vec<&str> = chain.split([',', '<', '-']).map(str::trim).filter(|name| !name.is_empty()).collect();
    let modules: Vec<&str> = table.iter().map(|(module, _)| *module).collect();
    if order != modules {
        faults.push(format!("the modules of the page are {order:?}, those of the table {modules:?}"));
    }
    for (module, seen) in table {
        let row = page.lines().find(|line| line.starts_with(&format!("| `{module}` |")));
        let Some(forbidden) = row.and_then(|row| row.trim_end_matches([' ', '|']).rsplit('|').next()) else {
            faults.push(format!("the page has no row of `{module}`"));
            continue;
        };
        for name in seen.iter().filter(|name| forbidden.contains(&format!("`{name}`"))) {
            faults.push(format!("`{module}` may see `{name}`, of which the page says that it must not know it"));
        }
    }
    faults
}

/// What is wrong between the table and the code: an edge that the table lacks, one that points upward, one that
/// nothing in the program uses (tests don't count), and a module that has no row or a row that has no module.
fn faults(table: Table, files: &[RustFile]) -> Vec<String> {
    let allowed: BTreeMap<&str, &[&str]> = table.iter().copied().collect();
    let mut faults = Vec::new();
    for (i, (module, seen)) in table.iter().enumerate() {
        for name in *seen {
            if !table[..i].iter().any(|(m, _)| m == name) {
                faults.push(format!("`{module}` may not see `{name}`, which does not stand below it"));
            }
        }
    }
    let mut used = BTreeSet::new();
    let mut met = BTreeSet::new();
    for file in files {
        let Some(&module) = file.modules().first() else { continue };
        met.insert(module);
        let Some(seen) = allowed.get(module) else {
            faults.push(format!("{}: module `{module}` is not in the table of allowed edges", file.path));
            continue;
        };
        let program: BTreeSet<usize> = file.lines_outside_tests().map(|(line, _)| line).collect();
        for (line, name) in crate_paths(file) {
            if name != module && !seen.contains(&name.as_str()) {
                faults.push(format!("{}:{line}: `{module}` may not import `{name}`", file.path));
            }
            if program.contains(&line) {
                used.insert((module, name));
            }
        }
        for line in climbs_out(file) {
            faults.push(format!("{}:{line}: `super` leaves the module `{module}`; write `crate::`", file.path));
        }
    }
    for (module, seen) in table {
        if !met.contains(module) {
            faults.push(format!("the table names a module `{module}` that is not there"));
        }
        for name in *seen {
            if !used.contains(&(*module, (*name).to_owned())) {
                faults.push(format!("`{module}` may see `{name}` and does not; take it out of the table"));
            }
        }
    }
    faults
}

/// The module after each `crate::`, with its line; all of them where it is followed by a list in braces.
fn crate_paths(file: &RustFile) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    for (at, _) in file.code.match_indices("crate::") {
        let line = file.code[..at].matches('\n').count() + 1;
        let before = file.code[..at].chars().next_back();
        if before.is_some_and(|c| c.is_alphanumeric() || c == '_' || c == '$') {
            continue;
        }
        let rest = file.code[at + "crate::".len()..].trim_start();
        match rest.strip_prefix('{') {
            Some(list) => found.extend(first_names(list).into_iter().map(|name| (line, name))),
            None => found.push((line, word(rest))),
        }
    }
    found
}

/// The first names of the items of a list in braces: `units::{A, B}, model}` gives `units` and `model`.
fn first_names(list: &str) -> Vec<String> {
    let (mut names, mut depth, mut item) = (Vec::new(), 0, true);
    for (i, c) in list.char_indices() {
        match c {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => item = true,
            c if item && (c.is_alphabetic() || c == '_') => {
                names.push(word(&list[i..]));
                item = false;
            }
            _ => {}
        }
    }
    names
}

fn word(text: &str) -> String {
    text.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect()
}

/// Lines whose chain of `super::` reaches the crate's root. In a module written inside a file (indented) one more
/// `super` stays inside.
fn climbs_out(file: &RustFile) -> Vec<usize> {
    let depth = file.modules().len();
    let mut lines = Vec::new();
    for (i, line) in file.code.lines().enumerate() {
        let mut rest = line;
        while let Some(at) = rest.find("super::") {
            let chain = rest[at..].split("super::").take_while(|s| s.is_empty()).count().max(1);
            let inside = usize::from(line.starts_with(' '));
            if chain >= depth + inside {
                lines.push(i + 1);
            }
            rest = &rest[at + chain * "super::".len()..];
        }
    }
    lines
}

#[test]
fn reads_paths_as_the_compiler_does() {
    let file = |path: &str, code: &str| RustFile::new(path, code);
    let text =
        "use crate::{units::{A, crate_b}, model, emit::html as h};\nlet x = crate::diag::Sink::new();\n$crate::no!()";
    let names: Vec<_> =
        crate_paths(&file("src/check/mod.rs", text)).into_iter().map(|(l, n)| format!("{l} {n}")).collect();
    assert_eq!(names, ["1 units", "1 model", "1 emit", "2 diag"]);
    let id = "use super::Hand;\n    use super::super::Hand;\n    use super::super::super::model::X;\n";
    assert_eq!(climbs_out(&file("src/units/id.rs", id)), [3]);
    assert_eq!(climbs_out(&file("src/units/mod.rs", "use super::model;\n    use super::*;\n")), [1]);
    assert!(climbs_out(&file("src/emit/html/page.rs", "use super::super::error::EmitError;")).is_empty());
}

/// Each kind of fault, planted alone into a small table and small sources that hold without it.
#[test]
fn finds_each_planted_fault() {
    const TABLE: Table = &[("units", &[]), ("model", &["units"]), ("emit", &["units"])];
    let sound = || {
        vec![
            RustFile::new("src/units/mod.rs", "pub struct Id;\n"),
            RustFile::new("src/model/mod.rs", "use crate::units::Id;\n"),
            RustFile::new("src/emit/mod.rs", "use crate::units::Id;\n"),
        ]
    };
    assert_eq!(faults(TABLE, &sound()), Vec::<String>::new());
    let with = |path: &str, text: &str| {
        let mut files = sound();
        files.push(RustFile::new(path, text));
        faults(TABLE, &files)
    };
    assert_eq!(
        with("src/emit/page.rs", "#[cfg(test)]\nmod testing;\n\nuse crate::model::Step;\n"),
        ["src/emit/page.rs:4: `emit` may not import `model`"]
    );
    assert_eq!(with("src/cli/mod.rs", ""), ["src/cli/mod.rs: module `cli` is not in the table of allowed edges"]);
    assert_eq!(
        with("src/emit/page.rs", "use super::super::model::Step;\n"),
        ["src/emit/page.rs:1: `super` leaves the module `emit`; write `crate::`"]
    );
    let upward: Table = &[("units", &["model"]), ("model", &["units"]), ("emit", &["units"])];
    assert_eq!(
        faults(upward, &sound()),
        [
            "`units` may not see `model`, which does not stand below it",
            "`units` may see `model` and does not; take it out of the table"
        ]
    );
    let mut unused = sound();
    // What tests alone use needs no more of the table than it would give the program.
    unused[2] = RustFile::new("src/emit/mod.rs", "#[cfg(test)]\nmod tests {\n    use crate::units::Id;\n}\n");
    assert_eq!(faults(TABLE, &unused), ["`emit` may see `units` and does not; take it out of the table"]);
    assert_eq!(
        faults(TABLE, &sound()[..2]),
        [
            "the table names a module `emit` that is not there",
            "`emit` may see `units` and does not; take it out of the table"
        ]
    );
}

#[test]
fn finds_what_the_page_says_otherwise() {
    const PAGE: &str = "Modules:\n\n    units, source <- emit\n\n| module | owns | must not know |\n|---|---|---|\n\
                        | `units` | ids | files |\n| `source` | files | what they mean |\n| `emit` | pages | `source` |\n";
    assert_eq!(unlike(&[("units", &[]), ("source", &[]), ("emit", &["units"])], PAGE), [""; 0]);
    assert_eq!(
        unlike(&[("units", &[]), ("source", &[]), ("emit", &["units", "source"])], PAGE),
        ["`emit` may see `source`, of which the page says that it must not know it"]
    );
    let faults = unlike(&[("units", &[]), ("emit", &[]), ("cli", &[])], PAGE);
    assert!(faults.len() == 2 && faults[0].contains("the modules of the page"), "{faults:?}");
    assert_eq!(faults[1], "the page has no row of `cli`");
}
