//! Every place of a manual where something is called by its name.

use std::collections::{BTreeMap, BTreeSet};

use indexmap::IndexMap;

use super::conditions::Conditions;
use super::prose;
use crate::model::{CalloutTarget, FigureOpposite, Manual, Step};
use crate::resolve::condition_names;
use crate::source::{Span, Spanned};

/// What a name is the name of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    Part,
    Hardware,
    Stock,
    Step,
    Section,
    Figure,
    Tool,
    Consumable,
    Assembly,
    Variant,
    Option,
    /// A variant or an option, in a condition.
    Condition,
}

/// Roles of mentions that rules tell apart: among the parts of a step, as a piece that comes out of another part, in the
/// hardware list of a step, in a joint.
pub const TAKEN: &str = "taken here";
pub const CUT_OUT: &str = "cut out of another part here";
pub const LISTED: &str = "listed here";
pub const JOINED: &str = "in a joint here";
pub const REPLACES: &str = "supplied in the place of another";

/// A place where a name is used.
#[derive(Clone, Copy, Debug)]
pub struct Mention<'a> {
    pub name: &'a str,
    pub span: Span,
    pub step: Option<&'a Step>,
    /// What is said of it there, for a note: `taken here`.
    pub role: &'static str,
}

/// All names that are used, each with its places in reading order: steps, pages, tables, settings.
#[derive(Debug, Default)]
pub struct Names<'a> {
    used: BTreeMap<Kind, IndexMap<&'a str, Vec<Mention<'a>>>>,
    known: BTreeMap<Kind, BTreeSet<&'a str>>,
}

