//! Actions of a step, and what each of them does of what the front matter says: joints, holes, cuts, bends, cables, bonds,
//! wires and measures.
//!
//! Owns: which action does what, and how that is known. An author ties an action to its data with a link; where there is just
//! one candidate, the words tell. Must not know: documents, rules.

mod clause;
mod deed;
mod tie;
mod typed;

pub use clause::{Clause, clauses};
pub use deed::{Deed, deeds, deeds_of, linked_items};
pub use typed::{TypedKind, TypedValue, typed_in, typed_values};

use crate::model::{Manual, Step};
use crate::source::Span;
use crate::syntax::markdown::{MdBlock, MdBlockKind};
use crate::trade::Drill;

/// What the builder does in one go: an item of a numbered list in the text of a step; where a text has no such list, each of
/// its paragraphs.
#[derive(Clone, Debug)]
pub struct Action {
    pub place: ActionPlace,
    pub span: Span,
    /// Its number as it is printed; none of a paragraph.
    pub number: Option<u64>,
    pub clauses: Vec<Clause>,
    /// The sizes of bits that it names.
    pub bits: Vec<Drill>,
    /// In the order of the deeds, then of the items.
    pub ties: Vec<Tie>,
}

impl Action {
    /// The items to which it does such a thing, by their numbers.
    pub fn items(&self, deed: Deed) -> impl Iterator<Item = usize> {
        self.ties.iter().filter(move |tie| tie.deed == deed).map(|tie| tie.item)
    }
}

/// Where an action stands: which block of the text, and which item of that list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct ActionPlace {
    pub block: usize,
    pub item: Option<usize>,
}

/// That an action does something to an item of the front matter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Tie {
    pub deed: Deed,
    /// Its number in its list, of those that the configuration has.
    pub item: usize,
    pub known_by: KnownBy,
}

/// How it is known that an action does something.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum KnownBy {
    /// The author's link.
    Link(Span),
    /// It names the part, the item of hardware, the hole or the size.
    Name(Span),
    /// No other action does such a thing.
    Only(Span),
    /// Several actions do such a thing, each to some of several items that are done alike: this one perhaps not to this item.
    Alike(Span),
}

impl KnownBy {
    /// The words or the link that tell.
    pub fn span(self) -> Span {
        let (Self::Link(span) | Self::Name(span) | Self::Only(span) | Self::Alike(span)) = self;
        span
    }

    /// For example `it is the only action that tightens`.
    pub fn words(self, deed: Deed) -> String {
        match self {
            Self::Link(_) => "the text links it".to_owned(),
            Self::Name(_) => "the action names it".to_owned(),
            Self::Only(_) => format!("no other action {}", deed.verb()),
            Self::Alike(_) => "it does this or one that is done alike".to_owned(),
        }
    }
}

/// The actions of a step as it is in a configuration, each with what it does. Words are read in English; in another language
/// only links tie.
pub fn actions(manual: &Manual, step: &Step) -> Vec<Action> {
    let mut actions = listed(&step.body);
    tie::tie(manual, step, &mut actions, manual.settings.is_english());
    actions
}

fn bits(blocks: &[MdBlock]) -> Vec<Drill> {
    let drill = |v: TypedValue| match v.kind {
        TypedKind::Drill(drill) => Some(drill),
        TypedKind::Torque(..) | TypedKind::Length(_) => None,
    };
    typed_values(blocks).into_iter().filter_map(drill).collect()
}

fn listed(body: &[MdBlock]) -> Vec<Action> {
    let mut actions = Vec::new();
    for (block, b) in body.iter().enumerate() {
        let MdBlockKind::List { ordered: Some(first), items } = &b.kind else { continue };
        for (item, i) in items.iter().enumerate() {
            actions.push(Action {
                place: ActionPlace { block, item: Some(item) },
                span: i.span,
                number: Some(first.saturating_add(item as u64)),
                clauses: clauses(&i.blocks),
                bits: bits(&i.blocks),
                ties: Vec::new(),
            });
        }
    }
    if !actions.is_empty() {
        return actions;
    }
    let paragraphs = body.iter().enumerate().filter(|(_, b)| matches!(b.kind, MdBlockKind::Paragraph(_)));
    paragraphs
        .map(|(block, b)| Action {
            place: ActionPlace { block, item: None },
            span: b.span,
            number: None,
            clauses: clauses(std::slice::from_ref(b)),
            bits: bits(std::slice::from_ref(b)),
            ties: Vec::new(),
        })
        .collect()
}
