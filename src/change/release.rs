//! A release file: a head that says what it is, an empty line, the sources in normal form, and last a line with the
//! digest of everything before it.
//!
//! The file proves itself: who reads it works out the digest and takes nothing from a file where it differs. The bytes of
//! pictures, templates and fonts lie in the store, each under its digest, which is a line of the sources, so that the last
//! line covers them too. Forms before schema 3 have no such line; see `seal`.
//!
//! Owns: the form of the file. Must not know: where it lies.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;

use super::digest::{has_digest_form, hex_digest};
use super::letter::Letter;
use super::normal::{SourceLine, escaped, quoted, unescaped};
use super::past::{NameKind, Retired};
use crate::model::words;
use crate::units::Date;

/// The number of the form that is written. Every form from 1 on can be read.
pub const SCHEMA: u32 = 3;

/// The first form that carries its own digest.
const PROVES_ITSELF: u32 = 3;

const TITLE: &str = "kitwright release";

words! {
    /// How much a release matters to kits that are built already.
    Class {
        Mandatory = "mandatory",
        Recommended = "recommended",
        Information = "information",
    }
}

/// A manual as it was released.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Release {
    pub letter: Letter,
    pub date: Date,
    pub class: Class,
    /// What changed, in the maker's words; one line.
    pub summary: String,
    /// The digest of each declared configuration, by its name. From schema 3 on by the definition in `frozen`.
    pub configurations: BTreeMap<String, String>,
    /// The version of the program that made it. From schema 3 on.
    pub program: String,
    /// The digests of the files of all releases before it. From schema 3 on.
    pub earlier: BTreeMap<Letter, String>,
    /// The form that the file has.
    pub schema: u32,
    /// Names that were released before and that this release has no more. From schema 2 on.
    pub retired: BTreeMap<(NameKind, String), Retired>,
    /// The letter of the last change of each step: by step and letter the declared configurations. From schema 2 on.
    pub changed: BTreeMap<(String, Letter), BTreeSet<String>>,
    /// The sources in normal form, as text.
    pub body: String,
}

/// Why a release file can't be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unreadable {
    /// Made by a later version of the program.
    Newer(u32),
    /// The line, from 1, and what is wrong there.
    Line(usize, &'static str),
    /// Its digest is not the one that it carries.
    Changed,
    /// It should end with its digest and does not.
    CutShort,
}

impl std::fmt::Display for Unreadable {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Newer(schema) => write!(f, "it has schema {schema}; this version reads up to {SCHEMA}"),
            Self::Line(line, what) => write!(f, "line {line}: {what}"),
            Self::Changed => {
                f.write_str("it was changed after it was made: its digest is not the one in its last line")
            }
            Self::CutShort => f.write_str("its last line is not its digest: it was changed or cut short"),
        }
    }
}

impl Release {
    /// The file.
    pub fn text(&self) -> String {
        let out = self.head_text() + "\n" + &self.body;
        if self.proves_itself() { with_digest(out) } else { out }
    }

    /// The head, without the empty line that ends it.
    fn head_text(&self) -> String {
        let mut out = format!(
            "{TITLE}\nschema {}\nletter {}\ndate {}\nclass {}\nsummary {}\n",
            self.schema,
            self.letter,
            self.date,
            self.class.word(),
            self.summary.split_whitespace().collect::<Vec<_>>().join(" ")
        );
        if self.proves_itself() {
            out.push_str(&format!("program {}\n", self.program));
        }
        for (letter, digest) in &self.earlier {
            out.push_str(&format!("earlier {letter} {digest}\n"));
        }
        for (name, digest) in &self.configurations {
            out.push_str(&format!("configuration {name} {digest}\n"));
        }
        for ((kind, name), retired) in &self.retired {
            let (kind, name) = (kind.word(), escaped(name));
            out.push_str(&format!("retired {kind} {name} {} {}\n", retired.letter, quoted(&retired.title)));
        }
        for ((step, letter), configurations) in &self.changed {
            let names: Vec<String> = configurations.iter().map(|c| escaped(c)).collect();
            out.push_str(&format!("changed {} {letter} {}\n", escaped(step), names.join(" ")));
        }
        out
    }

    /// Whether its form carries its own digest.
    pub fn proves_itself(&self) -> bool {
        self.schema >= PROVES_ITSELF
    }

