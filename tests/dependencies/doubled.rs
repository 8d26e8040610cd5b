//! Crates that are built in two versions: each is on the list with its reason, and no other is.

use std::collections::{BTreeMap, BTreeSet};

use super::metadata::{Crate, Metadata, metadata};

/// Name, the versions that are there together (as far as they make a difference to cargo), and why both stay. A row
/// that no longer holds is taken out.
const STAY: &[(&str, &[&str], &str)] = &[
    ("base64", &["0.22", "0.23"], "printpdf wants the older, usvg the newer; a few kilobytes"),
    ("heck", &["0.4", "0.5"], "while macros are built only: ouroboros wants the older, clap the newer"),
    ("miniz_oxide", &["0.8", "0.9"], "png wants the older, flate2 the newer"),
    ("syn", &["2", "3"], "while macros are built only: half of them have not moved on"),
];

/// The part of a version that tells cargo whether two can be one: `1`, or `0.4` below 1.
fn kind(version: &str) -> &str {
    let parts = if version.starts_with("0.") { 2 } else { 1 };
    version.match_indices('.').nth(parts - 1).map_or(version, |(at, _)| &version[..at])
}

fn faults(stay: &[(&str, &[&str], &str)], all: &Metadata) -> Vec<String> {
    let mut versions: BTreeMap<&str, Vec<&Crate>> = BTreeMap::new();
    for c in &all.crates {
        versions.entry(&c.name).or_default().push(c);
    }
    let mut faults = Vec::new();
    for (name, crates) in versions.iter().filter(|(_, crates)| crates.len() > 1) {
        let there: BTreeSet<&str> = crates.iter().map(|c| kind(&c.version)).collect();
        let listed =
            stay.iter().find(|(listed, ..)| listed == name).map(|(_, listed, _)| listed.iter().copied().collect());
        if there.len() == crates.len() && listed == Some(there) {
            continue;
        }
        let wanted = crates.iter().map(|c| {
            let by = all.wanted_by.get(&c.named()).map(|by| by.iter().cloned().collect::<Vec<_>>().join(", "));
            format!("{} for {}", c.version, by.unwrap_or_default())
        });
        faults.push(format!(
            "`{name}` is there more than once: {}; make them one, or say in the list why they stay",
            wanted.collect::<Vec<_>>().join("; ")
        ));
    }
    for (name, ..) in stay.iter().filter(|(name, ..)| versions.get(name).is_none_or(|crates| crates.len() < 2)) {
        faults.push(format!("`{name}` is there once now; take it out of the list"));
    }
    faults
}

#[test]
fn no_crate_is_there_twice_without_a_reason() {
    let faults = faults(STAY, metadata());
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(STAY.iter().all(|(_, versions, why)| versions.len() > 1 && !why.is_empty()));
}

#[test]
fn finds_each_planted_version() {
    let all = |versions: &[&str]| {
        let crates: Vec<Crate> = versions
            .iter()
            .map(|v| Crate { name: "fonts".to_owned(), version: (*v).to_owned(), ..Crate::default() })
            .collect();
        let wanted_by = crates.iter().map(|c| (c.named(), BTreeSet::from(["printer 1.0.0".to_owned()]))).collect();
        Metadata { crates, direct: Vec::new(), wanted_by }
    };
    let list: &[(&str, &[&str], &str)] = &[("fonts", &["0.1", "0.2"], "so it is")];
    assert!(faults(list, &all(&["0.1.7", "0.2.9"])).is_empty());
    assert!(faults(&[], &all(&["0.1.7"])).is_empty());
    assert_eq!(
        faults(&[], &all(&["0.1.7", "0.2.9"])),
        [
            "`fonts` is there more than once: 0.1.7 for printer 1.0.0; 0.2.9 for printer 1.0.0; make them one, or say in \
          the list why they stay"
        ]
    );
    assert_eq!(faults(list, &all(&["0.1.7", "0.3.0"])).len(), 1, "another version than the listed");
    assert_eq!(faults(list, &all(&["0.1.7", "0.2.9", "0.3.0"])).len(), 1, "a third version");
    assert_eq!(faults(list, &all(&["0.2.9"])), ["`fonts` is there once now; take it out of the list"]);
    assert_eq!([kind("0.22.1"), kind("1.0.154"), kind("12.0.0")], ["0.22", "1", "12"]);
}
