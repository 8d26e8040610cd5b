//! `manual.yaml`.

use std::collections::BTreeMap;

use indexmap::IndexMap;

use super::bond::Adhesive;
use crate::diag::Level;
use crate::geometry::Bend;
use crate::source::Spanned;
use crate::syntax::Condition;
use crate::trade::{SlideLimits, Spacing, fit::FitRules};
use crate::units::{
    ConsumableId, Hand, Length, OptionName, Paper, Rational, SectionId, StepStart, ToolId, UnitStyle, VariantName,
};

/// What joints and holes are held against.
#[derive(Clone, Debug, Default)]
pub struct Fastening {
    pub fit: FitRules,
    pub spacing: Spacing,
    /// A step that names this tool deburrs the holes it drills.
    pub deburr_with: Option<Spanned<ToolId>>,
    /// A step that names this consumable primes the holes it drills, and every hole is to be primed.
    pub prime_with: Option<Spanned<ConsumableId>>,
    /// Consumables that keep unlike metals apart; empty where the manual does not say, then by their titles.
    pub seal_with: Vec<Spanned<ConsumableId>>,
}

/// Where the neutral axis of a bend lies from its inside, as a part of the thickness (of a tube, of its diameter).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NeutralAxis {
    pub sheet: Rational,
    pub tube: Rational,
}

impl Default for NeutralAxis {
    fn default() -> Self {
        Self { sheet: Bend::NEUTRAL, tube: Bend::TUBE }
    }
}

/// The settings of a manual.
#[derive(Clone, Debug)]
pub struct Settings {
    pub title: String,
    pub subtitle: String,
    pub maker: String,
    pub number: String,
    pub language: String,
    pub variants: IndexMap<VariantName, VariantDef>,
    pub options: IndexMap<OptionName, OptionDef>,
    pub groups: Vec<OptionGroup>,
    /// The configurations whose documents are made.
    pub configurations: Vec<Configured>,
    pub serial: Option<u32>,
    pub sections: Vec<Section>,
    pub units: UnitStyle,
    pub paper: Paper,
    /// Thickness of the paper that templates are printed on.
    pub paper_thickness: Length,
    /// Pairs of side words of the manual's own, beside left and right, port and starboard.
    pub side_words: Vec<(String, String)>,
    /// Phrases that stay as they are in every opposite step.
    pub opposite_keep: Vec<String>,
    pub step_start: StepStart,
    /// Whether a grey print may show colours that it can't tell apart as hatches and dashes.
    pub hatching: bool,
    pub hand_suffixes: Option<(String, String)>,
    pub fastening: Fastening,
    pub kerf: Length,
    /// What offsets are measured from, by id.
    pub datums: BTreeMap<String, Spanned<String>>,
    pub bending: NeutralAxis,
    pub telescoping: SlideLimits,
    /// Thickness on each surface, by finish as the parts list names it.
    pub finish_thickness: BTreeMap<String, Length>,
    /// By kind of hardware, as a share: 0.05 for 5 %.
    pub spares: BTreeMap<String, Rational>,
    pub signal_words: SignalWords,
    pub tools: IndexMap<ToolId, Spanned<String>>,
    pub consumables: IndexMap<ConsumableId, Spanned<String>>,
    pub adhesives: IndexMap<ConsumableId, Adhesive>,
    /// 0xRRGGBB
    pub accent: u32,
    /// Path of the author's font for text, relative to the manual's folder.
    pub font: Option<Spanned<String>>,
    /// How large the folder of a stick may be, in MB (10^6 bytes).
    pub stick_size: u64,
    /// None is `off`.
    pub levels: BTreeMap<String, Spanned<Option<Level>>>,
}

#[derive(Clone, Debug)]
pub struct VariantDef {
    pub name: Spanned<VariantName>,
    pub title: String,
    pub based_on: Option<Spanned<VariantName>>,
    /// No longer sold.
    pub supported_only: bool,
}

#[derive(Clone, Debug)]
pub struct OptionDef {
    pub name: Spanned<OptionName>,
    pub title: String,
    /// The variants that may carry it.
    pub only: Option<Spanned<Condition>>,
    pub excludes: Vec<Spanned<OptionName>>,
    pub requires: Vec<Spanned<OptionName>>,
}

/// Options of which a kit carries one, or at most one.
#[derive(Clone, Debug)]
pub struct OptionGroup {
    pub title: String,
    pub members: Vec<Spanned<OptionName>>,
    /// `one-of`; else `at-most-one-of`.
    pub required: bool,
}

/// `VARIANT+option+option` as written.
#[derive(Clone, Debug)]
pub struct Configured {
    pub variant: Spanned<VariantName>,
    pub options: Vec<Spanned<OptionName>>,
}

#[derive(Clone, Debug)]
pub struct Section {
    pub id: Spanned<SectionId>,
    pub title: String,
    pub intro: Option<String>,
    /// All steps of one hand before their opposites; else each beside its opposite.
    pub hands_apart: bool,
}

/// What the word CAUTION means: a setting, stated on the safety page.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum SignalWords {
    /// ANSI Z535.6: CAUTION is injury, NOTICE is damage.
    #[default]
    Ansi,
    /// As in aviation manuals: CAUTION is damage to equipment, NOTE is help.
    Aviation,
}

impl Settings {
    /// The variant and those it is based on, nearest first. Stops at a circle.
    pub fn lineage<'a>(&'a self, variant: &'a VariantName) -> Vec<&'a VariantName> {
        let mut line = vec![variant];
        while let Some(base) = self.variants.get(line[line.len() - 1]).and_then(|v| v.based_on.as_ref()) {
            if line.contains(&&base.value) {
                break;
            }
            line.push(&base.value);
        }
        line
    }

    /// The hand that a part number's suffix says, by the manual's suffixes.
    pub fn hand_of_number(&self, number: &str) -> Option<Hand> {
        let (left, right) = self.hand_suffixes.as_ref()?;
        if number.ends_with(left.as_str()) {
            Some(Hand::Left)
        } else if number.ends_with(right.as_str()) {
            Some(Hand::Right)
        } else {
            None
        }
    }
}
