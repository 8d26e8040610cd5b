//! Where a built-in value comes from.

use crate::units::Length;

/// How good a built-in value is. Ordered from the weakest to the strongest, so that a result worked out of
/// several values has the least of their sources.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Source {
    /// Recalled, not read in a publication. It can warn; it never fails a build.
    FromMemory,
    /// A rule of the trade without one governing publication.
    CommonPractice,
    /// Worked out by the named rule, which reproduces the published values it was checked against.
    Computed(&'static str),
    /// Read in the named publication.
    Published(&'static str),
}

impl Source {
    /// Whether a finding that rests on this source may fail a build.
    pub fn may_fail(self) -> bool {
        self != Self::FromMemory
    }

    /// How the source is named where the value is shown.
    pub fn words(self) -> &'static str {
        match self {
            Self::FromMemory => "from memory",
            Self::CommonPractice => "common practice",
            Self::Computed(rule) => rule,
            Self::Published(publication) => publication,
        }
    }
}

/// A value and where it comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Cited<T> {
    pub value: T,
    pub source: Source,
}

impl<T> Cited<T> {
    pub fn new(value: T, source: Source) -> Self {
        Self { value, source }
    }

    /// A value without a governing publication that was read.
    pub fn from_memory(value: T) -> Self {
        Self::new(value, Source::FromMemory)
    }

    /// The same source for a value worked out of this one.
    pub fn map<U>(self, f: impl FnOnce(T) -> U) -> Cited<U> {
        Cited { value: f(self.value), source: self.source }
    }

    /// A value worked out of two; its source is the weaker.
    pub fn join<U, V>(self, other: Cited<U>, f: impl FnOnce(T, U) -> V) -> Cited<V> {
        Cited { value: f(self.value, other.value), source: self.source.min(other.source) }
    }
}

/// Thousandths of an inch, as the tables print them.
pub(super) fn mils(thousandths: i64) -> Length {
    Length::inches(thousandths, 1000)
}
