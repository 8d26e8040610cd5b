//! Composing documents from a resolved configuration.
//!
//! Owns: which blocks a document has, in which order, and the compiler's own sentences in them. All text that
//! is not the author's stands here. Must not know: markup, pages.

mod actions;
mod around;
mod beginnings;
mod bench;
mod bends;
mod bonds;
mod cables;
mod change_report;
mod conversion;
mod cuts;
mod everyday;
mod fastening;
mod holes;
mod in_short;
mod indexes;
mod kit;
mod notice;
mod pick;
mod receiving;
mod replaced;
mod revisions;
mod setting_out;
mod sheets;
mod step;
mod tables;
mod text;
mod torques;
mod unlinked;
mod wires;

use std::collections::{BTreeMap, BTreeSet};

use indexmap::IndexMap;

pub use bench::bench;
pub(super) use cables::cable_rows;
pub use cables::cable_sheet;
pub use change_report::change_document;
pub use conversion::conversion_document;
pub use cuts::templates;
pub use notice::notice_document;
pub use pick::{pick_lists, pick_lists_edition, pick_rows};
pub use receiving::box_sheet;
pub(super) use sheets::{hole_rows, joint_rows};
pub use sheets::{hole_sheet, joint_sheet};
pub(super) use wires::wire_rows;
pub use wires::wire_sheet;

use super::bars::Bars;
use super::block::{Block, BlockKind, Drawn, Field, Group, Origin};
use super::edition::{Edition, LiesIn};
use super::inline::{Anchor, Inline, Inlines};
use super::leaf::{Document, Leaf, LeafRole, Meta, Purpose};
use crate::drawing::Drawing;
use crate::joint::Items;
use crate::model::{Hardware, Hole, HoleAction, Joint, Manual, Part, StepItem};
use crate::plan::{CableRun, GluedBond, TubeWork, bonds as glued_bonds, cables};
use crate::resolve::{Resolved, ResolvedSection, ResolvedStep, resolve};
use crate::trade;
use crate::units::{AssemblyId, Designation, FigureName, PartNumber, StepId};

/// The build manual of a configuration, for the builder or as the shop copy.
pub fn compose(manual: &Manual, resolved: &Resolved, purpose: Purpose) -> Document {
    compose_edition(manual, resolved, purpose, &Edition::default())
}

/// The same, with what it says of its own state.
pub fn compose_edition(manual: &Manual, resolved: &Resolved, purpose: Purpose, edition: &Edition) -> Document {
    let c = DocumentComposer { lies_in: edition.lies_in, ..DocumentComposer::new(manual, resolved, purpose) };
    composed(&c, edition)
}

/// The same as it is for every kit of its configuration: without its state, and without what is otherwise in one kit.
pub(super) fn compose_plain(manual: &Manual, resolved: &Resolved, purpose: Purpose) -> Document {
    let configuration = &resolved.configuration;
    if configuration.deviations.is_empty() {
        return composed(&DocumentComposer::new(manual, resolved, purpose), &Edition::default());
    }
    let plain = resolve(manual, &configuration.without_deviations());
    composed(&DocumentComposer::new(manual, &plain, purpose), &Edition::default())
}

fn composed(c: &DocumentComposer, edition: &Edition) -> Document {
    let (manual, resolved, purpose) = (c.manual, c.resolved, c.purpose);
    let mut leaves = vec![around::title(c, edition)];
    leaves.extend(kit::leaf(c));
    leaves.push(revisions::record(c, edition));
    leaves.extend(revisions::effective_steps(c, edition));
    leaves.extend(around::before(c));
    leaves.extend(indexes::before_steps(c));
    leaves.push(receiving::receiving(c));
    for section in &resolved.sections {
        leaves.push(step::section(c, section));
        leaves.extend(resolved.steps[section.steps.clone()].iter().map(|s| step::step(c, s)));
    }
    leaves.extend(around::after(c));
    leaves.extend(fastening::registers(c));
    leaves.extend(cables::sheet(c));
    leaves.extend(wires::sheet(c));
    leaves.push(indexes::results(c));
    leaves.retain(|leaf| !leaf.blocks.is_empty() || leaf.role == LeafRole::Title);
    let contents = around::contents(c, &leaves);
    let at = leaves.iter().position(|l| l.role == LeafRole::Contents).unwrap_or(0);
    leaves[at].blocks = contents;
    Document {
        purpose,
        name: name(purpose).into(),
        meta: meta_edition(manual, resolved, edition),
        leaves,
        bars: match purpose {
            Purpose::ShopCopy => edition.shop_bars.clone(),
            _ => edition.bars.clone(),
        },
    }
}

