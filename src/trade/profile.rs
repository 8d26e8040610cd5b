//! What a trade asks of a bolted joint, as data: the limits of inch aircraft practice and of general metric practice.
//!
//! A profile is only where limits begin: each can be set alone. It never loosens hardware that has a published rule.

use super::fit::{FitRules, InHole};
use super::{Cited, Source};
use crate::units::Length;

/// A set of limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Profile {
    /// The word it is chosen by.
    pub name: &'static str,
    /// What it is for.
    pub title: &'static str,
    pub fit: FitRules,
    /// A self-locking nut may hold a bolt that turns, where nobody's life hangs on it.
    pub locking_nut_may_turn: bool,
    /// A designer's torque needs a reason where no table has one. Where none has any, as for metric screws, it would
    /// stand behind each.
    pub torque_wants_reason: bool,
}

impl Profile {
    /// Their words.
    pub const NAMES: [&'static str; 2] = ["aircraft-inch", "metric-general"];

    /// The one with this word.
    pub fn named(name: &str) -> Option<Self> {
        match name {
            "aircraft-inch" => Some(Self::aircraft_inch()),
            "metric-general" => Some(Self::metric_general()),
            _ => None,
        }
    }

    /// Aircraft practice with inch hardware; what holds where no trade is named.
    pub fn aircraft_inch() -> Self {
        Self {
            name: Self::NAMES[0],
            title: "inch aircraft practice",
            fit: FitRules::default(),
            locking_nut_may_turn: false,
            torque_wants_reason: true,
        }
    }

    /// General practice with metric hardware. ISO 4014 and ISO 4017 leave thread in the hole of every stack, and their lengths
    /// stand 5 and 10 mm apart: so a joint that is clamped may have thread in its hole, and more threads show past the nut.
    pub fn metric_general() -> Self {
        Self {
            name: Self::NAMES[1],
            title: "general metric practice",
            fit: FitRules {
                threads_past: Cited::new(1, Source::CommonPractice),
                most_threads_past: Cited::new(10, Source::CommonPractice),
                washers: Cited::new(3, Source::CommonPractice),
                thread_in_hole: Cited::new(Length::ZERO, Source::CommonPractice),
                in_hole: InHole::ClampedIsFree,
                rounding: Length::millimetres(1, 10),
            },
            locking_nut_may_turn: true,
            torque_wants_reason: false,
        }
    }
}

impl Default for Profile {
    fn default() -> Self {
        Self::aircraft_inch()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn profiles_are_found_by_their_words() {
        for name in Profile::NAMES {
            assert_eq!(Profile::named(name).map(|p| p.name), Some(name));
        }
        assert_eq!(Profile::named("aircraft"), None);
        assert_eq!(Profile::default().fit, FitRules::default());
    }
}
