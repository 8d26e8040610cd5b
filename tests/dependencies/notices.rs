//! The notices of all crates in the program, which go on every stick. The file is made here: with `KITWRIGHT_BLESS=1`
//! it is written anew, and without it the test fails when the file is stale.

use std::collections::BTreeSet;
use std::path::Path;

use super::licences::{ALLOWED, taken};
use super::metadata::{Crate, metadata};
use super::texts::{Text, bare, texts};

const FILE: &str = "src/emit/stick/crates.txt";

/// Crates whose packages bring no text of their licence. They stand with the text as others bring it. Whoever states no
/// copyright is named as the manifest does.
const WITHOUT_TEXT: [&str; 3] = ["alloc-stdlib", "pathfinder_geometry", "pathfinder_simd"];

const HEAD: &str = "\
The program that made these documents, kitwright, is built from the crates listed here. Each stands with its version,
the licence under which it is used, and whose work it is. The numbers in brackets lead to the texts below, each of which
stands once.

This software is based in part on the work of the Independent JPEG Group.

std, which comes with the compiler (rustc), MIT [1]
    Copyright (c) The Rust Project Contributors
";

/// The texts met so far, each once.
#[derive(Default)]
struct Shelf {
    texts: Vec<Text>,
}

impl Shelf {
    /// The number of a text, from 1.
    fn number(&mut self, text: Text) -> usize {
        let key = bare(&text.body);
        let at = self.texts.iter().position(|t| bare(&t.body) == key);
        at.unwrap_or_else(|| {
            self.texts.push(text);
            self.texts.len() - 1
        }) + 1
    }
}

/// The notices of crates, each with the texts of its folder; and what can't be told of one.
fn notices(crates: Vec<(&Crate, Vec<Text>)>, without_text: &[&str]) -> Result<String, Vec<String>> {
    let allowed: Vec<&str> = ALLOWED.iter().map(|(id, _)| *id).collect();
    let mut shelf = Shelf::default();
    let mut faults = Vec::new();
    let mut out = String::from(HEAD);
    // The commonest text is the first.
    if let Some(text) = crates.iter().flat_map(|(_, texts)| texts).find(|t| t.licences == BTreeSet::from(["MIT"])) {
        shelf.number(Text { licences: text.licences.clone(), copyright: Vec::new(), body: text.body.clone() });
    }
    let mut bare_of_text = Vec::new();
    for (c, texts) in crates {
        let there: BTreeSet<&str> = texts.iter().flat_map(|t| t.licences.iter().copied()).collect();
        let Some(ids) = taken(&c.licence, &allowed, &|id| there.contains(id)) else { continue };
        let mut said: Vec<String> = Vec::new();
        let mut numbers = BTreeSet::new();
        for text in texts {
            if !text.licences.is_empty() && !text.licences.iter().any(|id| ids.contains(id)) {
                continue;
            }
            said.extend(text.copyright.iter().filter(|line| !said.contains(line)).cloned().collect::<Vec<_>>());
            numbers.insert(shelf.number(text));
        }
        if !ids.iter().all(|id| there.contains(id)) {
            if !without_text.contains(&c.name.as_str()) {
                faults.push(format!("{} brings no text of {}", c.named(), ids.join(" and ")));
            }
            bare_of_text.push(c.name.as_str());
            let borrowed = shelf.texts.iter().position(|t| ids.iter().all(|id| t.licences.contains(id)));
            match borrowed {
                Some(at) => _ = numbers.insert(at + 1),
                None => faults.push(format!("{}: no crate before it brings the text of {}", c.named(), ids.join(", "))),
            }
        }
        if said.is_empty() && !c.authors.is_empty() {
            said.push(format!("by {}", c.authors.join(", ")));
        }
        let numbers: Vec<_> = numbers.iter().map(|n| format!("[{n}]")).collect();
        out.push_str(&format!("\n{}, {} {}\n", c.named(), ids.join(" and "), numbers.join(" ")));
        out.extend(said.iter().map(|line| format!("    {line}\n")));
    }
    let idle = without_text.iter().filter(|name| !bare_of_text.contains(name));
    faults.extend(idle.map(|name| format!("`{name}` brings its text now, or is gone; take it out of the list")));
    for (i, text) in shelf.texts.iter().enumerate() {
        let ids: Vec<_> = text.licences.iter().copied().collect();
        let title = if ids.is_empty() { "a notice".to_owned() } else { ids.join(", ") };
        out.push_str(&format!("\n{}\n[{}] {title}\n\n{}\n", "-".repeat(72), i + 1, text.body));
    }
    if faults.is_empty() { Ok(out) } else { Err(faults) }
}

