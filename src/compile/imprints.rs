//! What is printed of a state of the sources, to be compared with that of another one.

use std::collections::BTreeMap;

use crate::change::{SourceLine, hex_digest};
use crate::document::{Bars, Imprint, LeafChange, MadeImprints, Purpose};
use crate::model::Manual;
use crate::resolve::Resolved;
use crate::units::FigureName;

/// What is in each picture of a state: the digest of its bytes. Photographs are not read for it.
pub(super) struct PictureDigests(BTreeMap<FigureName, String>);

impl PictureDigests {
    /// From the sources in normal form; a drawing that was mirrored stands in none of them.
    pub fn of(manual: &Manual, lines: &[SourceLine]) -> Self {
        let listed = lines.iter().filter(|l| l.key == "sha256");
        let mut digests: BTreeMap<FigureName, String> =
            listed.filter_map(|l| Some((FigureName::new(l.file.strip_prefix("figures/")?), l.value.clone()))).collect();
        for (name, file) in &manual.figures {
            digests.entry(name.clone()).or_insert_with(|| hex_digest(&file.bytes));
        }
        Self(digests)
    }

    fn digest(&self, name: &FigureName) -> String {
        self.0.get(name).cloned().unwrap_or_default()
    }

    /// What is printed on the pages of a configuration.
    pub fn pages(&self, manual: &Manual, resolved: &Resolved) -> PagesPrinted {
        let of = |purpose| Imprint::of(manual, resolved, purpose, &|name| self.digest(name));
        let (manual, shop_copy) = rayon::join(|| of(Purpose::Manual), || of(Purpose::ShopCopy));
        PagesPrinted { manual, shop_copy }
    }

    /// What is printed on the pages of the manual alone: letters go by them.
    pub fn manual(&self, manual: &Manual, resolved: &Resolved) -> Imprint {
        Imprint::of(manual, resolved, Purpose::Manual, &|name| self.digest(name))
    }

    /// What is printed on every document of a configuration.
    pub fn made(&self, manual: &Manual, resolved: &Resolved) -> MadeImprints {
        MadeImprints::of(manual, resolved, &|name| self.digest(name))
    }
}

/// What is printed on the pages of a configuration, for the builder and for the bench.
pub(super) struct PagesPrinted {
    manual: Imprint,
    shop_copy: Imprint,
}

impl PagesPrinted {
    /// What is printed otherwise on the manual's pages of `after`.
    pub fn compare(&self, after: &Self) -> LeafChange {
        self.manual.compare(&after.manual)
    }

    /// The bars of the manual and of the shop copy of `after`, as [`Bars::of`] has them.
    pub fn bars(&self, after: &Self, resolved: &Resolved, base: &str, letter: &str) -> (Bars, Bars) {
        (
            Bars::of(&self.manual, &after.manual, resolved, base, letter),
            Bars::of(&self.shop_copy, &after.shop_copy, resolved, base, letter),
        )
    }
}
