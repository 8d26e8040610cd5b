//! Why something that was asked for can't be done.

use crate::source::LoadError;

/// Why something that was asked for can't be done, and what to do. It has no place in the sources; what has one is a
/// finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// Lower case, no full stop, stands alone.
    pub headline: String,
    pub help: String,
}

impl Refusal {
    pub fn new(headline: impl Into<String>, help: impl Into<String>) -> Self {
        Self { headline: headline.into(), help: help.into() }
    }
}

impl From<LoadError> for Refusal {
    fn from(error: LoadError) -> Self {
        Self::new(
            format!("the manual's folder can't be read: {error}"),
            "check that the folder is there and may be read",
        )
    }
}

impl std::fmt::Display for Refusal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        writeln!(f, "error: {}\n  what to do: {}", self.headline, self.help)
    }
}
