//! The folder that is copied to a stick, and an archive of it.
//!
//! Owns: the start page, the note, the page that says how to check a copy, the checksums, the licences of the fonts
//! and of the program, and the archive. Must not know: how the documents in it were made, the disk.

mod archive;
mod font_licence;
mod names;
mod sums;

use std::collections::BTreeMap;

use super::EmitError;
use super::html::{Door, Templates, stick_page};
use crate::document::Meta;

pub use archive::archive;
pub use names::{BadName, portable};
pub use sums::{SUMS, SUMS_CHECK, SumsFault, digest_of, read_sums, write_sums, write_sums_check};

/// The page that a person opens first.
pub const START: &str = "START-HERE.html";
const NOTE: &str = "READ-ME.txt";
const CHECK: &str = "check-this-copy.html";
const LICENCES: &str = "licences/fonts.txt";
const NOTICES: &str = "licences/program.txt";

/// The licences and copyright lines of the crates that the program is built from. The tests make this file and fail
/// when it is stale (`tests/dependencies/notices.rs`).
const CRATES: &str = include_str!("crates.txt");

/// A font that stands in the documents.
pub struct UsedFont<'a> {
    /// What to call it where the file itself does not say.
    pub name: &'a str,
    pub bytes: &'a [u8],
}

/// What is on every stick, in the order shown, with what it is for.
const KNOWN: [(&str, &str, &str); 11] = [
    (
        "manual/index.html",
        "Build manual",
        "A page a step. Keeps your record: what is pulled, done, measured and signed.",
    ),
    ("manual/receiving.html", "Receiving list", "Count the crates against it when they arrive."),
    ("manual.pdf", "Build manual on paper", "The same in colour, to print."),
    ("shop-copy.pdf", "Shop copy", "Black and white for the bench, with boxes to tick."),
    ("templates.pdf", "Templates", "Full size. Print at 100 % and measure the check lines."),
    ("receiving-list.pdf", "Receiving list on paper", "To count the crates with a pencil."),
    ("receiving-list.csv", "Receiving list as a table", "What lies in the crates, for a spreadsheet program."),
    ("pick-lists.pdf", "Pick lists", "What to pull, a card a step."),
    ("pick-lists.csv", "Pick lists as a table", "For a spreadsheet program."),
    ("joints.csv", "Joints as a table", "Every fastened place, for a spreadsheet program."),
    ("holes.csv", "Holes as a table", "Every hole and its state, for a spreadsheet program."),
];

/// Adds to the documents of a configuration, by path, what makes a stick of them.
///
/// # Errors
/// A template that fails.
pub fn furnish(
    meta: &Meta,
    mut files: BTreeMap<String, Vec<u8>>,
    fonts: &[UsedFont<'_>],
    templates: &Templates,
) -> Result<BTreeMap<String, Vec<u8>>, EmitError> {
    let doors: Vec<Door> = KNOWN
        .iter()
        .filter(|(path, ..)| files.contains_key(*path))
        .map(|(href, title, purpose)| Door { href, title, purpose })
        .collect();
    let named = [("sums", SUMS), ("check", CHECK), ("note", NOTE), ("licences", LICENCES), ("notices", NOTICES)];
    files.insert(START.to_owned(), stick_page("stick-start.html", meta, &doors, &named, templates)?.into_bytes());
    files.insert(CHECK.to_owned(), stick_page("stick-check.html", meta, &doors, &named, templates)?.into_bytes());
    files.insert(NOTE.to_owned(), note(meta).into_bytes());
    files.insert(LICENCES.to_owned(), font_licence::text(fonts).into_bytes());
    files.insert(NOTICES.to_owned(), CRATES.replace('\n', "\r\n").into_bytes());
    let sums = write_sums(&files);
    files.insert(SUMS_CHECK.to_owned(), write_sums_check(&sums).into_bytes());
    files.insert(SUMS.to_owned(), sums.into_bytes());
    Ok(files)
}

/// Plain text with the line ends that every old editor shows.
fn note(meta: &Meta) -> String {
    let lines = [
        format!("{}: {}", meta.title, meta.configuration_title),
        format!("Configuration {}", meta.configuration),
        format!("{} {}, {}", meta.maker, meta.number, meta.release),
        String::new(),
        format!("Open {START} in a web browser. No network and no installation is needed."),
        format!("To see whether this copy is whole, open {CHECK}."),
        String::new(),
        "The build manual keeps your record in the browser of the machine you use.".to_owned(),
        "Save it as a file now and then: Menu, Record, Save to a file.".to_owned(),
        String::new(),
        "If a part, a quantity or an instruction seems wrong, stop and ask the maker.".to_owned(),
    ];
    lines.iter().map(|line| format!("{}\r\n", line.trim())).collect()
}
