//! What a document says of its own state: the release it belongs to, and what changed when.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::bars::Bars;
use crate::units::StepId;

/// A line of the record of revisions.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Revision {
    pub letter: String,
    pub date: String,
    pub class: &'static str,
    pub summary: String,
    /// It changes, adds and drops no step of the configuration.
    pub no_step: bool,
}

/// Where the papers of the bench say that a thing lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LiesIn {
    /// In the shop.
    #[default]
    Bins,
    /// At the builder's, who has no bins.
    Bags,
}

/// The state of a document.
#[derive(Clone, Debug, PartialEq)]
pub struct Edition {
    /// On every page: `Release B, 2026-03-01, 1a2b3c4d`, or that it is a working copy.
    pub state: Arc<str>,
    pub released: bool,
    /// Oldest first.
    pub revisions: Vec<Revision>,
    /// For each step the letter of its last change; empty where nothing was released.
    pub letters: BTreeMap<StepId, String>,
    /// Of the manual.
    pub bars: Bars,
    /// Of the shop copy, which shows more: bins.
    pub shop_bars: Bars,
    /// In the papers of the bench; the manual names bags always.
    pub lies_in: LiesIn,
}

impl Default for Edition {
    /// A working copy of what was never released.
    fn default() -> Self {
        Self {
            state: "working copy, not released".into(),
            released: false,
            revisions: Vec::new(),
            letters: BTreeMap::new(),
            bars: Bars::default(),
            shop_bars: Bars::default(),
            lies_in: LiesIn::Bins,
        }
    }
}
