//! The releases of a manual: the files of its folder `releases`.

use std::collections::{BTreeMap, BTreeSet};

use super::letter::Letter;
use super::normal::{body, normalise};
use super::release::{Release, Unreadable};
use super::seal::Seal;
use crate::diag::Diagnostic;
use crate::source::{Files, LoadError};

/// The folder of the releases, in the manual's folder.
pub const RELEASES: &str = "releases/";

/// Where the bytes of a picture, template or font are kept for the releases that used it.
pub fn store_path(digest: &str) -> String {
    format!("{RELEASES}files/{digest}")
}

/// Where the seal of a release lies.
pub fn seal_path(letter: &str) -> String {
    format!("{RELEASES}{letter}.seal")
}

fn seal_of(path: &str) -> Option<&str> {
    path.strip_prefix(RELEASES)?.strip_suffix(".seal")
}

/// What stands in the place of the letter in the path of a release; none where the path is of something else.
fn letter_of(path: &str) -> Option<&str> {
    path.strip_prefix(RELEASES)?.strip_suffix(".release")
}

/// Every release, in the order of the letters. What is not whole is not among them.
#[derive(Clone, Debug, Default)]
pub struct History {
    releases: BTreeMap<Letter, Release>,
    /// By what stands in the place of the letter, the finding.
    broken: BTreeMap<String, Diagnostic>,
    unproven: BTreeSet<Letter>,
    /// Those whose file is what the program would write of them, to the byte.
    as_written: BTreeSet<Letter>,
}

/// How the sources stand to the releases.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Standing {
    /// Nothing was released yet.
    #[default]
    Unreleased,
    /// They are those of this release, the last one.
    Released(Release),
    /// They differ from this release, the last one.
    Working(Release),
}

impl Standing {
    /// What every page of a document says.
    pub fn words(&self) -> String {
        match self {
            Self::Unreleased => "working copy, not released".to_owned(),
            Self::Released(release) => release.title(),
            Self::Working(last) => format!("working copy after release {}, not released", last.letter),
        }
    }
}

/// A release as it was read.
struct One {
    release: Release,
    /// Its digest stands somewhere and is right.
    proven: bool,
    /// Its file is what the program would write of it.
    as_written: bool,
}

// A finding is the rare way out, and it goes into a list at once.
#[allow(clippy::result_large_err)]
fn one(
    files: &dyn Files,
    name: &str,
    path: &str,
    read: fn(&str) -> Result<Release, Unreadable>,
) -> Result<One, Diagnostic> {
    let broken = |words: String| fault(path, format!("{path} can't be read: {words}"));
    let text = text(files, path).map_err(broken)?;
    let release = read(&text).map_err(|error| match error {
        Unreadable::Newer(_) => {
            broken(error.to_string()).help("use the version of kitwright that made it, or a later one")
        }
        other => broken(other.to_string()),
    })?;
    if release.letter.as_str() != name {
        return Err(broken(format!("it is release {}", release.letter)));
    }
    if release.proves_itself() {
        return Ok(One { release, proven: true, as_written: true });
    }
    let as_written = text.replace("\r\n", "\n") == release.text();
    let seal_path = seal_path(name);
    match files.read(&seal_path) {
        Err(LoadError::Missing) => Ok(One { release, proven: false, as_written }),
        Err(error) => Err(fault(&seal_path, format!("{seal_path} can't be read: {error}"))),
        Ok(bytes) => {
            let seal = String::from_utf8(bytes).ok().and_then(|text| Seal::read(&text));
            match seal.filter(|seal| seal.letter == release.letter) {
                None => Err(fault(&seal_path, format!("{seal_path} was changed or cut short after it was made"))),
                Some(seal) if as_written && seal.release == release.digest() => {
                    Ok(One { release, proven: true, as_written })
                }
                Some(_) => Err(fault(path, format!("{path} was changed after it was sealed"))),
            }
        }
    }
}

fn text(files: &dyn Files, path: &str) -> Result<String, String> {
    let bytes = files.read(path).map_err(|e| e.to_string())?;
    String::from_utf8(bytes).map_err(|_| "it is not UTF-8 text".to_owned())
}

pub(super) fn fault(path: &str, headline: String) -> Diagnostic {
    Diagnostic::error("broken-release", headline)
        .in_file(path)
        .help("a release is never edited; take the file back from version control")
}

impl History {
    /// Reads the releases; what can't be read or is not as it was made is a finding.
    ///
    /// # Errors
    /// The folder can't be listed.
    pub fn read(files: &dyn Files) -> Result<(Self, Vec<Diagnostic>), LoadError> {
        let history = Self::read_with(files, Release::read_whole, &|_| true)?;
        let found = history.faults().cloned().collect();
        Ok((history, found))
    }

    /// Reads the heads of the releases; of a release that is asked for, the sources are read then. What is not whole is
    /// in [`Self::fault`].
    ///
    /// # Errors
    /// The folder can't be listed.
    pub fn heads(files: &dyn Files) -> Result<Self, LoadError> {
        Self::read_with(files, Release::head, &|_| true)
    }

