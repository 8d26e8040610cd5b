//! Modules import downward only: the table of allowed edges, and every path of `src` read against it.

use std::collections::{BTreeMap, BTreeSet};

use super::rust_text::{RustFile, sources};

/// Each module of the crate and what it may import, in the order of the pipeline. A module sees only modules that
/// stand above it here.
const ALLOWED: &[(&str, &[&str])] = &[
    ("units", &[]),
    ("typeface", &[]),
    ("geometry", &["units"]),
    ("source", &["units"]),
    ("diag", &["units", "source"]),
    ("syntax", &["units", "source", "diag"]),
    ("trade", &["units", "geometry"]),
    ("figure", &["units", "typeface", "geometry", "source", "diag"]),
    ("model", &["units", "geometry", "source", "diag", "syntax", "trade", "figure"]),
    ("resolve", &["units", "geometry", "source", "diag", "syntax", "trade", "figure", "model"]),
    ("joint", &["units", "source", "trade", "model", "resolve"]),
    ("change", &["units", "source", "diag", "syntax", "trade", "figure", "model", "resolve", "joint"]),
    ("plan", &["units", "geometry", "source", "diag", "trade", "model", "resolve"]),
    ("drawing", &["units", "geometry", "trade", "model", "resolve", "joint", "plan"]),
    (
        "document",
        &[
            "units", "geometry", "source", "syntax", "trade", "figure", "model", "resolve", "joint", "change", "plan",
            "drawing",
        ],
    ),
    ("layout", &["units", "typeface", "geometry", "figure", "drawing", "document"]),
    (
        "check",
        &[
            "units", "geometry", "source", "diag", "syntax", "trade", "figure", "model", "resolve", "joint", "change",
            "plan", "document", "layout",
        ],
    ),
    // A document is all that an emitter knows: neither model nor resolve nor trade.
    ("emit", &["units", "typeface", "geometry", "source", "diag", "figure", "drawing", "document", "layout"]),
    (
        "compile",
        &[
            "units", "typeface", "source", "diag", "figure", "model", "resolve", "change", "plan", "document",
            "layout", "check", "emit",
        ],
    ),
    (
        "cli",
        &[
            "units", "source", "diag", "syntax", "trade", "figure", "model", "resolve", "joint", "change", "plan",
            "document", "layout", "check", "emit", "compile",
        ],
    ),
];

#[test]
fn the_table_itself_points_downward() {
    for (i, (module, allowed)) in ALLOWED.iter().enumerate() {
        for name in *allowed {
            let at = ALLOWED.iter().position(|(m, _)| m == name);
            assert!(at.is_some_and(|at| at < i), "`{module}` may not see `{name}`, which does not stand below it");
        }
    }
}

#[test]
fn modules_import_downward() {
    let allowed: BTreeMap<&str, &[&str]> = ALLOWED.iter().copied().collect();
    let mut faults = Vec::new();
    let mut edges = BTreeSet::new();
    for file in sources() {
        let Some(&module) = file.modules().first() else { continue };
        let Some(allowed) = allowed.get(module) else {
            faults.push(format!("{}: module `{module}` is not in the table of allowed edges", file.path));
            continue;
        };
        for (line, name) in crate_paths(&file) {
            edges.insert((module.to_owned(), name.clone()));
            if name != module && !allowed.contains(&name.as_str()) {
                faults.push(format!("{}:{line}: `{module}` may not import `{name}`", file.path));
            }
        }
        for line in climbs_out(&file) {
            faults.push(format!("{}:{line}: `super` leaves the module `{module}`; write `crate::`", file.path));
        }
    }
    assert!(edges.len() > 15, "the paths of src were not found: {edges:?}");
    assert!(faults.is_empty(), "{}", faults.join("\n"));
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
    let file = |path: &str, code: &str| RustFile { path: path.to_owned(), text: String::new(), code: code.to_owned() };
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
