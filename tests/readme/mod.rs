//! The reference is made from the code; this test fails when it is stale. With KITWRIGHT_BLESS=1 it is written anew: read
//! the difference before you commit it.

use std::path::Path;

const HEAD: &str = "# Reference\n\nEvery key, column and rule. Made from the code, and held against it by a test; `kitwright keys NAME` and `kitwright rules NAME` say the same.\n\n## Keys and columns\n\n";

#[test]
fn the_reference_is_what_the_code_says() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(".readme/reference.md");
    let rules = kitwright::check::reference::table();
    let new = format!("{HEAD}{}## Rules\n\n{rules}", kitwright::model::reference());
    if std::env::var_os("KITWRIGHT_BLESS").is_some() {
        std::fs::write(&path, new).expect("the reference can be written");
        return;
    }
    let old = std::fs::read_to_string(&path).expect("the reference is there");
    assert!(old == new, ".readme/reference.md is stale; run this test with KITWRIGHT_BLESS=1 and read the difference");
}

/// A person who arrives reads it to the end.
#[test]
fn the_readme_is_short() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md");
    let length = std::fs::metadata(path).expect("README.md is there").len();
    assert!(length <= 18 * 1024, "README.md has {length} bytes; what is for later belongs into .readme/guide.md");
}

/// Every dependency of Cargo.toml has its reason in the table.
#[test]
fn every_dependency_has_its_reason() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let manifest = std::fs::read_to_string(root.join("Cargo.toml")).expect("Cargo.toml is there");
    let readme = std::fs::read_to_string(root.join("README.md")).expect("README.md is there");
    let table =
        readme.split_once("## Dependencies").and_then(|(_, t)| t.split_once("\n## ")).expect("there is a table").0;
    let mut section = "";
    let mut missing = Vec::new();
    for line in manifest.lines() {
        if let Some(name) = line.strip_prefix('[') {
            section = name.trim_end_matches(']');
        } else if matches!(section, "dependencies" | "dev-dependencies")
            && let Some((name, _)) = line.split_once('=')
            && !table.contains(&format!("`{}`", name.trim()))
        {
            missing.push(name.trim().to_owned());
        }
    }
    assert!(missing.is_empty(), "without a reason in README.md: {missing:?}");
}
