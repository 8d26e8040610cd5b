//! What a release, a lot or a part means for the kits in the field.
//!
//! Owns: the values of a notice. Must not know: where they come from, how they are shown.

use super::compare::ItemChange;
use super::release::Class;
use crate::units::{Quantity, StepId};

/// What a notice is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Subject {
    /// The letter.
    Release(String),
    Lot(String),
    /// A part number or a designation.
    Part(String),
}

impl Subject {
    /// As the register names it: `C`, `lot 4711`, `part SK-112`.
    pub fn name(&self) -> String {
        match self {
            Self::Release(letter) => letter.clone(),
            Self::Lot(lot) => format!("lot {lot}"),
            Self::Part(part) => format!("part {part}"),
        }
    }
}

/// A notice for all kits of the register.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    pub subject: Subject,
    pub class: Class,
    /// Of the release; none for a lot or a part.
    pub date: Option<String>,
    pub summary: String,
    pub kits: Vec<KitNotice>,
}

/// Whether a notice concerns a kit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Concern {
    Yes,
    /// It does, and the builder has answered.
    Answered,
    /// It does not, and why.
    No(String),
    /// The register does not tell, and what is missing.
    Unknown(String),
}

impl Concern {
    pub fn word(&self) -> &'static str {
        match self {
            Self::Yes => "yes",
            Self::Answered => "answered",
            Self::No(_) => "no",
            Self::Unknown(_) => "not known",
        }
    }

    /// Why not, or what is missing; empty otherwise.
    pub fn reason(&self) -> &str {
        match self {
            Self::Yes | Self::Answered => "",
            Self::No(why) | Self::Unknown(why) => why,
        }
    }
}

/// A notice for one kit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KitNotice {
    pub serial: u32,
    pub configuration: String,
    pub release: Option<String>,
    pub status: Option<String>,
    pub concern: Concern,
    pub steps: Vec<NoticeStep>,
    /// Pages around the steps that change.
    pub pages: Vec<String>,
    pub send: Vec<Sent>,
}

/// What became of a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StepFate {
    New,
    Changed,
    Dropped,
    /// It handles the lot or the part.
    Handles,
}

impl StepFate {
    pub fn word(self) -> &'static str {
        match self {
            Self::New => "new",
            Self::Changed => "changed",
            Self::Dropped => "dropped",
            Self::Handles => "handles it",
        }
    }
}

/// A step that a notice concerns.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoticeStep {
    pub id: StepId,
    pub number: String,
    pub title: String,
    pub fate: StepFate,
    pub items: Vec<ItemChange>,
    /// For who has done the step as it was.
    pub built: Vec<BuiltText>,
}

/// What to do where a step is done already.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BuiltText {
    pub inspect: Option<String>,
    pub undo: Option<String>,
    pub redo: Option<String>,
}

/// Something to send to a builder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sent {
    /// A part number or a designation: what is supplied today.
    pub item: String,
    pub title: String,
    pub quantity: Quantity,
    pub bin: String,
    /// Why: `added`, `in place of SK-112`, `for those who have done the step`.
    pub why: String,
}