#[test]
fn the_notices_are_those_of_the_crates() {
    let linked: Vec<_> = metadata().crates.iter().filter(|c| c.linked).map(|c| (c, texts(&c.folder))).collect();
    assert!(linked.len() > 100, "only {} crates were found", linked.len());
    let new = notices(linked, &WITHOUT_TEXT).unwrap_or_else(|faults| panic!("{}", faults.join("\n")));
    assert!(new.len() < 120_000, "{} bytes of notices; are texts there twice?", new.len());
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(FILE);
    if std::env::var_os("KITWRIGHT_BLESS").is_some() {
        std::fs::write(&path, new).expect("the notices can be written");
        return;
    }
    let old = std::fs::read_to_string(&path).unwrap_or_default();
    let differs = old.lines().zip(new.lines()).find(|(a, b)| a != b);
    assert!(
        old == new,
        "{FILE} is stale, first here: {differs:?}; run this test with KITWRIGHT_BLESS=1 and read the difference"
    );
}

#[test]
fn each_text_stands_once_and_each_crate_with_its_own_lines() {
    let named = |name: &str, licence: &str| Crate {
        name: name.to_owned(),
        version: "1.2.3".to_owned(),
        licence: licence.to_owned(),
        authors: vec!["Ann".to_owned()],
        ..Crate::default()
    };
    let mit = |who: &str| Text {
        licences: BTreeSet::from(["MIT"]),
        copyright: vec![format!("Copyright {who}")],
        body: "Permission is granted.\nKeep this.".to_owned(),
    };
    let apache = || Text { licences: BTreeSet::from(["Apache-2.0"]), copyright: vec![], body: "Terms.".to_owned() };
    let (a, b, c) = (named("a", "MIT OR Apache-2.0"), named("b", "MIT"), named("c", "Apache-2.0 OR MIT"));
    let made =
        |list, without: &[&str]| notices(list, without).map(|text| text.strip_prefix(HEAD).expect("it").to_owned());
    let list = || vec![(&a, vec![apache(), mit("A")]), (&b, vec![mit("B")]), (&c, vec![apache()])];
    let rule = "-".repeat(72);
    assert_eq!(
        made(list(), &[]).expect("notices"),
        format!(
            "\na 1.2.3, MIT [1]\n    Copyright A\n\nb 1.2.3, MIT [1]\n    Copyright B\n\nc 1.2.3, Apache-2.0 [2]\n    by Ann\n\n{rule}\n[1] \
             MIT\n\nPermission is granted.\nKeep this.\n\n{rule}\n[2] Apache-2.0\n\nTerms.\n"
        )
    );
    let lacks = || vec![(&a, vec![mit("A")]), (&b, vec![])];
    assert_eq!(made(lacks(), &[]), Err(vec!["b 1.2.3 brings no text of MIT".to_owned()]));
    assert!(made(lacks(), &["b"]).expect("notices").contains("b 1.2.3, MIT [1]\n    by Ann\n"));
    assert_eq!(
        made(list(), &["b"]),
        Err(vec!["`b` brings its text now, or is gone; take it out of the list".to_owned()])
    );
}
