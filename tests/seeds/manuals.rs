//! The clean manuals that mistakes are put into: what they say, what they find, what their pages print.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use kitwright::change::hex_digest;
use kitwright::compile::{Checked, check, declared_names};
use kitwright::document::{Imprint, Purpose};
use kitwright::model::schema::{MANUAL, STEP, TABLES, Thing, Use, mentions, walk, walk_table};
use kitwright::model::{Manual, Step};
use kitwright::source::{Disk, FileId, Files as _, Memory};
use kitwright::units::{FigureName, PartNumber};

use super::labels::label;
use super::seed::tells;
use crate::outside;

/// The folders, below the project's; the first is the large one.
pub const FOLDERS: [&str; 3] = ["manual-src", "tests/cases/rudder", "tests/cases/trailer"];

/// A manual and what is known of it before anything is changed.
pub struct CleanManual {
    pub folder: &'static str,
    pub files: Memory,
    pub checked: Checked,
    /// What is found of it as it stands.
    pub found: BTreeSet<String>,
    /// What is printed on its pages, by configuration.
    pub printed: BTreeMap<String, Imprint>,
    /// What is called by its name, by file.
    pub named: BTreeMap<FileId, Vec<NamedAt>>,
    /// All names of each kind of thing.
    pub names: BTreeMap<Thing, Vec<String>>,
    /// All values of each key and column, by its label.
    pub values: BTreeMap<String, Vec<String>>,
}

/// A name where it stands.
pub struct NamedAt {
    pub at: Range<usize>,
    pub thing: Thing,
    pub name: String,
}

impl CleanManual {
    pub fn read(folder: &'static str) -> Self {
        let files = without_releases(folder);
        let checked = check(&files, &|_| ()).expect("memory can be listed");
        let manual = checked.manual.as_ref().expect("there is a manual");
        let found = findings(&checked).collect();
        let (named, names, values) = (named(manual), names(manual), values(manual));
        Self { folder, found, printed: printed(&checked), named, names, values, files, checked }
    }

    pub fn manual(&self) -> &Manual {
        self.checked.manual.as_ref().expect("there is a manual")
    }

    pub fn text(&self, file: FileId) -> &str {
        self.checked.sources.text(file)
    }

    pub fn path(&self, file: FileId) -> &str {
        self.checked.sources.name(file)
    }

    /// The steps that are written, each with its text.
    pub fn steps(&self) -> impl Iterator<Item = (&Step, &str)> {
        self.manual().written_steps().map(|step| (step, self.text(step.file)))
    }

    pub fn names(&self, thing: Thing) -> &[String] {
        self.names.get(&thing).map_or(&[], Vec::as_slice)
    }

    /// Whether something is called so that a finding can be about.
    pub fn is_name(&self, name: &str) -> bool {
        self.names.iter().filter(|(thing, _)| tells(**thing)).any(|(_, names)| names.iter().any(|n| n == name))
    }

    /// The part for the other hand.
    pub fn opposite(&self, part: &str) -> Option<String> {
        let part = self.manual().parts.get(&PartNumber::new(part))?;
        part.opposite.as_ref().map(|o| o.value.to_string())
    }
}

/// One cause is one finding: what a release or the register of kits holds against a change is looked at elsewhere.
fn without_releases(folder: &str) -> Memory {
    let disk = Disk::open(&outside::project().join(folder)).expect("it is there");
    let mut files = Memory::new();
    for entry in disk.list().expect("it can be listed") {
        let path = &entry.path;
        if !path.starts_with("releases/") && path != "kits.csv" && path != "shipped.csv" {
            files.insert(path.clone(), disk.read(path).expect("it can be read"));
        }
    }
    files
}

/// What tells a finding from others, whatever line it stands in.
pub fn findings(checked: &Checked) -> impl Iterator<Item = String> {
    checked.findings.iter().map(|d| {
        let file = d.span.map(|s| checked.sources.name(s.file)).or(d.file.as_deref()).unwrap_or_default();
        format!("{} {file} {}", d.rule, d.headline)
    })
}

/// What is printed on the manual's pages of each configuration that is built.
pub fn printed(checked: &Checked) -> BTreeMap<String, Imprint> {
    let Some(manual) = &checked.manual else { return BTreeMap::new() };
    let picture = |name: &FigureName| manual.figures.get(name).map_or_else(String::new, |f| hex_digest(&f.bytes));
    let declared = declared_names(manual);
    let resolved = checked.resolved.iter().filter(|r| declared.contains(&r.name));
    resolved.map(|r| (r.name.clone(), Imprint::of(manual, r, Purpose::Manual, &picture))).collect()
}

fn named(manual: &Manual) -> BTreeMap<FileId, Vec<NamedAt>> {
    let mut all: BTreeMap<FileId, Vec<NamedAt>> = BTreeMap::new();
    for mention in mentions(manual) {
        let named = NamedAt { at: mention.span.range(), thing: mention.thing, name: mention.name.to_owned() };
        all.entry(mention.span.file).or_default().push(named);
    }
    all
}

fn names(manual: &Manual) -> BTreeMap<Thing, Vec<String>> {
    let mut all: BTreeMap<Thing, BTreeSet<String>> = BTreeMap::new();
    let named = |how| matches!(how, Use::Named | Use::Made | Use::Inspected | Use::HoleName);
    for mention in mentions(manual).into_iter().filter(|m| named(m.how)) {
        all.entry(mention.thing).or_default().insert(mention.name.to_owned());
    }
    all.insert(Thing::Figure, manual.figures.keys().map(ToString::to_string).collect());
    let listed = [Thing::Part, Thing::Hardware].map(|thing| all.get(&thing).cloned().unwrap_or_default());
    all.insert(Thing::Item, listed.into_iter().flatten().collect());
    all.into_iter().map(|(thing, names)| (thing, names.into_iter().collect())).collect()
}

fn values(manual: &Manual) -> BTreeMap<String, Vec<String>> {
    let mut all: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let mut add = |label: String, text: &str| {
        all.entry(label).or_default().insert(text.to_owned());
    };
    for step in manual.written_steps() {
        walk(&step.front, &STEP, &mut |leaf| add(label(leaf), leaf.text));
    }
    walk(&manual.front, &MANUAL, &mut |leaf| add(label(leaf), leaf.text));
    for form in TABLES {
        if let Some(table) = manual.tables.get(form.name) {
            walk_table(table, form, &mut |key, cell, _| add(format!("{}.csv {}", form.name, key.name), &cell.value));
        }
    }
    all.into_iter().map(|(label, values)| (label, values.into_iter().collect())).collect()
}