/// The receiving list by itself, for whoever opens the crates. None where the kit holds nothing.
pub fn receiving_list(manual: &Manual, resolved: &Resolved, edition: &Edition) -> Option<Document> {
    let purpose = Purpose::Receiving;
    let leaf = receiving::receiving(&DocumentComposer::new(manual, resolved, purpose));
    (!leaf.blocks.is_empty()).then(|| Document {
        purpose,
        name: name(purpose).into(),
        meta: meta_edition(manual, resolved, edition),
        leaves: vec![leaf],
        bars: Bars::default(),
    })
}

fn name(purpose: Purpose) -> &'static str {
    match purpose {
        Purpose::Manual => "Build manual",
        Purpose::ShopCopy => "Shop copy",
        Purpose::PickLists => "Pick lists",
        Purpose::Receiving => "Receiving list",
        Purpose::Templates => "Templates",
        Purpose::Report => "Report",
    }
}

/// What every page of a configuration's documents may say, in a working copy of what was never released.
pub fn meta(manual: &Manual, resolved: &Resolved) -> Meta {
    meta_edition(manual, resolved, &Edition::default())
}

/// What every page of a configuration's documents may say.
fn meta_edition(manual: &Manual, resolved: &Resolved, edition: &Edition) -> Meta {
    let s = &manual.settings;
    Meta {
        title: s.title.as_str().into(),
        subtitle: s.subtitle.as_str().into(),
        maker: s.maker.as_str().into(),
        number: s.number.as_str().into(),
        configuration: resolved.name.as_str().into(),
        variant_and_options: resolved.configuration.plain_name(s).into(),
        kit: resolved.configuration.serial.map_or_else(String::new, |n| n.to_string()).into(),
        configuration_title: resolved.title.as_str().into(),
        release: edition.state.clone(),
        language: s.language.as_str().into(),
        units: s.units,
        paper: s.paper,
        step_start: s.step_start,
        duplex: s.duplex,
        hatching: s.hatching,
        accent: s.accent,
        font: s.font.as_ref().map(|f| f.value.as_str().into()),
    }
}

/// Where a figure of a step stands: its label and anchor.
struct FigurePlace {
    label: String,
    anchor: Anchor,
}

/// What composing looks up again and again, made once.
struct DocumentComposer<'a> {
    manual: &'a Manual,
    resolved: &'a Resolved,
    purpose: Purpose,
    items: Items,
    steps: BTreeMap<&'a StepId, &'a ResolvedStep>,
    /// The first step that makes an assembly.
    makers: BTreeMap<&'a AssemblyId, &'a ResolvedStep>,
    /// The first step that cuts a piece.
    cutters: BTreeMap<&'a PartNumber, &'a ResolvedStep>,
    figures: BTreeMap<(&'a StepId, &'a FigureName), FigurePlace>,
    /// The first place of each figure.
    first_figure: BTreeMap<&'a FigureName, &'a StepId>,
    /// What a step takes anew of each part.
    fresh: BTreeMap<(&'a StepId, &'a PartNumber), i64>,
    /// The first hole that is reamed for a fastener.
    reamed: BTreeMap<&'a Designation, &'a StepItem<Hole>>,
    /// The joints with a fastener.
    joints: BTreeMap<&'a Designation, Vec<&'a StepItem<Joint>>>,
    /// By their ids, in the order in which they are defined.
    cables: IndexMap<&'a str, CableRun<'a>>,
    bonds: IndexMap<&'a str, GluedBond<'a>>,
    tubes: TubeWork<'a>,
    /// In the papers of the bench.
    lies_in: LiesIn,
}

