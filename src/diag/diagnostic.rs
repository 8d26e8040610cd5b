//! One finding.

use std::collections::BTreeSet;

use crate::source::{SourceMap, Span};

/// How grave a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    Error,
    Warning,
    Hint,
    /// What may well be right: asked in a review, counted nowhere else.
    Question,
}

impl Level {
    /// From the gravest down.
    pub const ALL: [Self; 4] = [Self::Error, Self::Warning, Self::Hint, Self::Question];

    pub fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
            Self::Hint => "hint",
            Self::Question => "question",
        }
    }
}

/// A second place that belongs to a finding: where the other side of a contradiction stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    pub span: Span,
    pub label: String,
}

/// One finding: what, where, what is wrong there, what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// The rule's id, for example `unknown-part`; parse faults have ids too, for example `broken-yaml`.
    pub rule: &'static str,
    pub level: Level,
    /// Lower case, no full stop, stands alone.
    pub headline: String,
    /// The smallest span that is wrong; none only where a whole file is missing.
    pub span: Option<Span>,
    /// The file's path where there is no span.
    pub file: Option<String>,
    /// What is wrong at the span.
    pub label: String,
    /// What to do.
    pub help: String,
    pub notes: Vec<Note>,
    /// The things it is about (part numbers, step ids), for acceptances in the sources.
    pub about: Vec<String>,
    /// The configurations in which it holds; empty where it holds of the sources alone.
    pub configurations: BTreeSet<String>,
}

impl Diagnostic {
    pub fn new(rule: &'static str, level: Level, headline: impl Into<String>) -> Self {
        Self {
            rule,
            level,
            headline: headline.into(),
            span: None,
            file: None,
            label: String::new(),
            help: String::new(),
            notes: Vec::new(),
            about: Vec::new(),
            configurations: BTreeSet::new(),
        }
    }

    pub fn error(rule: &'static str, headline: impl Into<String>) -> Self {
        Self::new(rule, Level::Error, headline)
    }

    pub fn warning(rule: &'static str, headline: impl Into<String>) -> Self {
        Self::new(rule, Level::Warning, headline)
    }

    #[must_use]
    pub fn at(mut self, span: Span, label: impl Into<String>) -> Self {
        self.span = Some(span);
        self.label = label.into();
        self
    }

    /// For a finding about a whole file.
    #[must_use]
    pub fn in_file(mut self, path: impl Into<String>) -> Self {
        self.file = Some(path.into());
        self
    }

    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = help.into();
        self
    }

    #[must_use]
    pub fn note(mut self, span: Span, label: impl Into<String>) -> Self {
        self.notes.push(Note { span, label: label.into() });
        self
    }

    #[must_use]
    pub fn about(mut self, thing: impl ToString) -> Self {
        self.about.push(thing.to_string());
        self
    }

    #[must_use]
    pub fn in_configuration(mut self, name: impl ToString) -> Self {
        self.configurations.insert(name.to_string());
        self
    }
}

/// Where faults are put while reading goes on.
pub type Sink = Vec<Diagnostic>;

/// Merges findings of one rule at one place about the same things: the first stays, with the configurations of all.
/// Those about nothing by name are told apart by their headlines.
pub fn merge(found: Vec<Diagnostic>) -> Vec<Diagnostic> {
    let mut merged: indexmap::IndexMap<_, Diagnostic> = indexmap::IndexMap::new();
    for d in found {
        let told_apart_by = if d.about.is_empty() { vec![d.headline.clone()] } else { d.about.clone() };
        match merged.entry((d.rule, d.span, d.file.clone(), told_apart_by)) {
            indexmap::map::Entry::Occupied(mut e) => e.get_mut().configurations.extend(d.configurations),
            indexmap::map::Entry::Vacant(e) => {
                e.insert(d);
            }
        }
    }
    merged.into_values().collect()
}

/// The most findings that are shown of one run: nobody reads more, and the first ones often explain the rest.
const MOST_SHOWN: usize = 1_000;

/// A finished set of findings: one cause one finding, sorted by place.
#[derive(Clone, Debug, Default)]
pub struct Diagnostics {
    list: Vec<Diagnostic>,
}

impl Diagnostics {
    /// Merges findings that differ in nothing but their configurations, and sorts them: by file name,
    /// place, level, rule and headline.
    pub fn collect(found: Vec<Diagnostic>, sources: &SourceMap) -> Self {
        let mut list = merge(found);
        list.sort_by_cached_key(|d| {
            let file = d.span.map(|s| sources.name(s.file).to_owned()).or_else(|| d.file.clone());
            (file, d.span.map(|s| (s.start, s.end)), d.level, d.rule, d.headline.clone())
        });
        Self { list }
    }

    pub fn iter(&self) -> impl Iterator<Item = &Diagnostic> {
        self.list.iter()
    }

    /// Those that are shown, in their order: all of them, or of very many the gravest. And how many are not.
    pub fn shown(&self) -> (Vec<&Diagnostic>, usize) {
        let mut room = MOST_SHOWN;
        let fits = Level::ALL.map(|level| {
            let taken = self.count(level).min(room);
            room -= taken;
            taken
        });
        let mut left = fits;
        let taken = self.list.iter().filter(|d| {
            let left = &mut left[d.level as usize];
            let is_taken = *left > 0;
            *left = left.saturating_sub(1);
            is_taken
        });
        let shown: Vec<&Diagnostic> = taken.collect();
        let rest = self.list.len() - shown.len();
        (shown, rest)
    }

    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    pub fn len(&self) -> usize {
        self.list.len()
    }

    /// How many findings have this level.
    pub fn count(&self, level: Level) -> usize {
        self.list.iter().filter(|d| d.level == level).count()
    }

    pub fn has_errors(&self) -> bool {
        self.count(Level::Error) > 0
    }
}
