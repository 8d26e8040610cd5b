//! A file or folder of the manual, a variant or an option whose name a USB stick can't carry: a reserved name, a
//! character that is forbidden, a space or full stop at its end, more than 255 characters, a path of more than 260,
//! or a name that differs from another in nothing but the case of its letters.
//!
//! It matters because the stick is written on one machine and read on another: a file that can't be written is
//! missing in the garage, and of two names that differ in case one overwrites the other.
//!
//! Forbidden are `< > : " / \\ | ? *`, control characters and characters that are not seen; reserved are CON, PRN, AUX, NUL, COM1 to COM9 and LPT1
//! to LPT9, with or without an ending.
//!
//! Wrong: `figures/detail: A.svg`, `figures/Aux.svg`. Right: `figures/detail-a.svg`.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::Diagnostic;
use crate::diag::{Level, Sink};
use crate::units::{character_code, hidden};
use std::collections::{BTreeMap, BTreeSet};

pub const RULE: Rule = Rule {
    id: "file-name",
    level: Level::Error,
    summary: "a name that a USB stick can't carry",
    source: "names of FAT32 and exFAT: the published rules for naming files on them",
    bending: Leave::Refused,
    file: include_str!("file_name.rs"),
    run: Run::Manual(run),
};

/// UTF-16 units of a name.
const LONGEST_NAME: usize = 255;
/// UTF-16 units of a path; three are for the drive.
const LONGEST_PATH: usize = 260 - 3;
const RESERVED: [&str; 4] = ["CON", "PRN", "AUX", "NUL"];

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let mut folded: BTreeMap<String, &str> = BTreeMap::new();
    let mut reported: BTreeSet<&str> = BTreeSet::new();
    for path in &ctx.manual.paths {
        let mut end = 0;
        for name in path.split('/') {
            end += name.len();
            let upto = &path[..end];
            end += 1;
            let first = *folded.entry(upto.to_lowercase()).or_insert(upto);
            let fault = match fault(name) {
                Some(fault) => fault,
                None if first != upto => format!("differs from {first} only in the case of its letters"),
                None => continue,
            };
            if reported.insert(upto) {
                sink.push(finding(&format!("the name {upto}"), &fault).in_file(path.as_str()).about(upto));
            }
        }
        if path.encode_utf16().count() > LONGEST_PATH {
            let fault = format!("has more than {LONGEST_PATH} characters");
            sink.push(finding(&format!("the path {path}"), &fault).in_file(path.as_str()).about(path));
        }
    }
    let settings = &ctx.manual.settings;
    let variants = settings.variants.values().map(|v| ("variant", v.name.as_str(), v.name.span));
    let options = settings.options.values().map(|o| ("option", o.name.as_str(), o.name.span));
    let mut folded: BTreeMap<(&str, String), &str> = BTreeMap::new();
    for (what, name, span) in variants.chain(options) {
        let first = *folded.entry((what, name.to_lowercase())).or_insert(name);
        let fault = match fault(name) {
            // Other characters than letters and digits were reported in reading.
            Some(_) if !name.chars().all(char::is_alphanumeric) => continue,
            Some(fault) => fault,
            None if first != name => format!("differs from {first} only in the case of its letters"),
            None => continue,
        };
        sink.push(finding(&format!("the {what} {name}"), &fault).at(span, "becomes the name of a folder").about(name));
    }
    sink
}

fn finding(what: &str, fault: &str) -> Diagnostic {
    RULE.found(format!("{what} {fault}")).help("give it another name, of letters, digits, `-` and `_`")
}

/// Why a stick can't carry a name of a file or folder.
fn fault(name: &str) -> Option<String> {
    if let Some(c) = name.chars().find(|c| hidden(*c).is_some() || c.is_control() || "<>:\"/\\|?*".contains(*c)) {
        let shown = match hidden(c) {
            Some(what) => format!("{}, {what}", character_code(c)),
            None if c.is_control() => "a control character".to_owned(),
            None => format!("`{c}`"),
        };
        return Some(format!("holds {shown}, which a USB stick can't carry"));
    }
    if name.ends_with([' ', '.']) {
        return Some("ends in a space or a full stop, which a USB stick can't carry".to_owned());
    }
    let stem = name.split('.').next().unwrap_or(name).trim_end().to_uppercase();
    let port = |p: &str| stem.strip_prefix(p).is_some_and(|n| matches!(n.as_bytes(), [b'1'..=b'9']));
    if RESERVED.contains(&stem.as_str()) || port("COM") || port("LPT") {
        return Some("is a name that some machines keep for a device".to_owned());
    }
    (name.encode_utf16().count() > LONGEST_NAME).then(|| format!("has more than {LONGEST_NAME} characters"))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn names_of_files() {
        for (name, good) in [
            ("a.svg", true),
            ("aux.svg", false),
            ("COM1", false),
            ("COM10", true),
            ("a:b", false),
            ("a ", false),
            ("a.", false),
            ("auxiliary", true),
        ] {
            assert_eq!(super::fault(name).is_none(), good, "{name}");
        }
        assert!(super::fault(&"x".repeat(256)).is_some());
    }
    #[test]
    fn names_in_a_manual() {
        assert_eq!(sound().add("notes/AUX.txt", "x").findings(), ["file-name notes/AUX.txt"]);
        assert_eq!(sound().add("notes/a.txt", "x").add("notes/A.txt", "x").findings(), ["file-name notes/a.txt"]);
        assert_eq!(
            sound().edit("manual.yaml", "  rack: ", "  nul: { title: Rail }\n  rack: ").findings(),
            ["file-name manual.yaml `nul`"]
        );
    }
}
