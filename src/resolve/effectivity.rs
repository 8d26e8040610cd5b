//! Conditions decided against a configuration, with the reason why.

use super::Configuration;
use crate::model::Settings;
use crate::source::Spanned;
use crate::syntax::Condition;
use crate::units::OptionName;

/// What a condition is decided against.
#[derive(Clone, Copy)]
pub struct Facts<'a> {
    pub settings: &'a Settings,
    pub configuration: &'a Configuration,
}

impl Facts<'_> {
    /// The serial that a serial condition is held against: the kit's, else the manual's current one.
    fn serial(&self) -> Option<u32> {
        self.configuration.serial.or(self.settings.serial)
    }

    fn has(&self, name: &str) -> bool {
        self.configuration.variant.as_str() == name
            || self.configuration.options.contains(&OptionName::new(name))
            || self.inherits(name)
    }

    /// Whether a condition that names `name` means the configuration's variant because it is based on that.
    fn inherits(&self, name: &str) -> bool {
        self.settings.inherited(&self.configuration.variant).iter().any(|v| v.as_str() == name)
    }

    fn based(&self, name: &str) -> bool {
        self.settings.lineage(&self.configuration.variant).iter().any(|v| v.as_str() == name)
    }
}

/// Whether a condition holds. An unreadable one holds: its fault was reported, and nothing is to vanish in silence.
pub fn holds(condition: &Condition, facts: &Facts) -> bool {
    match condition {
        Condition::Name(name) => facts.has(&name.value),
        Condition::Based(name) => facts.based(&name.value),
        Condition::Serial { from, to, .. } => facts.serial().is_some_and(|s| (*from..=*to).contains(&s)),
        Condition::Conversion { from, to } => {
            facts.configuration.from.as_ref().is_some_and(|f| f.as_str() == from.value)
                && facts.configuration.variant.as_str() == to.value
        }
        Condition::Not(c) => !holds(c, facts),
        Condition::And(all) => all.iter().all(|c| holds(c, facts)),
        Condition::Or(any) => any.iter().any(|c| holds(c, facts)),
        Condition::Unreadable => true,
    }
}

/// Whether an optional condition holds.
pub(super) fn applies(only: Option<&Spanned<Condition>>, facts: &Facts) -> bool {
    only.is_none_or(|c| holds(&c.value, facts))
}

/// A condition, whether it holds, and the same of its parts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Verdict {
    /// The condition in words.
    pub words: String,
    pub holds: bool,
    pub parts: Vec<Verdict>,
}

/// Says why a condition holds or not.
pub fn explain(condition: &Condition, facts: &Facts) -> Verdict {
    let parts = match condition {
        Condition::Not(c) => vec![explain(c, facts)],
        Condition::And(list) | Condition::Or(list) => list.iter().map(|c| explain(c, facts)).collect(),
        _ => Vec::new(),
    };
    let words = match condition {
        Condition::Serial { from, to, .. } => match facts.serial() {
            Some(serial) => format!("serial {from} to {to} (this one is {serial})"),
            None => format!("serial {from} to {to} (no serial is given)"),
        },
        Condition::Name(name) if facts.inherits(&name.value) => {
            format!("{} ({} inherits its conditions)", name.value, facts.configuration.variant)
        }
        other => in_words(other),
    };
    Verdict { words, holds: holds(condition, facts), parts }
}

/// A condition as a reader would say it: `ICE and (brake or not tow)`.
pub fn in_words(condition: &Condition) -> String {
    let inner = |c: &Condition| match c {
        Condition::And(_) | Condition::Or(_) => format!("({})", in_words(c)),
        _ => in_words(c),
    };
    let join = |list: &[Condition], word: &str| list.iter().map(inner).collect::<Vec<_>>().join(word);
    match condition {
        Condition::Name(name) => name.value.clone(),
        Condition::Based(name) => format!("{} and based", name.value),
        Condition::Serial { from, to, .. } => format!("serial {from} to {to}"),
        Condition::Conversion { from, to } => format!("from {} to {}", from.value, to.value),
        Condition::Not(c) => format!("not {}", inner(c)),
        Condition::And(list) => join(list, " and "),
        Condition::Or(list) => join(list, " or "),
        Condition::Unreadable => "a condition that can't be read".to_owned(),
    }
}
