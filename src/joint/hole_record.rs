//! What is known of one named hole of a part: how it comes, what was done to it, how large it is.

use crate::model::{Hole, Item};
use crate::resolve::ResolvedStep;
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
    pub hole: &'a Item<Hole>,
}

/// A named hole of a part; several may have the same name.
#[derive(Clone, Debug)]
pub struct HoleRecord<'a> {
    pub part: &'a PartNumber,
    /// Empty where the step gives it none.
    pub name: &'a str,
    pub supply: Supply,
    pub work: Vec<Work<'a>>,
    /// How many were drilled or opened, by size, as they are now; `None` is a size that is not known.
    pub sizes: Vec<(Option<Length>, i64)>,
    /// Drilled or opened since they were last deburred.
    pub burred: Option<Work<'a>>,
    /// What it is for, as last said.
    pub for_: Option<&'a Designation>,
}

impl<'a> HoleRecord<'a> {
    pub(super) fn new(part: &'a PartNumber, name: &'a str, supply: Supply) -> Self {
        Self { part, name, supply, work: Vec::new(), sizes: Vec::new(), burred: None, for_: None }
    }

    /// Adds holes of a size.
    pub(super) fn drill(&mut self, size: Option<Length>, count: i64) {
        self.sizes.push((size, count));
    }

    /// Makes holes larger: those of the smallest size first. What is over are pilot holes of the maker.
    pub(super) fn open(&mut self, size: Option<Length>, count: i64) {
        let mut left = count;
        self.sizes.sort();
        for (known, n) in &mut self.sizes {
            let smaller = size.is_none() || known.is_none_or(|k| Some(k) < size);
            if smaller {
                let taken = left.min(*n);
                *n -= taken;
                left -= taken;
            }
        }
        self.sizes.retain(|(_, n)| *n > 0);
        self.sizes.push((size, count));
    }

    /// The largest size there is now.
    pub fn largest(&self) -> Option<Length> {
        self.sizes.iter().filter_map(|s| s.0).max()
    }

    /// How many there are, drilled or opened.
    pub fn count(&self) -> i64 {
        self.sizes.iter().map(|s| s.1).sum()
    }
}
