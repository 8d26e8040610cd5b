//! Every crate may be used under a licence that is on the list.
//!
//! Identifiers and expressions are those of the SPDX specification 2.3 (ISO/IEC 5962), annex D; a `/` in the place of
//! `OR` is how manifests wrote it before.

use super::metadata::{Crate, metadata};

/// What a crate may ask of us, and why that is no burden. A row that nothing needs is taken out.
pub const ALLOWED: &[(&str, &str)] = &[
    ("MIT", "asks for its notice"),
    ("Zlib", "asks for nothing of what is built from it"),
    ("BSD-2-Clause", "asks for its notice"),
    ("BSD-3-Clause", "asks for its notice, and not to advertise with names"),
    ("Unicode-3.0", "asks for its notice; it covers tables of characters"),
    ("IJG", "asks for a sentence in the documentation; it covers tables of a JPEG encoder"),
    ("Apache-2.0", "asks for its text and for notices that come with the code"),
];

/// Which licences of an expression are taken, all of which hold; none where the list has no way through. `there` says
/// of a licence whether the crate brings its text: of two that are allowed, the one with a text is taken.
pub fn taken<'a>(expression: &str, allowed: &[&'a str], there: &dyn Fn(&str) -> bool) -> Option<Vec<&'a str>> {
    let spaced = expression.replace('/', " OR ").replace('(', " ( ").replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut rest = words.as_slice();
    let taken = any(&mut rest, allowed, there)?;
    rest.is_empty().then_some(taken?)
}

type Taken<'a> = Option<Vec<&'a str>>;

/// `a OR b`: the best that is allowed. The outer option is none where the expression can't be read.
fn any<'a>(words: &mut &[&str], allowed: &[&'a str], there: &dyn Fn(&str) -> bool) -> Option<Taken<'a>> {
    let mut ways = vec![all(words, allowed, there)?];
    while let Some((&"OR", rest)) = words.split_first() {
        *words = rest;
        ways.push(all(words, allowed, there)?);
    }
    let rank = |way: &Vec<&str>| {
        let at = |id: &&str| allowed.iter().position(|a| a == id).unwrap_or(usize::MAX);
        (!way.iter().all(|id| there(id)), way.iter().map(at).max())
    };
    Some(ways.into_iter().flatten().min_by_key(rank))
}

/// `a AND b`: both.
fn all<'a>(words: &mut &[&str], allowed: &[&'a str], there: &dyn Fn(&str) -> bool) -> Option<Taken<'a>> {
    let mut taken = one(words, allowed, there)?;
    while let Some((&"AND", rest)) = words.split_first() {
        *words = rest;
        let next = one(words, allowed, there)?;
        taken = taken.zip(next).map(|(a, b)| [a, b].concat());
    }
    Some(taken)
}

/// An identifier, with an exception or without, or an expression in parentheses.
fn one<'a>(words: &mut &[&str], allowed: &[&'a str], there: &dyn Fn(&str) -> bool) -> Option<Taken<'a>> {
    let (first, rest) = words.split_first()?;
    *words = rest;
    if *first == "(" {
        let inner = any(words, allowed, there)?;
        let (&")", rest) = words.split_first()? else { return None };
        *words = rest;
        return Some(inner);
    }
    if matches!(*first, ")" | "OR" | "AND" | "WITH") {
        return None;
    }
    if let Some((&"WITH", rest)) = words.split_first() {
        *words = rest.split_first()?.1;
        return Some(None);
    }
    Some(allowed.iter().find(|a| *a == first).map(|a| vec![*a]))
}

/// What is wrong between the list and the crates.
fn faults(allowed: &[(&str, &str)], crates: &[Crate]) -> Vec<String> {
    let ids: Vec<&str> = allowed.iter().map(|(id, _)| *id).collect();
    let fits = |c: &Crate, ids: &[&str]| taken(&c.licence, ids, &|_| true).is_some();
    let refused = crates.iter().filter(|c| !fits(c, &ids)).map(|c| {
        let licence = if c.licence.is_empty() { "no licence" } else { &c.licence };
        format!("{} comes under {licence}, which is not on the list of licences", c.named())
    });
    let idle = ids.iter().filter(|id| {
        let others: Vec<&str> = ids.iter().copied().filter(|other| other != *id).collect();
        crates.iter().all(|c| fits(c, &others))
    });
    refused.chain(idle.map(|id| format!("no crate needs the licence {id}; take it out of the list"))).collect()
}

#[test]
fn every_crate_has_a_licence_of_the_list() {
    let faults = faults(ALLOWED, &metadata().crates);
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn reads_expressions() {
    let taken = |expression| taken(expression, &["MIT", "BSD-3-Clause", "Apache-2.0"], &|_| true);
    assert_eq!(taken("Apache-2.0 OR MIT"), Some(vec!["MIT"]));
    assert_eq!(taken("BSD-3-Clause/GPL-3.0-only"), Some(vec!["BSD-3-Clause"]));
    assert_eq!(taken("(GPL-2.0-only OR MIT) AND BSD-3-Clause"), Some(vec!["MIT", "BSD-3-Clause"]));
    assert_eq!(taken("Apache-2.0 WITH LLVM-exception OR MIT"), Some(vec!["MIT"]));
    for refused in ["MIT AND GPL-3.0-only", "", "MIT OR", "(MIT", "MIT MIT", "Apache-2.0 WITH LLVM-exception", "OR"] {
        assert_eq!(taken(refused), None, "{refused}");
    }
    let texts = |id: &str| id == "Apache-2.0";
    assert_eq!(super::licences::taken("MIT OR Apache-2.0", &["MIT", "Apache-2.0"], &texts), Some(vec!["Apache-2.0"]));
}

#[test]
fn finds_a_planted_licence() {
    let named = |name: &str, licence: &str| Crate {
        name: name.to_owned(),
        version: "1.0.0".to_owned(),
        licence: licence.to_owned(),
        ..Crate::default()
    };
    let list = &[("MIT", "")];
    assert_eq!(faults(list, &[named("fine", "MIT OR GPL-3.0-only")]), Vec::<String>::new());
    assert_eq!(
        faults(list, &[named("fine", "MIT"), named("strict", "GPL-3.0-only"), named("silent", "")]),
        [
            "strict 1.0.0 comes under GPL-3.0-only, which is not on the list of licences",
            "silent 1.0.0 comes under no licence, which is not on the list of licences"
        ]
    );
    assert_eq!(
        faults(&[("MIT", ""), ("Zlib", "")], &[named("fine", "MIT OR Zlib"), named("plain", "MIT")]),
        ["no crate needs the licence Zlib; take it out of the list"]
    );
}