    /// The heads of the releases whose letter `wanted` likes, and of the last one, which knows the others; the other
    /// files are not read.
    ///
    /// # Errors
    /// The folder can't be listed.
    pub fn heads_where(files: &dyn Files, wanted: &dyn Fn(&Letter) -> bool) -> Result<Self, LoadError> {
        Self::read_with(files, Release::head, wanted)
    }

    /// The head of the last release alone.
    ///
    /// # Errors
    /// The folder can't be listed.
    pub fn last_head(files: &dyn Files) -> Result<Self, LoadError> {
        Self::heads_where(files, &|_| false)
    }

    fn read_with(
        files: &dyn Files,
        read: fn(&str) -> Result<Release, Unreadable>,
        wanted: &dyn Fn(&Letter) -> bool,
    ) -> Result<Self, LoadError> {
        let entries = files.list()?;
        let last = entries.iter().filter_map(|e| Letter::parse(letter_of(&e.path)?)).max();
        let mut history = Self::default();
        for entry in &entries {
            if let Some(letter) = seal_of(&entry.path)
                && !entries.iter().any(|e| letter_of(&e.path) == Some(letter))
            {
                let words = format!("{} is a seal, and there is no release {letter}", entry.path);
                history.broken.insert(letter.to_owned(), fault(&entry.path, words));
            }
            // Only what is no folder is listed.
            if [RELEASES, &store_path("")].iter().any(|folder| folder.strip_suffix('/') == Some(&entry.path)) {
                let words = format!("{} is a file or a link, and no folder: nothing in it is read", entry.path);
                history.broken.insert(entry.path.clone(), fault(&entry.path, words));
            }
            let Some(name) = letter_of(&entry.path) else { continue };
            if Letter::parse(name).is_some_and(|letter| !wanted(&letter) && Some(&letter) != last.as_ref()) {
                continue;
            }
            match one(files, name, &entry.path, read) {
                Ok(One { release, proven, as_written }) => {
                    if !proven {
                        history.unproven.insert(release.letter.clone());
                    }
                    if as_written {
                        history.as_written.insert(release.letter.clone());
                    }
                    history.releases.insert(release.letter.clone(), release);
                }
                Err(found) => drop(history.broken.insert(name.to_owned(), found)),
            }
        }
        history.hold_together(wanted);
        let whole: Vec<_> = history.releases.keys().map(ToString::to_string).collect();
        let whole = match &whole[..] {
            [] => "no release".to_owned(),
            [one] => format!("release {one}"),
            more => format!("releases {}", more.join(", ")),
        };
        for found in history.broken.values_mut() {
            found.help = format!("{}; what can be trusted: {whole}", found.help);
        }
        Ok(history)
    }

    /// Later releases know the digests of those before them: one that is gone or another one is found.
    fn hold_together(&mut self, wanted: &dyn Fn(&Letter) -> bool) {
        let mut found: BTreeMap<Letter, Diagnostic> = BTreeMap::new();
        for later in self.releases.values() {
            for (letter, digest) in &later.earlier {
                let path = format!("{RELEASES}{letter}.release");
                match self.releases.get(letter) {
                    Some(earlier) if earlier.digest() == *digest && self.as_written.contains(letter) => {
                        self.unproven.remove(letter);
                    }
                    Some(_) => {
                        let words = format!("{path} is another one than release {} was made after", later.letter);
                        found.entry(letter.clone()).or_insert_with(|| fault(&path, words));
                    }
                    None if self.broken.contains_key(letter.as_str()) || !wanted(letter) => {}
                    None => {
                        let words = format!("{path} is gone; release {} was made after it", later.letter);
                        found.entry(letter.clone()).or_insert_with(|| fault(&path, words));
                    }
                }
            }
        }
        for (letter, found) in found {
            self.releases.remove(&letter);
            self.unproven.remove(&letter);
            self.broken.insert(letter.to_string(), found);
        }
    }

    /// What is not whole, as findings.
    pub fn faults(&self) -> impl Iterator<Item = &Diagnostic> {
        self.broken.values()
    }

    /// Why the release of this letter can't be used, where it is there and is not whole.
    pub fn fault(&self, letter: &str) -> Option<&Diagnostic> {
        self.broken.get(letter)
    }

    /// Whether the file of a release is what the program would write of it, to the byte.
    pub fn is_as_written(&self, letter: &Letter) -> bool {
        self.as_written.contains(letter)
    }

    /// Those of an earlier form whose digest stands nowhere: damage in them would not be noticed.
    pub fn unproven(&self) -> impl Iterator<Item = &Letter> {
        self.unproven.iter()
    }

    /// In the order of the letters.
    pub fn releases(&self) -> impl DoubleEndedIterator<Item = &Release> {
        self.releases.values()
    }

    pub fn last(&self) -> Option<&Release> {
        self.releases.values().next_back()
    }

    pub fn get(&self, letter: &str) -> Option<&Release> {
        self.releases.get(&Letter::parse(letter)?)
    }

    /// How the sources in `files` stand to the last release.
    ///
    /// # Errors
    /// The folder can't be listed.
    pub fn standing(&self, files: &dyn Files) -> Result<Standing, LoadError> {
        let Some(last) = self.last() else { return Ok(Standing::Unreleased) };
        let same = body(&normalise(files)?) == last.body;
        Ok(if same { Standing::Released(last.clone()) } else { Standing::Working(last.clone()) })
    }
}
