//! What the pages at the bench need beside the words: where things lie and are used, what a measure allows.

use std::collections::BTreeMap;

use super::pick_row::PickRow;
use crate::units::{Measure, Quantity, Rational, StepId};

/// What a measured value has to keep to. Without either bound it can't be judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Neither may be left out where a tolerance is given.
    pub low: Option<Measure>,
    pub high: Option<Measure>,
    /// What is wanted where there is no tolerance.
    pub target: Option<Measure>,
}

/// How long a bond cures, from the coldest temperature to the warmest.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CureTimes {
    /// Below this it does not cure; in degrees Celsius.
    pub least: Option<Rational>,
    /// Degrees Celsius, and the minutes that each state takes from there on: of a bond two, the first may not be told; of
    /// what is waited for one.
    pub times: Vec<(Rational, Vec<Option<i64>>)>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ThingKind {
    Part,
    Hardware,
    Tool,
    Consumable,
}

impl ThingKind {
    pub fn word(self) -> &'static str {
        match self {
            Self::Part => "part",
            Self::Hardware => "hardware",
            Self::Tool => "tool",
            Self::Consumable => "consumable",
        }
    }
}

/// A thing that steps use.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BenchThing {
    pub kind: ThingKind,
    /// Part number or designation; empty for tools and consumables.
    pub designation: String,
    pub name: String,
    /// How many lie in its bag, the spares not counted; none for tools and consumables.
    pub quantity: Option<Quantity>,
    /// What is otherwise in this kit: on back order, in addition, in place of something.
    pub notes: Vec<String>,
    /// How many more lie in the bag of the spares.
    pub spares: Quantity,
    pub bag: String,
    pub crate_: String,
    /// In the order of the steps.
    pub steps: Vec<StepId>,
}

/// What has to be before a step can be begun, and what it takes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StepBeginning {
    /// None where the manual does not say.
    pub hours: Option<Rational>,
    /// The steps that have to be done, in the order of the work, and what each of them gives: an assembly, a part or a
    /// piece of one; nothing where it is the order alone.
    pub waits: Vec<(StepId, Vec<String>)>,
    /// Who signs it.
    pub signs: Vec<String>,
    /// What it glues, as the record names it, and its number in the list.
    pub glues: Vec<(String, usize)>,
    /// What must have cured: the bond as the record names it, the step that glues it, its number in the list.
    pub cured: Vec<(String, StepId, usize)>,
}

/// The data of one configuration's pages.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bench {
    pub picks: Vec<PickRow>,
    pub things: Vec<BenchThing>,
    /// By step and the number of the measure in its list.
    pub limits: BTreeMap<(StepId, usize), Limits>,
    /// By step, field (`bonds` or `cured`) and the item's number in its list.
    pub cures: BTreeMap<(StepId, &'static str, usize), CureTimes>,
    /// The steps that wait for an item on back order.
    pub owed: Vec<(StepId, String)>,
    pub beginnings: BTreeMap<StepId, StepBeginning>,
    /// Words for one thing: a search for one of them finds the others.
    pub everyday: Vec<Vec<String>>,
}
