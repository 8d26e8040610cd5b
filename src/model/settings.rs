//! `manual.yaml`.

use std::collections::BTreeMap;

use indexmap::IndexMap;

use super::bond::Adhesive;
use super::hardware::HardwareKind;
use super::joint_kind::JointKinds;
use crate::diag::Level;
use crate::geometry::Bend;
use crate::source::Spanned;
use crate::syntax::Condition;
use crate::trade::fit::{FitLimit, FitRules, InHole};
use crate::trade::{Cited, Decoded, Friction, Profile, SlideLimits, Spacing};
use crate::units::{
    ConsumableId, FigureName, Hand, Length, OptionName, Paper, Rational, SectionId, StepStart, ToolId, UnitStyle,
    VariantName,
};

/// What joints and holes are held against.
#[derive(Clone, Debug, Default)]
pub struct Fastening {
    /// The trade whose limits hold, with where it is named; none where the manual names none.
    pub trade: Option<Spanned<Profile>>,
    pub own: OwnLimits,
    pub friction: Friction,
    pub spacing: Spacing,
    /// A step that names this tool deburrs the holes it drills.
    pub deburr_with: Option<Spanned<ToolId>>,
    /// A step that names this consumable primes the holes it drills, and every hole is to be primed.
    pub prime_with: Option<Spanned<ConsumableId>>,
    /// Consumables that keep unlike metals apart; empty where the manual does not say, then by their titles.
    pub seal_with: Vec<Spanned<ConsumableId>>,
}

/// Limits that the manual sets itself, in the place of its trade's.
#[derive(Clone, Copy, Debug, Default)]
pub struct OwnLimits {
    pub threads_past: Option<Cited<i64>>,
    pub most_threads_past: Option<Cited<i64>>,
    pub washers: Option<Cited<usize>>,
    pub thread_in_hole: Option<Cited<Length>>,
}

/// What decided a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DecidedBy {
    /// `fastening` of the manual.
    Manual,
    /// `trade` of the manual: its word.
    Trade(&'static str),
    /// A published rule for this hardware, which the manual's trade does not loosen.
    Published,
    /// Nothing is said: the usual limits.
    Usual,
}

impl Fastening {
    /// The profile that holds for a bolt. Inch hardware of the aircraft standards keeps its published rules in every trade.
    fn profile(&self, bolt: Option<&Decoded>) -> (Profile, DecidedBy) {
        let trade = self.trade.as_ref().map(|t| t.value);
        match trade {
            None => (Profile::default(), DecidedBy::Usual),
            Some(trade) if trade.name != Profile::default().name && bolt.is_some_and(Decoded::of_aircraft_standard) => {
                (Profile::default(), DecidedBy::Published)
            }
            Some(trade) => (trade, DecidedBy::Trade(trade.name)),
        }
    }

    /// The limits for joints with a bolt.
    pub fn fit(&self, bolt: Option<&Decoded>) -> FitRules {
        let mut rules = self.profile(bolt).0.fit;
        let own = &self.own;
        rules.threads_past = own.threads_past.unwrap_or(rules.threads_past);
        rules.most_threads_past = own.most_threads_past.unwrap_or(rules.most_threads_past);
        rules.washers = own.washers.unwrap_or(rules.washers);
        if let Some(limit) = own.thread_in_hole {
            rules.thread_in_hole = limit;
            rules.in_hole = InHole::Everywhere;
        }
        rules
    }

    /// What decided one of them.
    pub fn decided(&self, limit: FitLimit, bolt: Option<&Decoded>) -> DecidedBy {
        let own = match limit {
            FitLimit::ThreadsPast => self.own.threads_past.is_some(),
            FitLimit::MostThreadsPast => self.own.most_threads_past.is_some(),
            FitLimit::Washers => self.own.washers.is_some(),
            FitLimit::ThreadInHole => self.own.thread_in_hole.is_some(),
        };
        if own { DecidedBy::Manual } else { self.profile(bolt).1 }
    }

