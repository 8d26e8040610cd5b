//! The reference in README.md is made from the code; this test fails when it is stale. With KITWRIGHT_BLESS=1 it
//! is written anew: read the difference before you commit it.

use std::path::Path;

const OPEN: &str = "<!-- reference -->\n";
const CLOSE: &str = "<!-- end reference -->\n";

#[test]
fn the_reference_is_what_the_code_says() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md");
    let text = std::fs::read_to_string(&path).expect("README.md is there");
    let (before, rest) = text.split_once(OPEN).expect("the reference has a beginning");
    let (old, after) = rest.split_once(CLOSE).expect("the reference has an end");
    let new = format!("\n{}#### Rules\n\n{}\n", kitwright::model::reference(), kitwright::check::reference::table());
    if std::env::var_os("KITWRIGHT_BLESS").is_some() {
        std::fs::write(&path, format!("{before}{OPEN}{new}{CLOSE}{after}")).expect("README.md can be written");
    } else {
        assert!(
            old == new,
            "the reference in README.md is stale; run this test with KITWRIGHT_BLESS=1 and read the difference"
        );
    }
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
