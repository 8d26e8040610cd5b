//! Serial numbers that no condition tells apart.

use std::collections::BTreeSet;

use super::Configuration;
use super::conditions::conditions;
use crate::model::{Manual, Settings};
use crate::syntax::Condition;

/// A run of serial numbers between two places where a condition of a manual begins or ends to hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct SerialRange {
    pub first: u32,
    /// None where it has no end.
    pub last: Option<u32>,
}

impl SerialRange {
    pub fn has(self, serial: u32) -> bool {
        self.first <= serial && self.last.is_none_or(|last| serial <= last)
    }

    /// `SAND+brake, serial 28 to 31`: what kits of these numbers are called together.
    pub fn name(self, configuration: &Configuration, settings: &Settings) -> String {
        format!("{}, {self}", configuration.plain_name(settings))
    }
}

impl std::fmt::Display for SerialRange {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self.last {
            Some(last) if last == self.first => write!(f, "serial {last}"),
            Some(last) => write!(f, "serial {} to {last}", self.first),
            None => write!(f, "serial {} and later", self.first),
        }
    }
}

/// The runs of serial numbers that the conditions of these manuals tell apart, in order, without gaps. A single one
/// where no condition asks for a serial number.
pub fn serial_ranges<'a>(manuals: impl IntoIterator<Item = &'a Manual>) -> Vec<SerialRange> {
    let mut starts = BTreeSet::from([0]);
    for manual in manuals {
        conditions(manual).iter().for_each(|placed| begins(placed.condition, &mut starts));
    }
    let next = starts.iter().skip(1).map(|s| Some(s - 1)).chain([None]);
    starts.iter().zip(next).map(|(&first, last)| SerialRange { first, last }).collect()
}

fn begins(condition: &Condition, starts: &mut BTreeSet<u32>) {
    for leaf in condition.leaves() {
        if let Condition::Serial { from, to, .. } = leaf {
            starts.insert(*from);
            starts.extend(to.checked_add(1));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranges_have_no_gaps() {
        let range = |first, last| SerialRange { first, last };
        assert_eq!(serial_ranges([]), [range(0, None)]);
        let mut starts = BTreeSet::from([0]);
        let span = crate::source::Span { file: crate::source::FileId(0), start: 0, end: 0 };
        let serial = |from, to| Condition::Serial { from, to, span };
        begins(&Condition::Not(Box::new(Condition::Or(vec![serial(28, 31), serial(30, u32::MAX)]))), &mut starts);
        assert_eq!(starts, BTreeSet::from([0, 28, 30, 32]));
        assert!(range(28, Some(29)).has(29) && !range(28, Some(29)).has(30));
        assert_eq!(range(4, Some(4)).to_string(), "serial 4");
        assert_eq!(range(32, None).to_string(), "serial 32 and later");
    }
}
