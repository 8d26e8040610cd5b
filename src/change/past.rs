//! What was released before, as far as rules look at it.

use std::collections::{BTreeMap, BTreeSet};

use super::history::History;
use super::normal::{LineMark, SourceLine};
use super::release::Release;
use super::restore::restore;
use super::store::store_faults;
use crate::diag::Diagnostic;
use crate::model::{self, Manual};
use crate::source::{Files, LoadError, Memory};

/// What a name is the name of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NameKind {
    Step,
    Part,
}

impl NameKind {
    /// The word in a release file.
    pub fn word(self) -> &'static str {
        match self {
            Self::Step => "step",
            Self::Part => "part",
        }
    }

    pub(super) fn from_word(word: &str) -> Option<Self> {
        [Self::Step, Self::Part].into_iter().find(|k| k.word() == word)
    }
}

/// A name that a release had and that the last one has no more.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Retired {
    /// The letter of the last release that had it.
    pub letter: String,
    /// What it was the name of: a step's title, a part's name.
    pub title: String,
}

/// Names with what they are the names of.
pub type Titles = BTreeMap<(NameKind, String), String>;

/// The last release.
#[derive(Debug)]
pub struct Last {
    pub letter: String,
    /// Its lists and settings; no steps, pages and figures.
    pub manual: Manual,
    pub titles: Titles,
    /// The text of each step and page by its path, its lines as they were.
    pub texts: BTreeMap<String, Vec<String>>,
}

/// What was released before.
#[derive(Debug, Default)]
pub struct Past {
    pub letters: Vec<String>,
    /// The paths of releases that can't be read, with the finding.
    pub broken: Vec<Diagnostic>,
    /// The letters of releases of an earlier form whose digest stands nowhere.
    pub unproven: Vec<String>,
    pub last: Option<Last>,
    pub retired: BTreeMap<(NameKind, String), Retired>,
}

impl Past {
    /// Reads the releases; of the last one its lists and texts.
    ///
    /// # Errors
    /// The folder can't be listed.
    pub fn read(files: &dyn Files) -> Result<Self, LoadError> {
        let (history, mut broken) = History::read(files)?;
        broken.extend(store_faults(&history, files));
        let unproven = history.unproven().map(ToString::to_string).collect();
        let letters = history.releases().map(|r| r.letter.to_string()).collect();
        let last = history.last().and_then(last);
        Ok(Self { letters, broken, unproven, last, retired: retired(&history) })
    }
}

fn last(release: &Release) -> Option<Last> {
    let all = release.lines().ok()?;
    let lists: Vec<SourceLine> =
        all.iter().filter(|l| l.file == "manual.yaml" || l.file.ends_with(".csv")).cloned().collect();
    let read = model::read(&restore(&lists, &Memory::new()).files).ok()?;
    let mut texts: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for line in all.into_iter().filter(|l| l.mark == LineMark::Text) {
        texts.entry(line.file).or_default().push(line.value);
    }
    Some(Last { letter: release.letter.to_string(), manual: read.manual?, titles: titles(&release.body), texts })
}

/// The names that the sources of a release give: of steps and of parts.
pub fn titles(body: &str) -> Titles {
    let mut titles = Titles::new();
    let mut step: BTreeMap<&str, [Option<String>; 2]> = BTreeMap::new();
    for line in body.lines() {
        let mut pieces = line.splitn(4, ' ');
        let (Some(file), Some(key), Some(_), Some(value)) =
            (pieces.next(), pieces.next(), pieces.next(), pieces.next())
        else {
            continue;
        };
        match key {
            "step" | "title" if file.starts_with("steps/") => {
                let text: Option<String> = serde_json::from_str(value).ok();
                step.entry(file).or_default()[usize::from(key == "title")] = text;
            }
            "rows" if file == "parts.csv" => {
                let Ok(cells) = serde_json::from_str::<BTreeMap<String, String>>(value) else { continue };
                let get = |name: &str| {
                    cells.iter().find(|(c, _)| c.trim().eq_ignore_ascii_case(name)).map(|(_, v)| v.trim().to_owned())
                };
                if let Some(number) = get("number") {
                    titles.insert((NameKind::Part, number), get("name").unwrap_or_default());
                }
            }
            _ => {}
        }
    }
    for [id, title] in step.into_values() {
        if let Some(id) = id {
            titles.insert((NameKind::Step, id), title.unwrap_or_default());
        }
    }
    titles
}

/// Names that were released once and that the last release has no more. The last release says so itself from schema 2
/// on; before that all of them are gone through.
pub fn retired(history: &History) -> BTreeMap<(NameKind, String), Retired> {
    let Some(last) = history.last() else { return BTreeMap::new() };
    if last.schema >= 2 {
        return last.retired.clone();
    }
    let mut all: BTreeMap<(NameKind, String), Retired> = BTreeMap::new();
    for release in history.releases() {
        for (name, title) in titles(&release.body) {
            all.insert(name, Retired { letter: release.letter.to_string(), title });
        }
    }
    let still: BTreeSet<_> = titles(&last.body).into_keys().collect();
    all.retain(|name, _| !still.contains(name));
    all
}
