//! What a rule is: its name, its level, where it comes from, its page, and the function that finds.
//!
//! Must not know: the settings of levels, acceptances, how a finding is shown.

use super::{Context, FigureOnPaper};
use crate::diag::{Diagnostic, Level, Sink};
use crate::resolve::Resolved;

/// A rule.
#[derive(Clone, Copy, Debug)]
pub struct Rule {
    /// Its name in messages, `levels` and `accept`.
    pub id: &'static str,
    /// The level where the manual sets none.
    pub level: Level,
    /// One line for lists of rules: what is found.
    pub summary: &'static str,
    /// The standard it comes from, or `common practice`, or `from memory`.
    pub source: &'static str,
    pub bending: Leave,
    /// The text of the rule's own source file; its head is the rule's page.
    pub file: &'static str,
    pub run: Run,
}

/// Whether the author may set the level of a rule and accept its findings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leave {
    /// The author decides.
    Allowed,
    /// With such a finding no document can be true.
    Refused,
}

/// What a rule looks at.
#[derive(Clone, Copy)]
pub enum Run {
    /// The sources and all configurations at once.
    Manual(fn(&Context) -> Sink),
    /// One configuration; the findings are marked with its name afterwards.
    Configuration(fn(&Context, &Resolved) -> Sink),
    /// One figure as it is printed.
    Placed(fn(&Context, &FigureOnPaper) -> Sink),
    /// Nothing: it is found while the sources are read. Where it is an error it stays one.
    Reading,
    /// Nothing: it is found while the documents are made, and settled then.
    OnPaper,
    /// The findings of the other rules against `levels` and `accept`; done when all are known.
    Settling,
}

impl std::fmt::Debug for Run {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::Manual(_) => "Manual",
            Self::Configuration(_) => "Configuration",
            Self::Placed(_) => "Placed",
            Self::Reading => "Reading",
            Self::OnPaper => "OnPaper",
            Self::Settling => "Settling",
        })
    }
}

impl Rule {
    /// A finding of this rule.
    pub fn found(&self, headline: impl Into<String>) -> Diagnostic {
        Diagnostic::new(self.id, self.level, headline)
    }

    /// The rule's page as Markdown: the head of its source file.
    pub fn page(&self) -> String {
        let lines = self.file.lines().map_while(|line| line.strip_prefix("//!"));
        let text: Vec<_> = lines.map(|line| line.strip_prefix(' ').unwrap_or(line)).collect();
        text.join("\n").trim().to_owned()
    }
}