impl<'a> DocumentComposer<'a> {
    fn new(manual: &'a Manual, resolved: &'a Resolved, purpose: Purpose) -> Self {
        let mut c = Self {
            manual,
            resolved,
            purpose,
            items: Items::new(manual),
            steps: BTreeMap::new(),
            makers: BTreeMap::new(),
            cutters: BTreeMap::new(),
            figures: BTreeMap::new(),
            first_figure: BTreeMap::new(),
            fresh: BTreeMap::new(),
            reamed: BTreeMap::new(),
            joints: BTreeMap::new(),
            cables: cables(manual, resolved).into_iter().map(|run| (run.id, run)).collect(),
            bonds: glued_bonds(resolved),
            tubes: TubeWork::new(manual, resolved),
            lies_in: LiesIn::Bins,
        };
        for s in &resolved.steps {
            let id = &s.step.id.value;
            c.steps.insert(id, s);
            for makes in &s.step.makes {
                c.makers.entry(&makes.value.value).or_insert(s);
            }
            for piece in s.step.parts.iter().flat_map(|p| &p.becomes) {
                c.cutters.entry(&piece.0.value).or_insert(s);
            }
            for hole in s.step.holes.iter().filter(|h| h.reamer.is_some() || h.action == HoleAction::Ream) {
                if let Some(fastener) = &hole.for_ {
                    c.reamed.entry(&fastener.value).or_insert(hole);
                }
            }
            for joint in &s.step.joints {
                c.joints.entry(&joint.fastener.value).or_default().push(joint);
            }
            for (i, figure) in s.step.figures.iter().enumerate() {
                let name = &figure.figure.value;
                let label = format!("Figure {}-{}", s.number, i + 1);
                let anchor = Anchor::new("figure", &format!("{id}-{}", i + 1));
                c.figures.entry((id, name)).or_insert(FigurePlace { label, anchor });
                c.first_figure.entry(name).or_insert(id);
            }
        }
        for (number, account) in &resolved.ledger.parts {
            for pull in &account.pulled {
                *c.fresh.entry((&pull.step, number)).or_default() += pull.count;
            }
        }
        c
    }

    /// Where its pages say that a thing lies.
    fn place(&self) -> LiesIn {
        if self.purpose == Purpose::Manual { LiesIn::Bags } else { self.lies_in }
    }

    fn part(&self, number: &PartNumber) -> Option<&'a Part> {
        self.manual.parts.get(number)
    }

    fn hardware(&self, designation: &Designation) -> Option<&'a Hardware> {
        self.manual.hardware.get(designation)
    }

    /// A designation, linked to its line of the hardware list where this configuration has it: a hole may be for what another
    /// kit has.
    fn hardware_link(&self, designation: &Designation) -> Inline {
        let words = Inline::text(designation.as_str());
        if self.resolved.ledger.hardware.contains_key(designation) {
            Inline::Link { to: hardware_anchor(designation), content: vec![words] }
        } else {
            words
        }
    }

    /// `step 3.12`, linked.
    fn step_link(&self, s: &ResolvedStep) -> Inline {
        let to = step_anchor(&s.step.id.value);
        Inline::Link { to, content: vec![step_number(s)] }
    }

    /// The numbers of steps, linked, in order: `2.1, 2.4`.
    fn step_links<'b>(&self, ids: impl IntoIterator<Item = &'b StepId>) -> Inlines {
        let mut seen = BTreeSet::new();
        let mut out = Inlines::new();
        for s in ids.into_iter().filter_map(|id| self.steps.get(id)) {
            if seen.insert(s.number) {
                if !out.is_empty() {
                    out.push(Inline::text(", "));
                }
                out.push(self.step_link(s));
            }
        }
        out
    }

    /// What an item of hardware is, in words: what its designation tells, else the author's name for it.
    fn hardware_words(&self, designation: &Designation) -> Inlines {
        // What is no standard item is called by its name; what is one, with what the list adds to it.
        let standard = trade::decode(designation.as_str());
        match standard.and_then(|_| self.items.get(designation)) {
            Some(decoded) => decoded
                .pieces()
                .into_iter()
                .map(|piece| match piece {
                    trade::Words::Text(text) => Inline::text(text),
                    trade::Words::Length(length) => Inline::Length(length),
                })
                .collect(),
            None => {
                let name = self.hardware(designation).map_or("", |h| h.name.as_str());
                if name.is_empty() { Inlines::new() } else { vec![Inline::text(name)] }
            }
        }
    }
}

