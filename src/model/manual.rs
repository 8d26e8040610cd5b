//! All of it.

use std::collections::BTreeMap;
use std::sync::Arc;

use indexmap::IndexMap;

use super::hardware::words;
use super::{Hardware, ListedHole, Opposite, Part, Roles, Settings, Step, Stock};
use crate::figure::FigureFile;
use crate::source::{Span, Spanned};
use crate::syntax::{Condition, Node, SourceTable, markdown};
use crate::units::{Date, Designation, FigureName, PartNumber, StepId, StockId};

/// A manual as written.
#[derive(Clone, Debug)]
pub struct Manual {
    pub settings: Settings,
    /// The names that steps may use in place of part numbers.
    pub roles: Roles,
    /// In the order of the parts list.
    pub parts: IndexMap<PartNumber, Part>,
    pub hardware: IndexMap<Designation, Hardware>,
    pub stock: IndexMap<StockId, Stock>,
    /// The rows of the list of holes, by part.
    pub holes: IndexMap<PartNumber, Vec<ListedHole>>,
    /// In natural path order.
    pub steps: Vec<Step>,
    pub pages: Vec<Page>,
    pub kits: Vec<Kit>,
    /// What kits were shipped with that their release does not say.
    pub deviations: Vec<Deviation>,
    /// Columns of the kit register that look like personal data.
    pub personal: Vec<Spanned<String>>,
    pub figures: BTreeMap<FigureName, FigureFile>,
    /// Pictures that are there but could not be read: known, so that they are not reported as missing too.
    pub broken_figures: std::collections::BTreeSet<FigureName>,
    pub accepts: Vec<Accept>,
    /// Every file of the folder, for rules about names.
    pub paths: Vec<String>,
    /// `manual.yaml` as written.
    pub front: Arc<Node>,
    /// The tables as written, by name.
    pub tables: BTreeMap<&'static str, Arc<SourceTable>>,
}

impl Manual {
    /// The rows of the list of holes that hold for a part: its own, else those of its opposite, which is its mirror
    /// image: sizes and distances are the same.
    pub fn holes_of(&self, part: &PartNumber) -> &[ListedHole] {
        let opposite = || self.parts.get(part)?.opposite.as_ref().and_then(|o| self.holes.get(&o.value));
        self.holes.get(part).or_else(opposite).map_or(&[], Vec::as_slice)
    }

    /// The steps that are written, without those that are made of them for the other hand.
    pub fn written_steps(&self) -> impl Iterator<Item = &Step> {
        self.steps.iter().filter(|s| !matches!(s.opposite, Opposite::Of(_)))
    }

    /// Whether a name is the number of a part.
    pub fn is_part(&self, name: &str) -> bool {
        self.parts.contains_key(&PartNumber::new(name))
    }

    /// Whether a name is that of a part or of hardware.
    pub fn is_listed(&self, name: &str) -> bool {
        self.is_part(name) || self.hardware.contains_key(&Designation::new(name))
    }

    /// The rows of the register about one kit.
    pub fn deviations_of(&self, serial: u32) -> impl Iterator<Item = &Deviation> {
        self.deviations.iter().filter(move |d| d.serial.value == serial)
    }
}

/// Text around the steps.
#[derive(Clone, Debug)]
pub struct Page {
    pub kind: PageKind,
    pub title: Option<String>,
    pub only: Option<Spanned<Condition>>,
    pub body: Vec<markdown::MdBlock>,
    pub span: Span,
    /// The front matter as written.
    pub front: Arc<Node>,
}

/// Where a page stands; the order is that of the contents of a kit's instructions (ASTM F2563-16, as paraphrased).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PageKind {
    HowToUse,
    Safety,
    Standards,
    Terms,
    Builder,
    Workplace,
    FinalInspection,
    Tests,
    Further,
}

impl PageKind {
    pub const ALL: [Self; 9] = [
        Self::HowToUse,
        Self::Safety,
        Self::Standards,
        Self::Terms,
        Self::Builder,
        Self::Workplace,
        Self::FinalInspection,
        Self::Tests,
        Self::Further,
    ];

