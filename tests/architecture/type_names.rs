//! A reader knows from its name which type is meant.

use std::collections::BTreeMap;

use super::rust_text::{RustFile, sources};

/// Names that several types share, and why.
const SHARED: &[(&str, &str)] =
    &[("Drawing", "a picture as vectors or pixels inside `figure`, and what `drawing` makes; neither sees the other")];

/// Types that other modules see, by name, with the files that define them.
fn visible_types(files: &[RustFile]) -> BTreeMap<String, Vec<String>> {
    let mut types: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for file in files {
        for (number, line) in file.lines_outside_tests() {
            if let Some(name) = visible_type(line) {
                types.entry(name.to_owned()).or_default().push(format!("{}:{number}", file.path));
            }
        }
    }
    types
}

/// The type that a line makes and lets others see. Types of a trait or a function are indented and private to it.
fn visible_type(line: &str) -> Option<&str> {
    let rest = line.strip_prefix("pub")?;
    let rest = match rest.strip_prefix('(') {
        Some(inside) => inside.split_once(')')?.1,
        None => rest,
    };
    let (what, rest) = rest.strip_prefix(' ')?.split_once(' ')?;
    let name = rest.split(|c: char| !c.is_alphanumeric() && c != '_').next()?;
    matches!(what, "struct" | "enum" | "trait" | "type" | "union").then_some(name)
}

/// What has one name in several places without a reason, and reasons without a case.
fn faults(types: &BTreeMap<String, Vec<String>>, shared: &[(&str, &str)]) -> Vec<String> {
    let reason = |name: &str| shared.iter().any(|(known, _)| *known == name);
    let twice = types.iter().filter(|(name, places)| places.len() > 1 && !reason(name));
    let twice = twice.map(|(name, places)| format!("`{name}` is the name of several types: {}", places.join(", ")));
    let once = shared.iter().filter(|(name, _)| types.get(*name).is_none_or(|places| places.len() < 2));
    twice.chain(once.map(|(name, _)| format!("`{name}` is shared no longer; take it off the list"))).collect()
}

#[test]
fn no_two_types_that_others_see_have_one_name() {
    let types = visible_types(&sources());
    assert!(types.len() > 300, "only {} types were found", types.len());
    let faults = faults(&types, SHARED);
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn a_second_type_of_a_name_is_found() {
    let file = |path: &str, code: &str| RustFile { path: path.into(), text: code.into(), code: code.into() };
    let one = file("src/a.rs", "pub struct Row {\n    pub type_: u8,\n}\nenum Own {}\npub fn row() {}\n");
    let two = file("src/b.rs", "pub(super) enum Row {\n    A,\n}\nstruct Own;\n#[cfg(test)]\npub struct Row;\n");
    let types = visible_types(&[one, two]);
    assert_eq!(faults(&types, &[]), ["`Row` is the name of several types: src/a.rs:1, src/b.rs:1"]);
    assert!(faults(&types, &[("Row", "two sides")]).is_empty());
    assert_eq!(faults(&BTreeMap::new(), &[("Row", "two sides")]), ["`Row` is shared no longer; take it off the list"]);
}
