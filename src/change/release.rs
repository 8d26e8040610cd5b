//! A release file: a head that says what it is, an empty line, then the sources in normal form.
//!
//! Owns: the form of the file. Must not know: where it lies.

use std::collections::BTreeMap;

use super::date::Date;
use super::digest::hex_digest;
use super::letter::Letter;
use super::normal::Line;
use crate::model::words;

/// The number of the form that is written. Every form from 1 on can be read.
pub const SCHEMA: u32 = 1;

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
    /// The digest of each declared configuration, by its name.
    pub configurations: BTreeMap<String, String>,
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
}

impl std::fmt::Display for Unreadable {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Newer(schema) => write!(f, "it has schema {schema}; this version reads up to {SCHEMA}"),
            Self::Line(line, what) => write!(f, "line {line}: {what}"),
        }
    }
}

impl Release {
    /// The file.
    pub fn text(&self) -> String {
        let mut out = format!(
            "{TITLE}\nschema {SCHEMA}\nletter {}\ndate {}\nclass {}\nsummary {}\n",
            self.letter,
            self.date,
            self.class.word(),
            self.summary.split_whitespace().collect::<Vec<_>>().join(" ")
        );
        for (name, digest) in &self.configurations {
            out.push_str(&format!("configuration {name} {digest}\n"));
        }
        out.push('\n');
        out.push_str(&self.body);
        out
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

    /// Reads the head of the file; the sources are taken as they are.
    ///
    /// # Errors
    /// As [`Self::read`], of the head alone.
    pub fn head(text: &str) -> Result<Self, Unreadable> {
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
        match schema.parse::<u32>() {
            Ok(1..=SCHEMA) => {}
            Ok(newer) if newer > SCHEMA => return Err(Unreadable::Newer(newer)),
            _ => return Err(Unreadable::Line(at, "the schema is no number")),
        }
        let (at, letter) = field("letter", "the letter is missing")?;
        let letter = Letter::parse(letter).ok_or(Unreadable::Line(at, "this is no release letter"))?;
        let (at, date) = field("date", "the date is missing")?;
        let date = Date::parse(date).ok_or(Unreadable::Line(at, "this is no date"))?;
        let (at, class) = field("class", "the class is missing")?;
        let class = Class::from_word(class).ok_or(Unreadable::Line(at, "this is no class"))?;
        let (_, summary) = field("summary", "the summary is missing")?;
        let summary = summary.to_owned();
        let mut configurations = BTreeMap::new();
        for (at, line) in lines {
            let fault = Unreadable::Line(at + 1, "this is no line of a head");
            let rest = line.strip_prefix("configuration ").ok_or(fault.clone())?;
            let (name, digest) = rest.split_once(' ').ok_or(fault)?;
            configurations.insert(name.to_owned(), digest.to_owned());
        }
        Ok(Self { letter, date, class, summary, configurations, body: body.to_owned() })
    }

    /// The sources in normal form.
    ///
    /// # Errors
    /// A line that has not the form of one.
    pub fn lines(&self) -> Result<Vec<Line>, Unreadable> {
        let head = 7 + self.configurations.len();
        let line = |(at, text)| Line::parse(text).ok_or(Unreadable::Line(head + at + 1, "this is no line of the sources"));
        self.body.lines().enumerate().map(line).collect()
    }
}
