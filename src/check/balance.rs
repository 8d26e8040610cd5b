//! Where the parts list and the steps' takings differ, by configuration.

use std::collections::BTreeMap;

use super::names::{Kind, Names, Use};
use crate::model::Manual;
use crate::resolve::Resolved;
use crate::units::{PartNumber, VariantName};

/// A part of which a configuration lists a number other than what its steps take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Misfit {
    /// In the crate, or cut as pieces.
    pub listed: i64,
    pub taken: i64,
}

impl Misfit {
    pub fn is_left_over(self) -> bool {
        self.taken < self.listed
    }
}

/// The misfits of every configuration, by its name.
#[derive(Debug, Default)]
pub struct Balance<'a> {
    by_configuration: BTreeMap<&'a str, BTreeMap<&'a PartNumber, Misfit>>,
    /// Variants of which, with all they are based on, no part has a quantity: a missing column, not missing parts.
    pub empty_variants: Vec<&'a VariantName>,
}

impl<'a> Balance<'a> {
    pub fn new(manual: &'a Manual, resolved: &'a [Resolved], names: &Names) -> Self {
        let empty_variants: Vec<_> = manual.settings.variants.keys().filter(|v| is_empty(manual, v)).collect();
        let mut by_configuration = BTreeMap::new();
        for r in resolved {
            let mut misfits = BTreeMap::new();
            if !empty_variants.contains(&&r.configuration.variant) {
                for number in manual.parts.keys() {
                    let Some(account) = r.ledger.parts.get(number) else { continue };
                    let taken = account.taken();
                    if account.listed != taken && !(account.piece && taken == 0 && is_used(names, number)) {
                        misfits.insert(number, Misfit { listed: account.listed, taken });
                    }
                }
            }
            by_configuration.insert(r.name.as_str(), misfits);
        }
        Self { by_configuration, empty_variants }
    }

    /// How a part does not fit in a configuration, if it does not.
    pub fn misfit(&self, configuration: &str, part: &PartNumber) -> Option<Misfit> {
        self.by_configuration.get(configuration)?.get(part).copied()
    }

    /// Whether a part is left over in any configuration.
    pub fn is_left_over(&self, part: &PartNumber) -> bool {
        self.by_configuration.values().filter_map(|m| m.get(part)).any(|m| m.is_left_over())
    }

    /// Whether the steps of any configuration take more of a part than there is.
    pub fn is_short(&self, part: &PartNumber) -> bool {
        self.by_configuration.values().filter_map(|m| m.get(part)).any(|m| !m.is_left_over())
    }
}

/// Whether a piece is named by a step in another way than as one that is cut.
fn is_used(names: &Names, piece: &PartNumber) -> bool {
    names.mentions(Kind::Part, piece.as_str()).iter().any(|m| m.step.is_some() && m.how != Use::CutOut)
}

fn is_empty(manual: &Manual, variant: &VariantName) -> bool {
    let line = manual.settings.lineage(variant);
    !manual.parts.is_empty() && !manual.parts.values().any(|p| line.iter().any(|v| p.variants.contains_key(*v)))
}
