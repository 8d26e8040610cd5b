//! The licence texts in the folder of a crate: which licence a text is, whose copyright it states, and what of it is
//! the same in every crate.

use std::collections::BTreeSet;
use std::path::Path;

/// A text of a crate's folder.
#[derive(Debug, PartialEq, Eq)]
pub struct Text {
    /// The licences it contains, by their SPDX identifiers; none where it is a notice.
    pub licences: BTreeSet<&'static str>,
    /// Lines that state a copyright and are not part of the body.
    pub copyright: Vec<String>,
    pub body: String,
}

/// What stands in a licence and in no other.
const MARKS: &[(&str, &str)] = &[
    ("MIT", "abovecopyrightnoticeandthispermissionnotice"),
    ("MIT-0", "permitpersonstowhomthesoftwareisfurnishedtodosothesoftwareisprovided"),
    ("Apache-2.0", "termsandconditionsforusereproductionanddistribution"),
    ("BSD-2-Clause", "redistributionanduseinsourceandbinaryforms"),
    ("BSD-3-Clause", "maybeusedtoendorseorpromoteproducts"),
    ("Zlib", "alteredsourceversionsmustbeplainlymarked"),
    ("Unicode-3.0", "unicodelicensev3"),
    ("IJG", "independentjpeggroup"),
    ("0BSD", "permissiontousecopymodifyandordistributethissoftware"),
    ("BSL-1.0", "boostsoftwarelicenseversion10"),
    ("CC0-1.0", "cc010universal"),
    ("Unlicense", "freeandunencumberedsoftware"),
];

/// The letters and digits of a text, small: what is left where two layouts of one text differ in nothing else.
pub fn bare(text: &str) -> String {
    text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// The texts of a crate's folder, by the names of their files. What only points to another file is left out.
pub fn texts(folder: &Path) -> Vec<Text> {
    let mut files = Vec::new();
    for path in entries(folder) {
        let name = path.file_name().unwrap_or_default().to_string_lossy().to_lowercase();
        let about = ["license", "licence", "unlicense", "copying", "notice", "copyright"];
        if !about.iter().any(|start| name.trim_start_matches('.').starts_with(start)) {
            continue;
        }
        if path.is_dir() {
            files.extend(entries(&path));
        } else {
            files.push(path);
        }
    }
    let read = |path| std::fs::read_to_string(path).expect("a licence is readable text");
    files.iter().map(|path| split(&read(path))).filter(|t| !t.licences.is_empty() || says_whose(t)).collect()
}

fn says_whose(text: &Text) -> bool {
    !text.copyright.is_empty() || text.body.to_lowercase().contains("copyright")
}

fn entries(folder: &Path) -> Vec<std::path::PathBuf> {
    let entries = std::fs::read_dir(folder).unwrap_or_else(|e| panic!("{}: {e}", folder.display()));
    let mut paths: Vec<_> = entries.map(|entry| entry.expect("an entry").path()).collect();
    paths.sort();
    paths
}

/// Takes a text apart.
pub fn split(text: &str) -> Text {
    let text = text.trim_start_matches('\u{feff}').replace("\r\n", "\n");
    let whole = bare(&text);
    let mut licences: BTreeSet<&str> = MARKS.iter().filter(|(_, m)| whole.contains(m)).map(|(id, _)| *id).collect();
    if licences.contains("BSD-3-Clause") {
        licences.remove("BSD-2-Clause");
    }
    let one = licences.len() == 1;
    let mut copyright = Vec::new();
    let mut body: Vec<&str> = Vec::new();
    let apache = if one && licences.contains("Apache-2.0") { apache_terms(&text) } else { None };
    let mut lines: Vec<&str> = text.lines().map(str::trim_end).collect();
    if let Some((terms, appendix)) = apache {
        copyright.extend(appendix.lines().filter_map(statement));
        lines = terms.lines().map(str::trim_end).collect();
    }
    for line in lines {
        match statement(line) {
            Some(said) if one => copyright.push(said),
            _ if one && HEADINGS.contains(&bare(line).as_str()) => {}
            _ => body.push(line),
        }
    }
    let first = body.iter().position(|l| !l.is_empty()).unwrap_or(body.len());
    let body = body[first..].join("\n").trim_end().to_owned();
    Text { licences, copyright, body }
}

/// Titles that some copies of the text have and others lack.
const HEADINGS: [&str; 4] = ["mitlicense", "themitlicense", "themitlicensemit", "mitlicensemit"];

/// A line that states whose the copyright is.
fn statement(line: &str) -> Option<String> {
    let line = line.trim().trim_matches(['*', '_']).trim();
    let small = line.to_lowercase();
    // `(c) You must retain` is a clause of a list.
    let year = small.strip_prefix("(c) ").is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
    let starts = year || ["copyright ", "©", "all rights reserved"].iter().any(|start| small.starts_with(start));
    let talks = ["copyright notice", "copyright holder", "copyright owner", "copyright license", "copyright and "];
    let blank = small.contains("yyyy") || small.contains("[year]");
    (starts && !blank && !talks.iter().any(|t| small.starts_with(t))).then(|| line.to_owned())
}

/// The terms of the Apache License alone, and the appendix behind them, where there is nothing else in the text.
fn apache_terms(text: &str) -> Option<(&str, &str)> {
    const END: &str = "END OF TERMS AND CONDITIONS";
    let start = text.find("TERMS AND CONDITIONS FOR USE")?;
    let end = text.find(END)? + END.len();
    let title = bare(&text[..start]);
    let title = title.replace("https", "http");
    let plain = title == "apachelicenseversion20january2004httpwwwapacheorglicenses";
    let rest = bare(&text[end..]);
    let known = rest.is_empty() || rest.starts_with("appendixhowtoapplytheapachelicensetoyourwork");
    let ends = rest.is_empty() || rest.ends_with("limitationsunderthelicense");
    (plain && known && ends).then(|| (text[..end].trim_start_matches('\n'), &text[end..]))
}

#[test]
fn takes_a_text_apart() {
    let mit = "The MIT License (MIT)\r\n\r\nCopyright (c) 2031 Ann Example\r\n\r\nPermission is hereby granted, ...\r\nThe \
               above copyright notice and this\r\npermission notice shall be included.\r\n";
    let text = split(mit);
    assert_eq!(text.licences, BTreeSet::from(["MIT"]));
    assert_eq!(text.copyright, ["Copyright (c) 2031 Ann Example"]);
    assert!(text.body.starts_with("Permission is hereby granted") && text.body.ends_with("shall be included."));
    let both =
        split(&format!("{mit}\nCopyright 2030 B\n\nTERMS AND CONDITIONS FOR USE, REPRODUCTION, AND DISTRIBUTION"));
    assert_eq!(both.licences, BTreeSet::from(["MIT", "Apache-2.0"]));
    assert!(both.copyright.is_empty() && both.body.contains("Copyright 2030 B"), "a text of several stays whole");
    assert_eq!(statement("   Copyright [yyyy] [name of copyright owner]"), None);
    assert_eq!(statement("copyright notice that is included in"), None);
    assert_eq!(statement("  (c) You must retain, in the Source form"), None);
    assert_eq!(statement("(c) 2031 Ann Example").as_deref(), Some("(c) 2031 Ann Example"));
}
