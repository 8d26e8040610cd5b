//! Every place of a manual where something is called by its name.

use std::collections::{BTreeMap, BTreeSet};

use indexmap::IndexMap;

use crate::model::Manual;
use crate::model::schema;

pub use crate::model::schema::{Mention, Thing as Kind, Use};

/// All names that are used, each with its places in reading order: steps, pages, tables, settings.
#[derive(Debug, Default)]
pub struct Names<'a> {
    used: BTreeMap<Kind, IndexMap<&'a str, Vec<Mention<'a>>>>,
    known: BTreeMap<Kind, BTreeSet<&'a str>>,
}

impl<'a> Names<'a> {
    pub fn collect(manual: &'a Manual) -> Self {
        let mut names = Self::default();
        names.know(manual);
        let mut seen = BTreeSet::new();
        for mention in schema::mentions(manual) {
            // A made step says the same name at the same place as the one it was made from.
            if mention.how == Use::Named
                || mention.name.is_empty()
                || !seen.insert((mention.thing, mention.span, mention.name))
            {
                continue;
            }
            names.used.entry(mention.thing).or_default().entry(mention.name).or_default().push(mention);
        }
        names
    }

    /// The places where a name is used.
    pub fn mentions(&self, kind: Kind, name: &str) -> &[Mention<'a>] {
        self.used.get(&kind).and_then(|names| names.get(name)).map_or(&[], Vec::as_slice)
    }

    /// Names that are used and are the name of nothing, with their places.
    pub fn unknown(&self, kind: Kind) -> impl Iterator<Item = (&'a str, &[Mention<'a>])> {
        let known = self.known.get(&kind);
        let used = self.used.get(&kind).into_iter().flatten();
        used.filter(move |(name, m)| {
            m.iter().any(|m| m.how.must_be_known()) && known.is_none_or(|k| !k.contains(*name))
        })
        .map(|(n, m)| (*n, m.as_slice()))
    }

    /// The names that there are, in alphabetical order.
    pub fn known(&self, kind: Kind) -> impl Iterator<Item = &'a str> {
        self.known.get(&kind).into_iter().flatten().copied()
    }

    pub fn is_known(&self, kind: Kind, name: &str) -> bool {
        self.known.get(&kind).is_some_and(|k| k.contains(name))
    }

    fn know(&mut self, manual: &'a Manual) {
        let s = &manual.settings;
        let variants = s.variants.keys().map(|v| v.as_str());
        let options = s.options.keys().map(|o| o.as_str());
        let figures = manual.figures.keys().chain(&manual.broken_figures).map(|f| f.as_str());
        let assemblies = manual.steps.iter().flat_map(|s| &s.makes).map(|m| m.value.value.as_str());
        let bonds = manual.steps.iter().flat_map(|s| &s.bonds).map(|b| b.bond.value.as_str());
        self.known = BTreeMap::from([
            (
                Kind::Part,
                manual.parts.keys().map(|p| p.as_str()).chain(manual.roles.all().map(|(role, _)| role)).collect(),
            ),
            (Kind::Hardware, manual.hardware.keys().map(|h| h.as_str()).collect()),
            (Kind::Stock, manual.stock.keys().map(|s| s.as_str()).collect()),
            (Kind::Step, manual.steps.iter().map(|s| s.id.value.as_str()).collect()),
            (Kind::Section, s.sections.iter().map(|s| s.id.value.as_str()).collect()),
            (Kind::Figure, figures.collect()),
            (Kind::Tool, s.tools.keys().map(|t| t.as_str()).collect()),
            (Kind::Consumable, s.consumables.keys().map(|c| c.as_str()).collect()),
            (Kind::Assembly, assemblies.collect()),
            (Kind::Variant, variants.clone().collect()),
            (Kind::Option, options.clone().collect()),
            (Kind::Condition, variants.chain(options).collect()),
            (
                Kind::Item,
                manual.parts.keys().map(|p| p.as_str()).chain(manual.hardware.keys().map(|h| h.as_str())).collect(),
            ),
            (Kind::Bond, bonds.collect()),
            (Kind::Datum, s.datums.keys().map(String::as_str).collect()),
            (Kind::JointKind, s.joint_kinds.kinds.keys().map(String::as_str).collect()),
        ]);
    }
}
