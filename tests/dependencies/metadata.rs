//! The crates of `Cargo.lock` as `cargo metadata` tells of them.
//!
//! Of every system that the program is built for, whatever system the tests run on. Features that only tests ask for
//! are among them, so there may be a crate more than in the program, never one less.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;
use std::process::Command;
use std::sync::OnceLock;

use serde_json::Value;

const SYSTEMS: [&str; 3] = ["x86_64-unknown-linux-gnu", "x86_64-pc-windows-msvc", "aarch64-apple-darwin"];

/// A crate of a version.
#[derive(Clone, Debug, Default)]
pub struct Crate {
    pub name: String,
    pub version: String,
    /// The expression of its manifest; empty where it has none.
    pub licence: String,
    pub authors: Vec<String>,
    pub folder: PathBuf,
    /// Its code is part of the program: not a macro, nor what only builds or tests.
    pub linked: bool,
}

/// A dependency that Cargo.toml names.
#[derive(Clone, Debug)]
pub struct Direct {
    /// Its name in Cargo.toml.
    pub name: String,
    /// Its name in code.
    pub code: String,
    pub for_tests: bool,
}

#[derive(Debug)]
pub struct Metadata {
    /// All crates but the program's own, by name and version.
    pub crates: Vec<Crate>,
    pub direct: Vec<Direct>,
    /// Who depends on a crate, as `name version`.
    pub wanted_by: BTreeMap<String, BTreeSet<String>>,
}

impl Crate {
    pub fn named(&self) -> String {
        format!("{} {}", self.name, self.version)
    }
}

/// Asks cargo, once for all tests.
pub fn metadata() -> &'static Metadata {
    static READ: OnceLock<Metadata> = OnceLock::new();
    READ.get_or_init(|| {
        let mut cargo = Command::new(env!("CARGO"));
        cargo.args(["metadata", "--locked", "--format-version", "1", "--manifest-path"]);
        cargo.arg(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml"));
        for system in SYSTEMS {
            cargo.args(["--filter-platform", system]);
        }
        let output = cargo.output().expect("cargo runs");
        assert!(output.status.success(), "cargo metadata: {}", String::from_utf8_lossy(&output.stderr));
        read(&serde_json::from_slice(&output.stdout).expect("cargo metadata is JSON"))
    })
}

fn read(json: &Value) -> Metadata {
    let packages: BTreeMap<&str, &Value> = list(&json["packages"]).map(|p| (text(&p["id"]), p)).collect();
    let nodes: BTreeMap<&str, &Value> = list(&json["resolve"]["nodes"]).map(|n| (text(&n["id"]), n)).collect();
    let root = text(&json["resolve"]["root"]);

    let (mut linked, mut rest) = (BTreeSet::new(), vec![root]);
    while let Some(id) = rest.pop() {
        if !linked.insert(id) {
            continue;
        }
        for edge in list(&nodes[id]["deps"]) {
            let pkg = text(&edge["pkg"]);
            let normal = list(&edge["dep_kinds"]).any(|k| k["kind"].is_null());
            if normal && !is_macro(packages[pkg]) {
                rest.push(pkg);
            }
        }
    }

    let mut wanted_by: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (id, node) in &nodes {
        for edge in list(&node["deps"]) {
            let wanted = &packages[text(&edge["pkg"])];
            wanted_by.entry(named(wanted)).or_default().insert(named(packages[id]));
        }
    }
    let mut direct = Vec::new();
    for edge in list(&nodes[root]["deps"]) {
        direct.push(Direct {
            name: text(&packages[text(&edge["pkg"])]["name"]).to_owned(),
            code: text(&edge["name"]).to_owned(),
            for_tests: list(&edge["dep_kinds"]).all(|k| k["kind"] == "dev"),
        });
    }
    direct.sort_by(|a, b| a.name.cmp(&b.name));
    let mut crates: Vec<Crate> = packages
        .iter()
        .filter(|(id, _)| **id != root)
        .map(|(id, p)| Crate {
            name: text(&p["name"]).to_owned(),
            version: text(&p["version"]).to_owned(),
            licence: p["license"].as_str().unwrap_or_default().to_owned(),
            authors: list(&p["authors"]).map(|a| text(a).to_owned()).collect(),
            folder: PathBuf::from(text(&p["manifest_path"])).parent().expect("a folder").to_path_buf(),
            linked: linked.contains(id),
        })
        .collect();
    crates.sort_by_key(|c| (c.name.clone(), version_key(&c.version)));
    Metadata { crates, direct, wanted_by }
}

fn is_macro(package: &Value) -> bool {
    list(&package["targets"]).any(|t| list(&t["kind"]).any(|k| k == "proc-macro"))
}

fn named(package: &Value) -> String {
    format!("{} {}", text(&package["name"]), text(&package["version"]))
}

/// 0.9 before 0.10.
fn version_key(version: &str) -> Vec<u64> {
    version.split(|c: char| !c.is_ascii_digit()).filter_map(|n| n.parse().ok()).collect()
}

fn list(value: &Value) -> impl Iterator<Item = &Value> {
    value.as_array().into_iter().flatten()
}

fn text(value: &Value) -> &str {
    value.as_str().expect("a string in what cargo metadata says")
}

#[test]
fn knows_what_is_linked_and_what_is_not() {
    let all = metadata();
    let linked = |name: &str| all.crates.iter().any(|c| c.name == name && c.linked);
    let there = |name: &str| all.crates.iter().any(|c| c.name == name);
    assert!(linked("memchr") && linked("serde_core"));
    for name in ["serde_derive", "proptest", "rust_xlsxwriter", "syn"] {
        assert!(there(name) && !linked(name), "{name}");
    }
    let exif = all.direct.iter().find(|d| d.name == "kamadak-exif").expect("a dependency");
    assert!(exif.code == "exif" && !exif.for_tests);
    assert!(all.direct.iter().any(|d| d.name == "tempfile" && d.for_tests));
}