    /// The SHA-256 digest of the file, in hexadecimal digits.
    pub fn digest(&self) -> String {
        hex_digest(self.text().as_bytes())
    }

    /// The part of the digest that documents show: enough to tell two files of one letter apart.
    pub fn short_digest(&self) -> String {
        self.digest()[..8].to_owned()
    }

    /// `Release B, 2026-03-01, 1a2b3c4d`
    pub fn title(&self) -> String {
        format!("Release {}, {}, {}", self.letter, self.date, self.short_digest())
    }

    /// Reads the file.
    ///
    /// # Errors
    /// It has not the form of a release, or a form of a later version.
    pub fn read(text: &str) -> Result<Self, Unreadable> {
        let release = Self::head(text)?;
        release.lines()?;
        Ok(release)
    }

    /// Reads the file and looks at the form of each line of the sources, without taking them apart.
    ///
    /// # Errors
    /// As [`Self::read`].
    pub fn read_whole(text: &str) -> Result<Self, Unreadable> {
        let release = Self::head(text)?;
        match release.body.lines().position(|l| !SourceLine::has_form(l)) {
            Some(at) => Err(Unreadable::Line(release.head_lines() + at + 1, "this is no line of the sources")),
            None => Ok(release),
        }
    }

    /// Reads the head of the file; the sources are taken as they are.
    ///
    /// # Errors
    /// As [`Self::read`], of the head alone.
    pub fn head(text: &str) -> Result<Self, Unreadable> {
        let usual = usual_line_ends(text);
        let earlier_form;
        let (text, proven) = match without_digest(&usual) {
            Some((before, true)) => (before, true),
            Some((_, false)) => return Err(Unreadable::Changed),
            // Of these forms every line may have either end.
            None => {
                earlier_form = usual.replace("\r\n", "\n");
                (earlier_form.as_str(), false)
            }
        };
        let (head, body) = text.split_once("\n\n").ok_or(Unreadable::Line(1, "the head has no end"))?;
        let mut lines = head.lines().enumerate();
        if lines.next().map(|(_, l)| l) != Some(TITLE) {
            return Err(Unreadable::Line(1, "it does not begin as a release does"));
        }
        let mut field = |name: &str, what: &'static str| -> Result<(usize, &str), Unreadable> {
            let (at, line) = lines.next().ok_or(Unreadable::Line(head.lines().count(), what))?;
            let value = line.strip_prefix(name).ok_or(Unreadable::Line(at + 1, what))?;
            Ok((at + 1, value.trim_start()))
        };
        let (at, schema) = field("schema", "the schema is missing")?;
        let schema = match schema.parse::<u32>() {
            Ok(PROVES_ITSELF..=SCHEMA) if !proven => return Err(Unreadable::CutShort),
            Ok(1..PROVES_ITSELF) if proven => {
                return Err(Unreadable::Line(at, "its form carries no digest, but it has one"));
            }
            Ok(known @ 1..=SCHEMA) => known,
            Ok(newer) if newer > SCHEMA => return Err(Unreadable::Newer(newer)),
            _ => return Err(Unreadable::Line(at, "the schema is no number")),
        };
        let (at, letter) = field("letter", "the letter is missing")?;
        let letter = Letter::parse(letter).ok_or(Unreadable::Line(at, "this is no release letter"))?;
        let (at, date) = field("date", "the date is missing")?;
        let date = Date::parse(date).ok_or(Unreadable::Line(at, "this is no date"))?;
        let (at, class) = field("class", "the class is missing")?;
        let class = Class::from_word(class).ok_or(Unreadable::Line(at, "this is no class"))?;
        let (_, summary) = field("summary", "the summary is missing")?;
        let summary = summary.to_owned();
        let mut release = Self {
            letter,
            date,
            class,
            summary,
            configurations: BTreeMap::new(),
            program: String::new(),
            earlier: BTreeMap::new(),
            schema,
            retired: BTreeMap::new(),
            changed: BTreeMap::new(),
            body: body.to_owned(),
        };
        for (at, line) in lines {
            release.head_line(line).ok_or(Unreadable::Line(at + 1, "this is no line of a head"))?;
        }
        if !release.proves_itself() {
            return Ok(release);
        }
        // What the program writes is written in one way alone.
        let again = release.head_text();
        let again = again.trim_end_matches('\n');
        match again.lines().zip(head.lines()).position(|(a, b)| a != b) {
            Some(at) => Err(Unreadable::Line(at + 1, "it is not as the program writes it")),
            None if again.len() != head.len() => Err(Unreadable::Line(1, "a line of the head stands twice")),
            None => Ok(release),
        }
    }

    /// Takes in a line of the head that is not of the first six.
    fn head_line(&mut self, line: &str) -> Option<()> {
        let (what, rest) = line.split_once(' ')?;
        match what {
            "configuration" => {
                let (name, digest) = rest.split_once(' ')?;
                self.configurations.insert(name.to_owned(), digest.to_owned());
            }
            "program" if self.schema >= 3 => self.program = rest.to_owned(),
            "earlier" if self.schema >= 3 => {
                let (letter, digest) = rest.split_once(' ').filter(|(_, digest)| has_digest_form(digest))?;
                self.earlier.insert(Letter::parse(letter)?, digest.to_owned());
            }
            "retired" if self.schema >= 2 => {
                let mut pieces = rest.splitn(4, ' ');
                let kind = NameKind::from_word(pieces.next()?)?;
                let name = unescaped(pieces.next()?)?;
                let letter = pieces.next()?.to_owned();
                let title = serde_json::from_str(pieces.next()?).ok()?;
                self.retired.insert((kind, name), Retired { letter, title });
            }
            "changed" if self.schema >= 2 => {
                let mut pieces = rest.split(' ');
                let key = (unescaped(pieces.next()?)?, Letter::parse(pieces.next()?)?);
                self.changed.insert(key, pieces.map(unescaped).collect::<Option<_>>()?);
            }
            _ => return None,
        }
        Some(())
    }

    /// The letter of the last change of each step in a declared configuration; none where the release does not say it.
    pub fn letters_of(&self, configuration: &str) -> Option<BTreeMap<crate::units::StepId, Letter>> {
        if self.schema < 2 || !self.configurations.contains_key(configuration) {
            return None;
        }
        let here = self.changed.iter().filter(|(_, names)| names.contains(configuration));
        Some(here.map(|((step, letter), _)| (crate::units::StepId::new(step), letter.clone())).collect())
    }

    fn head_lines(&self) -> usize {
        let program = usize::from(self.proves_itself());
        7 + program + self.earlier.len() + self.configurations.len() + self.retired.len() + self.changed.len()
    }

    /// The sources in normal form.
    ///
    /// # Errors
    /// A line that has not the form of one.
    pub fn lines(&self) -> Result<Vec<SourceLine>, Unreadable> {
        let head = self.head_lines();
        let line = |(at, text)| {
            SourceLine::parse(text).ok_or(Unreadable::Line(head + at + 1, "this is no line of the sources"))
        };
        let lines: Vec<&str> = self.body.lines().collect();
        lines.into_par_iter().enumerate().map(line).collect()
    }

    /// The files whose bytes lie in the store: digest and path.
    pub fn stored(&self) -> impl Iterator<Item = (&str, String)> {
        self.body.lines().filter_map(|line| {
            let mut pieces = line.splitn(4, ' ');
            let (file, key, sign, digest) = (pieces.next()?, pieces.next()?, pieces.next()?, pieces.next()?);
            (key == "sha256" && sign == "=" && has_digest_form(digest)).then(|| Some((digest, unescaped(file)?)))?
        })
    }
}

/// What stands before the digest in the last line.
const DIGEST: &str = "digest ";

/// A text with a last line that holds the digest of all lines before it.
pub fn with_digest(mut text: String) -> String {
    let digest = hex_digest(text.as_bytes());
    text.push_str(&format!("{DIGEST}{digest}\n"));
    text
}

/// A text without its last line, and whether the digest there is its own; none where the last line is no digest.
pub(super) fn without_digest(text: &str) -> Option<(&str, bool)> {
    let end = text.strip_suffix('\n')?;
    let begin = end.rfind('\n')? + 1;
    let digest = end[begin..].strip_prefix(DIGEST).filter(|digest| has_digest_form(digest))?;
    let before = &text[..begin];
    Some((before, hex_digest(before.as_bytes()) == digest))
}

/// The text as it was written, where version control has given all its lines the other end.
pub(super) fn usual_line_ends(text: &str) -> Cow<'_, str> {
    let ends = text.matches('\n').count();
    if ends > 0 && text.matches("\r\n").count() == ends { text.replace("\r\n", "\n").into() } else { text.into() }
}
