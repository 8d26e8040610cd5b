//! What only one place may use, and what none may. Crates stand in a table of their own, in `crates.rs`.

use super::rust_text::{RustFile, sources};

/// What stands in code, where it may stand (beginnings of paths), and why nowhere else.
const PLACES: &[(&str, &[&str], &str)] = &[
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
    let faults = misplaced(&sources());
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

fn misplaced(files: &[RustFile]) -> Vec<String> {
    let mut faults = Vec::new();
    for file in files {
        for (line, code) in file.lines_outside_tests() {
            for (what, places, why) in PLACES {
                if stands_in(code, what) && !places.iter().any(|p| file.path.starts_with(p)) {
                    faults.push(format!("{}:{line}: `{what}` may not stand here: {why}", file.path));
                }
            }
        }
    }
    faults
}

/// Each row, planted behind a test item where a reader that stops there would miss it, and once more where it may stand.
#[test]
fn finds_each_thing_planted_outside_its_place() {
    for (what, places, why) in PLACES {
        let text = format!("//! Page.\n#[cfg(test)]\nmod testing;\nfn f() {{ a{what} {what} }}\n");
        let found = misplaced(&[RustFile::new("src/document/page.rs", text.as_str())]);
        let fault = format!("src/document/page.rs:4: `{what}` may not stand here: {why}");
        assert!(found.contains(&fault), "{what}: {found:?}");
        for place in *places {
            let found = misplaced(&[RustFile::new(format!("{place}x.rs"), text.as_str())]);
            assert!(!found.iter().any(|f| f.contains(&format!("`{what}`"))), "{found:?}");
        }
    }
    let in_words =
        "//! Says todo!\n// .unwrap()\nconst A: &str = \"HashMap\";\n#[cfg(test)]\nmod tests {\n    dbg!();\n}\n";
    assert!(misplaced(&[RustFile::new("src/document/page.rs", in_words)]).is_empty());
}

/// `what` stands in the line, not as the end of a longer name.
fn stands_in(code: &str, what: &str) -> bool {
    let named = |c: char| c.is_alphanumeric() || c == '_';
    code.match_indices(what).any(|(at, _)| {
        !what.starts_with(named) || !code[..at].chars().next_back().is_some_and(|c| named(c) || c == ':')
    })
}

/// Lines of a module without its tests, past which it wants splitting.
const LONGEST: usize = 500;

#[test]
fn modules_say_what_they_own_and_stay_short() {
    let faults = misshapen(&sources());
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

fn misshapen(files: &[RustFile]) -> Vec<String> {
    let mut faults = Vec::new();
    for file in files {
        if !file.is_test() && !file.text.starts_with("//!") {
            faults.push(format!("{}: it does not begin by saying what it owns (`//!`)", file.path));
        }
        let length = file.lines_outside_tests().count();
        if length > LONGEST {
            faults.push(format!("{}: {length} lines without its tests; past {LONGEST} it wants splitting", file.path));
        }
        if let Some(name) = file.modules().iter().find(|n| matches!(**n, "utils" | "common" | "helpers" | "manager")) {
            faults.push(format!("{}: `{name}` does not say what the module is about", file.path));
        }
    }
    faults
}

#[test]
fn finds_a_module_that_is_misshapen() {
    let long = "//! Long.\n#[cfg(test)]\nmod testing;\n".to_owned() + &"fn f() {}\n".repeat(LONGEST);
    let tests = format!("//! Tests.\n#[cfg(test)]\nmod tests {{\n{}}}\n", "    fn f() {}\n".repeat(LONGEST));
    let files = [
        RustFile::new("src/units/long.rs", long),
        RustFile::new("src/units/tested.rs", tests),
        RustFile::new("src/units/utils.rs", "//! Things.\n"),
        RustFile::new("src/units/silent.rs", "fn f() {}\n"),
    ];
    assert_eq!(
        misshapen(&files),
        [
            "src/units/long.rs: 501 lines without its tests; past 500 it wants splitting",
            "src/units/utils.rs: `utils` does not say what the module is about",
            "src/units/silent.rs: it does not begin by saying what it owns (`//!`)"
        ]
    );
}

#[test]
fn finds_names_and_not_parts_of_names() {
    assert!(stands_in("let m: HashMap<A, B>;", "HashMap"));
    assert!(!stands_in("let m: MyHashMap<A, B>;", "HashMap"));
    assert!(stands_in("x.sin()", ".sin()"));
    assert!(!stands_in("eprintln!()", "println!"));
}
