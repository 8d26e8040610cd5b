//! A single mistake: where it is put, what it makes of the text, and what it is about.

use std::collections::BTreeSet;
use std::ops::Range;

use kitwright::model::schema::Thing;
use kitwright::source::{FileId, Files as _, Memory};

use super::labels::Group;
use super::manuals::CleanManual;
use crate::random::dice::Dice;

#[derive(Clone, Debug)]
pub struct Seed {
    /// Its manual, by number.
    pub manual: usize,
    pub group: Group,
    pub kind: String,
    pub path: String,
    pub change: Change,
    /// The item or paragraph of the file that it stands in.
    pub item: Range<usize>,
    /// The names of what it is about.
    pub about: BTreeSet<String>,
}

#[derive(Clone, Debug)]
pub enum Change {
    Text {
        at: Range<usize>,
        new: String,
    },
    /// The file is not there.
    FileOut,
    /// The file has another name.
    FileNamed(String),
    /// The file holds what another one does.
    FileOf(String),
}

impl Seed {
    pub fn put_into(&self, files: &mut Memory) {
        match &self.change {
            Change::Text { at, new } => {
                let mut text = read(files, &self.path);
                text.replace_range(at.clone(), new);
                files.insert(&*self.path, text);
            }
            Change::FileOut => assert!(files.remove(&self.path)),
            Change::FileNamed(name) => {
                let bytes = files.read(&self.path).expect("it is there");
                files.remove(&self.path);
                files.insert(name.as_str(), bytes);
            }
            Change::FileOf(other) => {
                let bytes = files.read(other).expect("it is there");
                files.insert(&*self.path, bytes);
            }
        }
    }

    /// The bytes of its item after the change, with what was put in.
    pub fn item_after(&self) -> Range<usize> {
        let Change::Text { at, new } = &self.change else { return self.item.clone() };
        let start = self.item.start.min(at.start);
        let end = self.item.end.max(at.end) + new.len() - at.len();
        start..end.max(at.start + new.len())
    }

    /// Where, what stood there, and what stands there now.
    pub fn told(&self, c: &CleanManual) -> String {
        let (line, change) = match &self.change {
            Change::Text { at, new } => {
                let text = read(&c.files, &self.path);
                let line = text[..at.start].matches('\n').count() + 1;
                (format!(":{line}"), format!("`{}` -> `{}`", short(&text[at.clone()]), short(new)))
            }
            Change::FileOut => (String::new(), "taken out".to_owned()),
            Change::FileNamed(name) => (String::new(), format!("-> {name}")),
            Change::FileOf(other) => (String::new(), format!("holds {other}")),
        };
        format!("{}/{}{line}  {change}", c.folder.rsplit('/').next().unwrap_or_default(), self.path)
    }
}

fn read(files: &Memory, path: &str) -> String {
    String::from_utf8(files.read(path).expect("it is there")).expect("UTF-8")
}

/// On one line, and not more of it than tells it.
fn short(text: &str) -> String {
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    match line.char_indices().nth(90) {
        Some((at, _)) => format!("{}…", &line[..at]),
        None => line,
    }
}

/// A file into which seeds are put.
pub struct Bed<'a> {
    pub manual: usize,
    pub c: &'a CleanManual,
    pub file: FileId,
    pub path: &'a str,
    pub text: &'a str,
    pub seeds: Vec<Seed>,
}

impl<'a> Bed<'a> {
    pub fn new(manual: usize, c: &'a CleanManual, file: FileId) -> Self {
        Self { manual, c, file, path: c.path(file), text: c.text(file), seeds: Vec::new() }
    }

    /// The number that chooses among what could be put at a place: the same each time, and another one elsewhere.
    pub fn dice(&self, at: usize, kind: &str) -> Dice {
        Dice::new(number_of(&format!("{} {at} {kind}", self.path)))
    }

    /// Replaces a range of the file. What changes nothing is left out.
    pub fn put(&mut self, group: Group, kind: String, item: Range<usize>, at: Range<usize>, new: impl Into<String>) {
        let new = new.into();
        if self.text[at.clone()] == new {
            return;
        }
        let mut about = self.names_in(&item);
        about.extend(self.names_in(&at));
        about.extend(self.c.is_name(&new).then(|| new.clone()));
        let path = self.path.to_owned();
        let change = Change::Text { at, new };
        self.seeds.push(Seed { manual: self.manual, group, kind, path, change, item, about });
    }

    /// What is called by its name within a range.
    fn names_in(&self, range: &Range<usize>) -> BTreeSet<String> {
        let all = self.c.named.get(&self.file).map_or(&[][..], Vec::as_slice);
        let inside = all.iter().filter(|n| n.at.start >= range.start && n.at.end <= range.end && tells(n.thing));
        inside.map(|n| n.name.clone()).collect()
    }

    /// The names of a thing that stand in this file.
    pub fn near(&self, thing: Thing) -> Vec<&'a str> {
        let all = self.c.named.get(&self.file).map_or(&[][..], Vec::as_slice);
        let fits = |other| other == thing || thing == Thing::Item && matches!(other, Thing::Part | Thing::Hardware);
        let names: BTreeSet<&str> = all.iter().filter(|n| fits(n.thing)).map(|n| &*n.name).collect();
        names.into_iter().collect()
    }

    /// Another name of the thing: every second time one that stands in the same file.
    pub fn another(&self, thing: Thing, name: &str, dice: &mut Dice) -> Option<String> {
        let not_itself = |n: &&str| *n != name;
        let near: Vec<&str> = self.near(thing).into_iter().filter(not_itself).collect();
        let all: Vec<&str> = self.c.names(thing).iter().map(String::as_str).filter(not_itself).collect();
        let from = if !near.is_empty() && dice.percent(50) { near } else { all };
        (!from.is_empty()).then(|| (*dice.pick(&from)).to_owned())
    }
}

/// Whether the name of such a thing tells what a mistake is about, and not only where.
pub fn tells(thing: Thing) -> bool {
    !matches!(thing, Thing::Hole | Thing::Variant | Thing::Option | Thing::Condition | Thing::Rule | Thing::Release)
}

/// FNV-1a.
pub fn number_of(text: &str) -> u64 {
    text.bytes().fold(0xcbf2_9ce4_8422_2325, |n, b| (n ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3))
}