impl<'a> Names<'a> {
    pub fn collect(manual: &'a Manual, conditions: &Conditions<'a>) -> Self {
        let mut names = Self::default();
        names.know(manual);
        for step in &manual.steps {
            names.step(step);
        }
        for page in &manual.pages {
            names.text(&page.body, None);
        }
        names.tables(manual);
        names.settings(manual);
        for placed in conditions.all() {
            for (name, variant_only) in condition_names(placed.condition) {
                let kind = if variant_only { Kind::Variant } else { Kind::Condition };
                names.add(kind, &name.value, name.span, placed.step, "and here");
            }
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
        used.filter(move |(name, _)| known.is_none_or(|k| !k.contains(*name))).map(|(n, m)| (*n, m.as_slice()))
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
        self.known = BTreeMap::from([
            (Kind::Part, manual.parts.keys().map(|p| p.as_str()).collect()),
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
        ]);
    }

    fn add(&mut self, kind: Kind, name: &'a str, span: Span, step: Option<&'a Step>, role: &'static str) {
        let mention = Mention { name, span, step, role };
        self.used.entry(kind).or_default().entry(name).or_default().push(mention);
    }

    fn step(&mut self, step: &'a Step) {
        let here = Some(step);
        // Without a section the fault was reported and the name is empty.
        if !step.section.value.as_str().is_empty() {
            self.add(Kind::Section, step.section.as_str(), step.section.span, here, "named here");
        }
        for item in &step.parts {
            self.add(Kind::Part, item.part.as_str(), item.part.span, here, TAKEN);
            for (piece, _) in &item.becomes {
                self.add(Kind::Part, piece.as_str(), piece.span, here, CUT_OUT);
            }
        }
        for item in &step.assemblies {
            self.add(Kind::Assembly, item.assembly.as_str(), item.assembly.span, here, "used here");
        }
        for item in &step.hardware {
            self.add(Kind::Hardware, item.hardware.as_str(), item.hardware.span, here, LISTED);
        }
        for joint in &step.joints {
            let own = [Some(&joint.fastener), joint.nut.as_ref(), joint.pin.as_ref()];
            let washers = joint.under_head.iter().chain(&joint.under_nut).map(|(w, _)| w);
            for name in own.into_iter().flatten().chain(washers) {
                self.add(Kind::Hardware, name.as_str(), name.span, here, JOINED);
            }
            for member in &joint.stack {
                self.add(Kind::Part, member.part.as_str(), member.part.span, here, JOINED);
            }
        }
        for cut in &step.cuts {
            self.add(Kind::Part, cut.part.as_str(), cut.part.span, here, "cut here");
            if let Some(onto) = &cut.onto {
                self.add(Kind::Part, onto.as_str(), onto.span, here, "saddled here");
            }
        }
        for bend in &step.bends {
            self.add(Kind::Part, bend.part.as_str(), bend.part.span, here, "bent here");
        }
        for flat in &step.flattened {
            self.add(Kind::Part, flat.part.as_str(), flat.part.span, here, "flattened here");
        }
        for cable in &step.cables {
            if let Some(part) = &cable.part {
                self.add(Kind::Part, part.as_str(), part.span, here, "made into a cable here");
            }
            for (name, _) in cable.ends().into_iter().flatten().flat_map(|end| end.hardware()) {
                self.add(Kind::Hardware, name.as_str(), name.span, here, JOINED);
            }
        }
        for hole in &step.holes {
            self.add(Kind::Part, hole.part.as_str(), hole.part.span, here, "drilled here");
            if let Some(from) = &hole.from {
                self.add(Kind::Part, from.as_str(), from.span, here, "drilled from here");
            }
            if let Some(fastener) = &hole.for_ {
                self.add(Kind::Hardware, fastener.as_str(), fastener.span, here, "a hole for it here");
            }
        }
        for figure in &step.figures {
            self.add(Kind::Figure, figure.figure.as_str(), figure.figure.span, here, "shown here");
            if let FigureOpposite::Other(other) = &figure.opposite {
                self.add(Kind::Figure, other.as_str(), other.span, here, "shown by the opposite step");
            }
            for callout in &figure.callouts {
                match &callout.target {
                    CalloutTarget::Part(n) => self.add(Kind::Part, n.as_str(), n.span, here, "in a figure here"),
                    CalloutTarget::Hardware(n) => {
                        self.add(Kind::Hardware, n.as_str(), n.span, here, "in a figure here")
                    }
                    CalloutTarget::Assembly(n) => {
                        self.add(Kind::Assembly, n.as_str(), n.span, here, "in a figure here")
                    }
                    CalloutTarget::Text(_) => {}
                }
            }
        }
        for after in &step.after {
            self.add(Kind::Step, after.value.as_str(), after.value.span, here, "waited for here");
        }
        for (item, _) in step.already_built.iter().flat_map(|a| &a.send) {
            let kind = if self.is_known(Kind::Part, &item.value) { Kind::Part } else { Kind::Hardware };
            self.add(kind, &item.value, item.span, here, REPLACES);
        }
        for tool in &step.tools {
            self.add(Kind::Tool, tool.value.as_str(), tool.value.span, here, "listed here");
        }
        for item in &step.consumables {
            self.add(Kind::Consumable, item.value.as_str(), item.value.span, here, "listed here");
        }
        self.text(&step.body, here);
    }

    fn text(&mut self, body: &'a [crate::syntax::markdown::Block], step: Option<&'a Step>) {
        for to in prose::links(body) {
            let Some((scheme, name, span)) = prose::reference(to) else { continue };
            let Some(kind) = kind_of(scheme) else { continue };
            self.add(kind, name, span, step, "in the text here");
        }
    }

    fn tables(&mut self, manual: &'a Manual) {
        for part in manual.parts.values() {
            if let Some(other) = &part.opposite {
                self.add(Kind::Part, other.as_str(), other.span, None, "an opposite in the parts list");
            }
            if let Some(from) = &part.cut_from {
                self.add(Kind::Part, from.as_str(), from.span, None, "cut from it in the parts list");
            }
            if let Some(now) = &part.replaced_by {
                self.add(Kind::Part, now.as_str(), now.span, None, REPLACES);
            }
            if let Some(stock) = &part.stock {
                self.add(Kind::Stock, stock.as_str(), stock.span, None, "named here");
            }
        }
        for row in manual.holes.values().flatten() {
            self.add(Kind::Part, row.part.as_str(), row.part.span, None, "in the list of holes");
        }
        for row in manual.hardware.values() {
            if let Some(now) = &row.replaced_by {
                self.add(Kind::Hardware, now.as_str(), now.span, None, REPLACES);
            }
        }
        for row in &manual.deviations {
            // What is in no list is another finding.
            for (item, role) in
                std::iter::once((&row.item, "in shipped.csv")).chain(row.with.iter().map(|w| (w, REPLACES)))
            {
                if self.is_known(Kind::Part, &item.value) {
                    self.add(Kind::Part, &item.value, item.span, None, role);
                } else if self.is_known(Kind::Hardware, &item.value) {
                    self.add(Kind::Hardware, &item.value, item.span, None, role);
                }
            }
        }
        for kit in &manual.kits {
            let mut start = kit.configuration.span.start;
            for (i, piece) in kit.configuration.value.split('+').enumerate() {
                let lead = (piece.len() - piece.trim_start().len()) as u32;
                let end = start + lead + piece.trim().len() as u32;
                let span = Span { start: start + lead, end, ..kit.configuration.span };
                let kind = if i == 0 { Kind::Variant } else { Kind::Option };
                self.add(kind, piece.trim(), span, None, "in the kit register");
                start += piece.len() as u32 + 1;
            }
        }
    }

    fn settings(&mut self, manual: &'a Manual) {
        let s = &manual.settings;
        for configured in &s.configurations {
            let variant = &configured.variant;
            self.add(Kind::Variant, variant.as_str(), variant.span, None, "in a configuration");
            self.options(&configured.options, "in a configuration");
        }
        for option in s.options.values() {
            self.options(&option.excludes, "excluded here");
            self.options(&option.requires, "required here");
        }
        for group in &s.groups {
            self.options(&group.members, "in a group");
        }
    }

    fn options(&mut self, names: &'a [Spanned<crate::units::OptionName>], role: &'static str) {
        for name in names {
            self.add(Kind::Option, name.as_str(), name.span, None, role);
        }
    }
}

/// What the scheme of a reference in the text refers to.
pub fn kind_of(scheme: &str) -> Option<Kind> {
    Some(match scheme {
        "part" => Kind::Part,
        "hardware" => Kind::Hardware,
        "step" => Kind::Step,
        "figure" => Kind::Figure,
        "tool" => Kind::Tool,
        "consumable" => Kind::Consumable,
        _ => return None,
    })
}
