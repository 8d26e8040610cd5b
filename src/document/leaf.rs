//! Documents and their leaves.

use std::sync::Arc;

use super::bars::Bars;
use super::block::Block;
use super::inline::{Anchor, Inlines};
use crate::units::{Paper, StepStart, UnitStyle};

/// What a document is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Purpose {
    /// For the builder: colour, bag and crate.
    Manual,
    /// For the bench: grey, larger text, boxes to tick, bin.
    ShopCopy,
    /// Cards that say what to pull.
    PickLists,
    /// What has to be in every crate and bag, to be counted on arrival.
    Receiving,
    /// Paper to cut along, at full size.
    Templates,
    /// What differs, notices, conversions: for maker and builder.
    Report,
}

/// What every page of a document may say.
#[derive(Clone, Debug, PartialEq)]
pub struct Meta {
    /// The product line.
    pub title: Arc<str>,
    pub subtitle: Arc<str>,
    pub maker: Arc<str>,
    /// The document number.
    pub number: Arc<str>,
    /// `ICE+claw`, of a kit `kit-0147`: the name of its folder.
    pub configuration: Arc<str>,
    /// `ICE+claw`, of a kit too.
    pub variant_and_options: Arc<str>,
    /// The kit's serial number; empty where it is not for one kit.
    pub kit: Arc<str>,
    /// The variant and options in words.
    pub configuration_title: Arc<str>,
    /// A letter and a date, or that it is a working copy.
    pub release: Arc<str>,
    /// BCP 47.
    pub language: Arc<str>,
    pub units: UnitStyle,
    pub paper: Paper,
    pub step_start: StepStart,
    /// Whether paper is printed on both sides.
    pub duplex: bool,
    /// Whether a grey print may show colours that it can't tell apart as hatches and dashes.
    pub hatching: bool,
    /// The accent colour, 0xRRGGBB.
    pub accent: u32,
    /// Path of a font file of the author's for text, relative to the manual's folder.
    pub font: Option<Arc<str>>,
}

/// A document: the leaves in reading order.
#[derive(Clone, Debug, PartialEq)]
pub struct Document {
    pub purpose: Purpose,
    /// What this document is called: `Build manual`, `Shop copy`, `Pick lists`.
    pub name: Arc<str>,
    pub meta: Meta,
    pub leaves: Vec<Leaf>,
    /// What changed since the last release.
    pub bars: Bars,
}

/// What a leaf is; decides its place in the navigation and its page style.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LeafRole {
    Title,
    /// Text around the steps, before or after them.
    Text,
    Contents,
    /// A section's opening: its intro and its steps.
    Section,
    Step,
    /// Parts, hardware, tools, consumables.
    Index,
    Results,
    /// A pick list card: several fit on a page.
    Card,
}

/// One page of HTML; a run of pages on paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Leaf {
    /// Unique in the document; the HTML file's name is derived from it.
    pub anchor: Anchor,
    pub role: LeafRole,
    /// `3` for a section, `3.12` for a step.
    pub number: Option<Arc<str>>,
    pub title: Inlines,
    /// The leaf above in the outline: a step's section.
    pub parent: Option<Anchor>,
    pub blocks: Vec<Block>,
}