    /// Whether a self-locking nut may hold a bolt that turns in a place where nobody's life hangs on it.
    pub fn locking_nut_may_turn(&self, bolt: &Decoded) -> bool {
        self.profile(Some(bolt)).0.locking_nut_may_turn
    }

    /// Whether a designer's torque needs a reason where no table has one.
    pub fn torque_wants_reason(&self, bolt: Option<&Decoded>) -> bool {
        self.profile(bolt).0.torque_wants_reason
    }
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
    /// Words of the manual, and what people also call it, with commas between: for the search of the pages.
    pub everyday_words: Vec<(String, String)>,
    pub step_start: StepStart,
    /// Whether paper is printed on both sides.
    pub duplex: bool,
    /// Whether a grey print may show colours that it can't tell apart as hatches and dashes.
    pub hatching: bool,
    pub hand_suffixes: Option<(String, String)>,
    pub fastening: Fastening,
    pub joint_kinds: JointKinds,
    pub kerf: Length,
    /// What offsets are measured from, by id.
    pub datums: BTreeMap<String, Spanned<String>>,
    pub bending: NeutralAxis,
    pub telescoping: SlideLimits,
    /// Thickness on each surface, by finish as the parts list names it.
    pub finish_thickness: BTreeMap<String, Length>,
    /// By kind of hardware.
    pub spares: BTreeMap<HardwareKind, Spare>,
    /// The bag that they lie in; empty where none is named.
    pub spares_bag: String,
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

/// Whether a variant or an option can be called so: the name names a folder of the output and stands in conditions.
pub fn is_usable_name(name: &str) -> bool {
    let plain = |c: char| c.is_alphanumeric() || c == '-' || c == '_';
    let reserved = ["and", "or", "not", "serial", "based"].contains(&name);
    !reserved && name.starts_with(char::is_alphanumeric) && name.chars().all(plain) && name.chars().count() <= 40
}

/// What to do about a name that is not.
pub const USABLE_NAME: &str = "use at most 40 letters, digits, `-` and `_`, beginning with a letter or digit, and not and, or, not, serial, based";

#[derive(Clone, Debug)]
pub struct VariantDef {
    pub name: Spanned<VariantName>,
    pub title: String,
    pub based_on: Option<Spanned<VariantName>>,
    /// Whether conditions that name what it is based on mean it as well; not said where it is none.
    pub inherits_conditions: Option<Spanned<bool>>,
    /// No longer sold.
    pub supported_only: bool,
    /// What the title page shows, and that in words.
    pub figure: Option<Spanned<FigureName>>,
    pub alt: Option<Spanned<String>>,
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
    /// Whether the words of the manual are English, whose verbs and colours are known; so where no language is said.
    pub fn is_english(&self) -> bool {
        self.language.is_empty() || self.language.to_ascii_lowercase().starts_with("en")
    }

    /// What a tool is called; its id where it is not named.
    pub fn tool_title<'a>(&'a self, id: &'a ToolId) -> &'a str {
        self.tools.get(id).map_or(id.as_str(), |title| title.value.as_str())
    }

    /// What a consumable is called; its id where it is not named.
    pub fn consumable_title<'a>(&'a self, id: &'a ConsumableId) -> &'a str {
        self.consumables.get(id).map_or(id.as_str(), |title| title.value.as_str())
    }

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

    /// The variants whose conditions mean `variant` too: those that it is based on, nearest first, as far as each says
    /// `inherits-conditions: yes`.
    pub fn inherited<'a>(&'a self, variant: &'a VariantName) -> Vec<&'a VariantName> {
        let says_yes = |v: &VariantName| {
            self.variants.get(v).and_then(|d| d.inherits_conditions.as_ref()).is_some_and(|inherits| inherits.value)
        };
        if !says_yes(variant) {
            return Vec::new();
        }
        self.lineage(variant).windows(2).take_while(|pair| says_yes(pair[0])).map(|pair| pair[1]).collect()
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

/// How many more of a kind of hardware than the steps need.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spare {
    /// Of what is needed: 0.05 for 5 %.
    pub share: Rational,
    pub least: i64,
}
