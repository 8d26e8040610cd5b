//! Why a picture can't be carried.

use std::ops::Range;

/// Why a picture can't be carried, and what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FigureFault {
    /// Lower case, no full stop, stands alone.
    pub headline: String,
    pub help: String,
    /// In an SVG the bytes that are wrong, where they are known.
    pub range: Option<Range<usize>>,
}

impl FigureFault {
    pub(super) fn new(headline: impl Into<String>, help: impl Into<String>) -> Self {
        Self { headline: headline.into(), help: help.into(), range: None }
    }

    pub(super) fn at(self, range: Range<usize>) -> Self {
        Self { range: Some(range), ..self }
    }

    /// The file holds the beginning of a picture and not the whole of it, or other bytes than were written.
    pub(super) fn broken(kind: &str) -> Self {
        Self::new(
            format!("the {kind} picture is broken or cut off"),
            "copy it again from where it was made, or save it again from a picture program",
        )
    }

    /// The picture has more pixels than are read.
    pub(super) fn too_large(width: u64, height: u64) -> Self {
        Self::new(
            format!("the picture has {width} by {height} pixels, more than are read"),
            format!(
                "make it smaller; up to {} million pixels are read, and 3,000 across fill a page",
                super::limits::MOST_PIXELS / 1_000_000
            ),
        )
    }
}

impl std::fmt::Display for FigureFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.headline)
    }
}

impl std::error::Error for FigureFault {}