    /// The word of the `page` key.
    pub fn word(self) -> &'static str {
        match self {
            Self::HowToUse => "how-to-use",
            Self::Safety => "safety",
            Self::Standards => "standards",
            Self::Terms => "terms",
            Self::Builder => "builder",
            Self::Workplace => "workplace",
            Self::FinalInspection => "final-inspection",
            Self::Tests => "tests",
            Self::Further => "further",
        }
    }
}

/// A kit that was shipped.
#[derive(Clone, Debug)]
pub struct Kit {
    pub serial: Spanned<u32>,
    pub configuration: Spanned<String>,
    pub release: Option<Spanned<String>>,
    /// When it was shipped.
    pub date: Option<Spanned<Date>>,
    pub status: Option<Spanned<String>>,
    /// Notices that the builder has answered, each by the letter of its release, its lot or its part, without the date.
    pub answered: Vec<String>,
}

words! {
    /// What is otherwise in a kit than its release says.
    DeviationKind {
        Substituted = "substituted",
        Lot = "lot",
        BackOrder = "back order",
        SentLater = "sent later",
        InAddition = "sent in addition",
    }
}

/// A place in a kit that a deviation is about.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct KitPlace {
    pub step: Spanned<StepId>,
    /// A joint of the step; the whole step where none is named.
    pub joint: Option<Spanned<String>>,
}

impl std::fmt::Display for KitPlace {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match &self.joint {
            Some(joint) => write!(f, "{}/{}", self.step.value, joint.value),
            None => write!(f, "{}", self.step.value),
        }
    }
}

/// A row of `shipped.csv`: what is otherwise in one kit.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Deviation {
    pub serial: Spanned<u32>,
    /// A part number or a designation.
    pub item: Spanned<String>,
    pub kind: DeviationKind,
    /// What was put in its place.
    pub with: Option<Spanned<String>>,
    /// Where; everywhere in the kit where nothing is written.
    pub places: Vec<KitPlace>,
    /// How many; all of them where it is not written.
    pub quantity: Option<Spanned<i64>>,
    /// Who has allowed a substitution, under which reference, when.
    pub approved: Option<Spanned<String>>,
    pub lot: Option<Spanned<String>>,
    /// The release under which it was sent.
    pub release: Option<Spanned<String>>,
    /// When it was sent.
    pub date: Option<Spanned<Date>>,
    /// When what is on back order is expected to follow.
    pub expected: Option<Spanned<Date>>,
    pub note: String,
    /// The row.
    pub span: Span,
}

/// What is said of who allowed a substitution.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Approval {
    pub date: Date,
    /// Whether a reference is named: a word with a digit in it that is not the date.
    pub reference: bool,
}

impl Deviation {
    /// What is really in the kit: what was put in the place of the item, else the item itself.
    pub fn given(&self) -> &str {
        &self.with.as_ref().unwrap_or(&self.item).value
    }

    /// What is said of who allowed it; none where it is not said who, or when.
    pub fn approval(&self) -> Option<Approval> {
        let text = &self.approved.as_ref()?.value;
        let words: Vec<&str> =
            text.split(|c: char| c.is_whitespace() || matches!(c, ',' | ';')).filter(|w| !w.is_empty()).collect();
        let date = words.iter().find_map(|w| Date::parse(w))?;
        let others = || words.iter().filter(|w| Date::parse(w).is_none());
        others().next()?;
        Some(Approval { date, reference: others().any(|w| w.bytes().any(|b| b.is_ascii_digit())) })
    }
}

/// A finding that the author has accepted, with the reason.
#[derive(Clone, Debug)]
pub struct Accept {
    pub rule: Spanned<String>,
    /// The thing the finding is about; any where it is not given.
    pub about: Option<Spanned<String>>,
    pub reason: String,
    pub span: Span,
    /// Written in a step's file: holds for findings in that file alone.
    pub in_file: Option<crate::source::FileId>,
}
