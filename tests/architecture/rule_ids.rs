//! Every id that a finding can carry is in the table of rules, with its page; every id of the table is used.

use std::collections::BTreeMap;

use super::rust_text::{RustFile, sources};
use kitwright::check::{RULES, Run};

/// Findings whose id stands elsewhere than at the call: the file, what stands in its place, and the ids it may be. Each
/// of them stands in that file.
const ELSEWHERE: &[(&str, &str, &[&str])] = &[
    ("src/check/rule.rs", "self.id", &[]),
    ("src/model/lower/fields.rs", "NO_UNIT", &["value-without-unit"]),
    ("src/model/lower/read.rs", "fields::NO_UNIT", &[]),
    ("src/model/lower/read.rs", "rule", &["outside-folder", "file-too-large", "unreadable-file"]),
];

const CALLS: [&str; 3] = ["Diagnostic::error(", "Diagnostic::warning(", "Diagnostic::new("];

/// Where each id is used, by id; and faults of what can't be told.
fn used<'a>(
    files: &'a [RustFile],
    elsewhere: &[(&'a str, &str, &'a [&'a str])],
) -> (BTreeMap<&'a str, String>, Vec<String>) {
    let (mut ids, mut faults) = (BTreeMap::new(), Vec::new());
    let mut met = vec![false; elsewhere.len()];
    for file in files.iter().filter(|f| !f.path.starts_with("src/diag/")) {
        let lines: Vec<&str> = file.text.lines().collect();
        for (number, code) in file.lines_outside_tests() {
            let Some(call) = CALLS.iter().find(|call| code.contains(**call)) else { continue };
            let rest = lines[number - 1].split_once(call).map_or("", |(_, rest)| rest);
            let rest = if rest.trim().is_empty() { lines.get(number).map_or("", |l| l.trim()) } else { rest };
            let place = format!("{}:{number}", file.path);
            if let Some((id, _)) = rest.strip_prefix('"').and_then(|rest| rest.split_once('"')) {
                ids.entry(id).or_insert(place);
                continue;
            }
            let argument = rest.split(',').next().unwrap_or("").trim();
            match elsewhere.iter().position(|(path, what, _)| *path == file.path && *what == argument) {
                Some(at) => met[at] = true,
                None => faults.push(format!("{place}: which rule is `{argument}`? Write its id here")),
            }
        }
    }
    for (&(path, what, named), met) in elsewhere.iter().zip(met) {
        let text = files.iter().find(|f| f.path == path).map_or("", |f| f.text.as_str());
        for id in named.iter().filter(|id| text.contains(&format!("\"{id}\""))) {
            ids.entry(id).or_insert(path.to_owned());
        }
        let lacks = named.iter().any(|id| !text.contains(&format!("\"{id}\"")));
        if lacks || !met {
            faults.push(format!("{path} makes no finding of `{what}` with all those ids; take the row out or mend it"));
        }
    }
    (ids, faults)
}

/// `table` holds each id, and whether its own function finds it.
fn faults(table: &[(&str, bool)], files: &[RustFile], elsewhere: &[(&str, &str, &[&str])]) -> Vec<String> {
    let (used, mut faults) = used(files, elsewhere);
    for (id, place) in &used {
        if !table.iter().any(|(known, _)| known == id) {
            faults.push(format!("{place}: `{id}` has no page; add src/check/rules/{}.rs", id.replace('-', "_")));
        }
    }
    for (id, by_itself) in table {
        // A rule that is found on paper is named by its constant.
        let constant = format!("{}::RULE", id.replace('-', "_"));
        let named = || {
            files.iter().any(|f| {
                !f.path.ends_with("/rules/mod.rs") && !f.path.ends_with("/rule_table.rs") && f.code.contains(&constant)
            })
        };
        let own = format!("src/check/rules/{}.rs", id.replace('-', "_"));
        let finds = || files.iter().any(|f| f.path == own && f.code.contains("RULE.found("));
        if !by_itself && !used.contains_key(id) && !named() && !finds() {
            faults.push(format!("`{id}` is in the table of rules and nothing finds it"));
        }
    }
    faults
}

#[test]
fn every_id_has_a_page_and_every_page_is_of_an_id() {
    let by_itself = |run: &Run| matches!(run, Run::Manual(_) | Run::Configuration(_) | Run::Placed(_));
    let table: Vec<_> = RULES.iter().map(|rule| (rule.id, by_itself(&rule.run))).collect();
    let files = sources();
    assert!(used(&files, ELSEWHERE).0.len() > 50, "the findings of src were not found");
    let faults = faults(&table, &files, ELSEWHERE);
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn finds_each_planted_fault() {
    let table = &[("bad-bolt", false), ("on-paper", false), ("own-look", true), ("settled", false)];
    let sound = || {
        vec![
            RustFile::new("src/syntax/a.rs", "//! A.\nfn f() { Diagnostic::error(\"bad-bolt\", x) }\n"),
            RustFile::new("src/compile/b.rs", "fn g() { rules::on_paper::RULE.found(x) }\n"),
            RustFile::new("src/check/rules/settled.rs", "fn g() { RULE.found(x) }\n"),
        ]
    };
    assert_eq!(faults(table, &sound(), &[]), Vec::<String>::new());
    let with = |text: &str| {
        let mut files = sound();
        files.push(RustFile::new("src/syntax/c.rs", text));
        faults(table, &files, &[])
    };
    for text in [
        "#[cfg(test)]\nmod testing;\n\nfn f() { Diagnostic::error(\"new-id\", x) }\n",
        "\n\n\nlet d = Diagnostic::warning(\n    \"new-id\",\n    x);\n",
    ] {
        assert_eq!(with(text), ["src/syntax/c.rs:4: `new-id` has no page; add src/check/rules/new_id.rs"]);
    }
    assert_eq!(
        with("fn f() { Diagnostic::new(which, x) }\n"),
        ["src/syntax/c.rs:1: which rule is `which`? Write its id here"]
    );
    assert!(with("#[cfg(test)]\nmod tests {\n    fn f() { Diagnostic::error(\"r\", x) }\n}\n").is_empty());
    assert_eq!(faults(table, &sound()[1..], &[]), ["`bad-bolt` is in the table of rules and nothing finds it"]);
    assert_eq!(
        faults(table, &sound(), &[("src/syntax/a.rs", "gone", &[])]),
        ["src/syntax/a.rs makes no finding of `gone` with all those ids; take the row out or mend it"]
    );
}