/// `fit-mast-foot` as a reader would say it: `fit mast foot`.
fn spoken(id: &str) -> String {
    id.replace('-', " ")
}

fn step_number(s: &ResolvedStep) -> Inline {
    Inline::number(step_anchor(&s.step.id.value), s.number)
}

/// `3 Steering`
fn section_title(section: &ResolvedSection) -> Inlines {
    vec![Inline::number(section_anchor(section), section.number), Inline::text(format!(" {}", section.title))]
}

fn section_anchor(section: &ResolvedSection) -> Anchor {
    Anchor::new("section", section.id.as_str())
}

/// The sheet of totals of a section.
fn totals_anchor(section: &ResolvedSection) -> Anchor {
    Anchor::new("totals", section.id.as_str())
}

/// A step's card of the pick lists.
fn card_anchor(id: &StepId) -> Anchor {
    Anchor::new("pick", id.as_str())
}

/// The leaves that are about a step, in whatever document: its page and its card.
pub(super) fn leaf_step(id: &StepId) -> [(Anchor, &StepId); 2] {
    [(step_anchor(id), id), (card_anchor(id), id)]
}

fn step_anchor(id: &StepId) -> Anchor {
    Anchor::new("step", id.as_str())
}

fn part_anchor(number: &PartNumber) -> Anchor {
    Anchor::new("part", number.as_str())
}

fn hardware_anchor(designation: &Designation) -> Anchor {
    Anchor::new("hardware", designation.as_str())
}

/// A row's own anchor inside a step.
fn row_anchor(step: &StepId, item: &str) -> Anchor {
    Anchor::new("row", &format!("{step}.{item}"))
}

/// The row of an item of a step's front matter, by the number under which it is written.
fn item_anchor(step: &StepId, list: &str, item: usize) -> Anchor {
    Anchor::new("row", &format!("{step}.{list}.{item}"))
}

fn block(kind: BlockKind) -> Block {
    Block { kind, origin: Origin::default(), anchor: None }
}

fn paragraph(text: impl AsRef<str>) -> Block {
    block(BlockKind::Paragraph(vec![Inline::text(text)]))
}

fn heading(level: u8, text: &str) -> Block {
    block(BlockKind::Heading { level, number: None, text: vec![Inline::text(text)] })
}

fn field(label: &str, value: Inlines) -> Field {
    Field { label: vec![Inline::text(label)], value }
}

fn group(role: &'static str, title: &str, blocks: Vec<Block>, step: &StepId) -> Block {
    let origin = Origin { step: Some(step.clone()), field: role, item: 0 };
    Block { kind: BlockKind::Group(Group { role, title: vec![Inline::text(title)], blocks }), origin, anchor: None }
}

/// A drawing of a step.
fn drawn(s: &ResolvedStep, field: &'static str, item: usize, drawing: Drawing, caption: Inlines) -> Block {
    let origin = Origin { step: Some(s.step.id.value.clone()), field, item };
    Block { kind: BlockKind::Drawing(Drawn { drawing, caption }), origin, anchor: None }
}

fn leaf(anchor: &str, role: LeafRole, title: &str, blocks: Vec<Block>) -> Leaf {
    Leaf { anchor: Anchor::new(anchor, ""), role, number: None, title: vec![Inline::text(title)], parent: None, blocks }
}
