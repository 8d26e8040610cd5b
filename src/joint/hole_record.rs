//! What is known of one named hole of a part: how it comes, what was done to it, how large it is.

use crate::model::{Hole, StepItem};
use crate::resolve::ResolvedStep;
use crate::trade::Drill;
use crate::units::{Designation, Length, PartNumber};

/// How a hole is in the crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Supply {
    /// Not there.
    None,
    Pilot,
    Full,
}

impl Supply {
    pub fn word(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::Pilot => "pilot",
            Self::Full => "full size",
        }
    }
}

/// Something done to a hole.
#[derive(Clone, Copy, Debug)]
pub struct Work<'a> {
    pub step: &'a ResolvedStep,
    pub hole: &'a StepItem<Hole>,
}

/// Holes of one size under one name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct HoleGroup {
    /// A pilot hole of the maker that nobody has opened yet.
    pub pilot: bool,
    /// `None` is not known.
    pub size: Option<Length>,
    pub count: i64,
}

/// A named hole of a part; several may have the same name.
#[derive(Clone, Debug)]
pub struct HoleRecord<'a> {
    pub part: &'a PartNumber,
    /// Empty where the step gives it none.
    pub name: &'a str,
    pub supply: Supply,
    /// How many the list of holes says there are as supplied, on all pieces; `None` where it does not say.
    pub listed: Option<i64>,
    pub work: Vec<Work<'a>>,
    /// As they are now.
    pub groups: Vec<HoleGroup>,
    /// Drilled or opened since they were last deburred.
    pub burred: Option<Work<'a>>,
    /// Primed, and bare again since by this work.
    pub bare: Option<Work<'a>>,
    pub primed: bool,
    /// What it is for, as last said.
    pub for_: Option<&'a Designation>,
    /// The parts it was drilled through together with.
    pub partners: Vec<&'a PartNumber>,
}

impl<'a> HoleRecord<'a> {
    pub(super) fn new(part: &'a PartNumber, name: &'a str, supply: Supply) -> Self {
        Self {
            part,
            name,
            supply,
            listed: None,
            work: Vec::new(),
            groups: Vec::new(),
            burred: None,
            bare: None,
            primed: false,
            for_: None,
            partners: Vec::new(),
        }
    }

    /// Adds holes of a size.
    pub(super) fn drill(&mut self, size: Option<Length>, count: i64) {
        self.groups.push(HoleGroup { pilot: false, size, count });
    }

    /// Makes holes larger, pilot holes first, then those of the smallest size, and answers how many were not there.
    /// Where it is not known how many come as pilot holes they are there.
    pub(super) fn open(&mut self, size: Option<Length>, count: i64) -> i64 {
        let mut left = count;
        self.groups.sort_by_key(|g| (!g.pilot, g.size));
        for group in &mut self.groups {
            if group.pilot || size.is_none() || group.size.is_none_or(|k| Some(k) < size) {
                let taken = left.min(group.count);
                group.count -= taken;
                left -= taken;
            }
        }
        self.groups.retain(|g| g.count > 0);
        self.drill(size, count);
        if self.supply == Supply::Pilot && self.listed.is_none() { 0 } else { left }
    }

    /// The largest size there is now, pilot holes left out.
    pub fn largest(&self) -> Option<Length> {
        self.groups.iter().filter(|g| !g.pilot).filter_map(|g| g.size).max()
    }

    /// The smallest size there is now, pilot holes included; none where one is not known.
    pub(super) fn least(&self) -> Option<Length> {
        let sizes: Option<Vec<Length>> = self.groups.iter().map(|g| g.size).collect();
        sizes?.into_iter().min()
    }

    /// How many there are, drilled or opened or supplied in a known number.
    pub fn count(&self) -> i64 {
        self.groups.iter().map(|g| g.count).sum()
    }

    /// Whether a fastener in it can't be judged: it is there in full size, and how large or how often is not told.
    pub fn unknown(&self) -> bool {
        let untold = self.supply == Supply::Full && self.listed.is_none() && self.work.is_empty();
        untold || self.groups.iter().any(|g| !g.pilot && g.size.is_none())
    }

    /// The drill and the reamer of the last work that says one.
    pub fn tools(&self) -> (Option<Drill>, Option<Drill>) {
        let last = self.work.iter().rev().map(|w| &w.hole).find(|h| h.drill.is_some() || h.reamer.is_some());
        last.map_or((None, None), |h| (h.drill.map(|d| d.value), h.reamer.map(|r| r.value)))
    }
}
