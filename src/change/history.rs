//! The releases of a manual: the files of its folder `releases`.

use std::collections::BTreeMap;

use super::letter::Letter;
use super::normal::{body, normalise};
use super::release::{Release, Unreadable};
use crate::diag::Diagnostic;
use crate::source::{Files, LoadError};

/// The folder of the releases, in the manual's folder.
pub const RELEASES: &str = "releases/";

/// Where the bytes of a picture, template or font are kept for the releases that used it.
pub fn store_path(digest: &str) -> String {
    format!("{RELEASES}files/{digest}")
}

/// What stands in the place of the letter in the path of a release; none where the path is of something else.
fn letter_of(path: &str) -> Option<&str> {
    path.strip_prefix(RELEASES)?.strip_suffix(".release")
}

/// Every release, in the order of the letters.
#[derive(Clone, Debug, Default)]
pub struct History {
    releases: BTreeMap<Letter, Release>,
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

impl History {
    /// Reads the releases; what can't be read is a finding.
    ///
    /// # Errors
    /// The folder can't be listed.
    pub fn read(files: &dyn Files) -> Result<(Self, Vec<Diagnostic>), LoadError> {
        Self::read_with(files, Release::read_whole, &|_| true)
    }

    /// Reads the heads of the releases; of a release that is asked for, the sources are read then.
    ///
    /// # Errors
    /// The folder can't be listed.
    pub fn heads(files: &dyn Files) -> Result<(Self, Vec<Diagnostic>), LoadError> {
        Self::read_with(files, Release::head, &|_| true)
    }

    /// The heads of the releases whose letter `wanted` likes; the other files are not read.
    ///
    /// # Errors
    /// The folder can't be listed.
    pub fn heads_where(
        files: &dyn Files,
        wanted: &dyn Fn(&Letter) -> bool,
    ) -> Result<(Self, Vec<Diagnostic>), LoadError> {
        Self::read_with(files, Release::head, wanted)
    }

    /// The head of the last release alone.
    ///
    /// # Errors
    /// The folder can't be listed.
    pub fn last_head(files: &dyn Files) -> Result<Self, LoadError> {
        let names = files.list()?;
        let letters = names.iter().filter_map(|e| letter_of(&e.path)).filter_map(Letter::parse);
        let last = letters.max();
        Ok(Self::heads_where(files, &|letter| Some(letter) == last.as_ref())?.0)
    }

    fn read_with(
        files: &dyn Files,
        read: fn(&str) -> Result<Release, Unreadable>,
        wanted: &dyn Fn(&Letter) -> bool,
    ) -> Result<(Self, Vec<Diagnostic>), LoadError> {
        let (mut history, mut found) = (Self::default(), Vec::new());
        for entry in files.list()? {
            let Some(name) = letter_of(&entry.path) else { continue };
            if Letter::parse(name).is_some_and(|letter| !wanted(&letter)) {
                continue;
            }
            let fault = |words: String| {
                Diagnostic::error("broken-release", format!("{} can't be read: {words}", entry.path))
                    .in_file(entry.path.as_str())
                    .help("a release is never edited; take the file back from version control")
            };
            let text = files.read(&entry.path).map_err(|e| e.to_string());
            match text.and_then(|b| String::from_utf8(b).map_err(|_| "it is not UTF-8 text".to_owned())) {
                Err(words) => found.push(fault(words)),
                // Version control may have given it other line ends.
                Ok(text) => match read(&if text.contains('\r') { text.replace("\r\n", "\n") } else { text }) {
                    Ok(release) if release.letter.as_str() == name => {
                        history.releases.insert(release.letter.clone(), release);
                    }
                    Ok(release) => found.push(fault(format!("it is release {}", release.letter))),
                    Err(newer @ Unreadable::Newer(_)) => {
                        found.push(
                            fault(newer.to_string()).help("use the version of kitwright that made it, or a later one"),
                        );
                    }
                    Err(other) => found.push(fault(other.to_string())),
                },
            }
        }
        Ok((history, found))
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
