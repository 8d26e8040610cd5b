//! What only one place may use, and what none may.

use super::rust_text::{RustFile, sources};

/// What stands in code, where it may stand (beginnings of paths), and why nowhere else.
const PLACES: &[(&str, &[&str], &str)] = &[
    ("printpdf::", &["src/emit/pdf/"], "one module knows how PDF objects are written"),
    ("lopdf::", &["src/emit/pdf/"], "one module knows how PDF objects are written"),
    ("dejavu::", &["src/typeface.rs"], "each font file is in the program once"),
    ("tera::", &["src/emit/html/"], "only HTML is made from templates"),
    ("calamine::", &["src/syntax/"], "workbooks are read in one place"),
    ("pulldown_cmark::", &["src/syntax/"], "Markdown is read in one place"),
    ("serde_saphyr::", &["src/syntax/"], "YAML is read in one place"),
    ("clap::", &["src/cli/", "src/main.rs"], "only the command line knows arguments"),
    ("std::fs", &["src/source/disk.rs", "src/cli/"], "reading goes through `Files`, writing through `Output`"),
    ("std::env", &["src/cli/", "src/main.rs"], "what is made depends on the sources alone"),
    ("std::process", &["src/cli/", "src/main.rs"], "nothing is run, and only the command line ends the program"),
    ("std::net", &[], "nothing is fetched"),
    ("std::time", &["src/cli/"], "no clock shows in what is made"),
    ("HashMap", &[], "same input, same bytes: ordered maps"),
    ("HashSet", &[], "same input, same bytes: ordered sets"),
    ("println!", &["src/cli/", "src/main.rs"], "printing happens at the edge"),
    ("todo!", &[], "no stubs"),
    ("unimplemented!", &[], "no stubs"),
    ("dbg!", &[], "no leftovers"),
    (".unwrap()", &[], "a panic is our own bug: `expect` says why it can't happen"),
    // The standard library's functions differ between systems in the last digit; libm's do not.
    (".sin()", &[], "trigonometry through libm"),
    (".cos()", &[], "trigonometry through libm"),
    (".tan()", &[], "trigonometry through libm"),
    (".sin_cos()", &[], "trigonometry through libm"),
    (".atan2(", &[], "trigonometry through libm"),
    (".acos()", &[], "trigonometry through libm"),
    (".asin()", &[], "trigonometry through libm"),
    (".atan()", &[], "trigonometry through libm"),
    (".powf(", &[], "powers through libm"),
    (".exp()", &[], "powers through libm"),
    (".ln()", &[], "powers through libm"),
    (".cbrt()", &[], "powers through libm"),
];

#[test]
fn each_thing_in_its_place() {
    let mut faults = Vec::new();
    for file in sources() {
        for (line, code) in file.lines_before_tests() {
            for (what, places, why) in PLACES {
                if stands_in(code, what) && !places.iter().any(|p| file.path.starts_with(p)) {
                    faults.push(format!("{}:{line}: `{what}` may not stand here: {why}", file.path));
                }
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// `what` stands in the line, not as the end of a longer name.
fn stands_in(code: &str, what: &str) -> bool {
    let named = |c: char| c.is_alphanumeric() || c == '_';
    code.match_indices(what).any(|(at, _)| {
        !what.starts_with(named) || !code[..at].chars().next_back().is_some_and(|c| named(c) || c == ':')
    })
}

#[test]
fn modules_say_what_they_own_and_stay_short() {
    let mut faults = Vec::new();
    for file in sources() {
        if !file.is_test() && !file.text.starts_with("//!") {
            faults.push(format!("{}: it does not begin by saying what it owns (`//!`)", file.path));
        }
        let length = length(&file);
        if length > 500 {
            faults.push(format!("{}: {length} lines before its tests; past 500 a module wants splitting", file.path));
        }
        if let Some(name) = file.modules().iter().find(|n| matches!(**n, "utils" | "common" | "helpers" | "manager")) {
            faults.push(format!("{}: `{name}` does not say what the module is about", file.path));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

fn length(file: &RustFile) -> usize {
    file.lines_before_tests().count()
}

#[test]
fn finds_names_and_not_parts_of_names() {
    assert!(stands_in("let m: HashMap<A, B>;", "HashMap"));
    assert!(!stands_in("let m: MyHashMap<A, B>;", "HashMap"));
    assert!(stands_in("x.sin()", ".sin()"));
    assert!(!stands_in("eprintln!()", "println!"));
}
