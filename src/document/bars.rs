//! Which blocks carry a change bar. A bar stands in the margin beside what changed since the last release, with the
//! letter of the change (as NAVEDTRA 14022 describes change symbols: a line in the margin beside the changed matter).

use std::collections::BTreeSet;
use std::sync::Arc;

use super::block::Origin;
use super::imprint::{Imprint, Piece, PieceKind};
use crate::change::{Edit, edits, only_typing_errors};
use crate::resolve::Resolved;
use crate::units::StepId;

/// The change bars of a document.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bars {
    /// What stands at a bar: the letter, or `new` in a working copy.
    pub letter: Arc<str>,
    origins: BTreeSet<Origin>,
    /// Steps that are new.
    whole: BTreeSet<StepId>,
    /// Steps with a bar on their own page.
    steps: BTreeSet<StepId>,
}

impl Bars {
    /// What stands at the bar of a block of this origin, where it has one.
    pub fn at(&self, origin: &Origin) -> Option<&Arc<str>> {
        let new = origin.step.as_ref().is_some_and(|s| self.whole.contains(s));
        (new || self.origins.contains(origin)).then_some(&self.letter)
    }

    /// Without the bars beside all of a new step.
    #[must_use]
    pub fn of_changes_only(mut self) -> Self {
        self.whole.clear();
        self
    }

    /// Whether the page of a step has one.
    pub fn marks(&self, step: &StepId) -> bool {
        self.whole.contains(step) || self.steps.contains(step)
    }

    /// No block has one.
    pub fn is_empty(&self) -> bool {
        self.origins.is_empty() && self.whole.is_empty()
    }

    /// The bars beside what is printed otherwise in `after`, which is of the configuration `resolved`. `base` is the letter
    /// that `before` was released under: texts in which the author says that only typing errors were mended since then get
    /// none.
    pub fn of(before: &Imprint, after: &Imprint, resolved: &Resolved, base: &str, letter: &str) -> Self {
        let mut bars = Self { letter: letter.into(), ..Self::default() };
        let mended: BTreeSet<&StepId> =
            resolved.steps.iter().filter(|s| only_typing_errors(&s.step, base)).map(|s| &s.step.id.value).collect();
        for (step, old, new) in before.differing(after) {
            match (old, step) {
                (Some(old), _) => {
                    let on = if step.is_some() { PageOf::Step } else { PageOf::Around };
                    let found = leaf(on, old, new, &mended);
                    bars.steps.extend(step.filter(|_| !found.is_empty()).cloned());
                    bars.origins.extend(found);
                }
                (None, Some(step)) => {
                    bars.whole.insert(step.clone());
                }
                (None, None) => bars.origins.extend(new.iter().filter_map(|piece| piece.origin.clone())),
            }
        }
        bars
    }
}

/// What a page is about.
#[derive(Clone, Copy, PartialEq, Eq)]
enum PageOf {
    Step,
    Around,
}

/// What has a bar on a leaf that says something else. On a page around the steps a row that only stands in another place
/// has none, for many lists are in the order of the steps; on the page of a step the order is what is to be done.
fn leaf(on: PageOf, old: &[Piece], new: &[Piece], mended: &BTreeSet<&StepId>) -> BTreeSet<Origin> {
    let all = |pieces: &[Piece]| pieces.iter().map(|p| p.digest).collect::<BTreeSet<_>>();
    let (before, after) = match on {
        PageOf::Step => Default::default(),
        PageOf::Around => (all(old), all(new)),
    };
    let is_mended = |piece: &Piece| {
        let step = piece.origin.as_ref().and_then(|o| o.step.as_ref());
        piece.kind == PieceKind::Words && step.is_some_and(|s| mended.contains(s))
    };
    let mut marked: BTreeSet<usize> = BTreeSet::new();
    let mut heads: BTreeSet<Origin> = BTreeSet::new();
    let mut gone: Vec<&Piece> = Vec::new();
    let (mut i, mut j, mut put_in) = (0, 0, false);
    let digests = |pieces: &[Piece]| pieces.iter().map(|p| p.digest).collect::<Vec<_>>();
    let mut close = |gone: &mut Vec<&Piece>, j: usize, put_in: bool, marked: &mut BTreeSet<usize>| {
        // What was taken out leaves its mark beside what stands there now.
        if !put_in {
            let gone = gone.iter().filter(|p| !after.contains(&p.digest));
            for piece in gone.filter(|p| p.kind != PieceKind::Over && !is_mended(p)) {
                match beside(piece, new, j) {
                    Some(at) => {
                        marked.insert(at);
                    }
                    None if on == PageOf::Step => heads.extend(head_of(piece)),
                    None => {}
                }
            }
        }
        gone.clear();
    };
    for edit in edits(&digests(old), &digests(new)) {
        match edit {
            Edit::Same(_) => {
                close(&mut gone, j, put_in, &mut marked);
                (i, j, put_in) = (i + 1, j + 1, false);
            }
            Edit::Removed(_) => {
                gone.push(&old[i]);
                i += 1;
            }
            Edit::Added(_) => {
                if !before.contains(&new[j].digest) {
                    marked.insert(j);
                    put_in = true;
                }
                j += 1;
            }
        }
    }
    close(&mut gone, j, put_in, &mut marked);
    let inside = |at: usize| {
        let depth = new[at].depth;
        (at + 1..new.len()).take_while(|k| new[*k].depth > depth).any(|k| marked.contains(&k))
    };
    let mut origins = heads;
    for at in &marked {
        let piece = &new[*at];
        // A title over others says no more than they do where one of them has a bar.
        if is_mended(piece) || piece.kind == PieceKind::Over && inside(*at) {
            continue;
        }
        origins.extend(piece.origin.clone());
    }
    origins
}

/// The place of what now stands where a piece was taken out: of its own kind the next one, else the one before.
fn beside(gone: &Piece, new: &[Piece], next: usize) -> Option<usize> {
    let kin = |at: &usize| {
        new.get(*at).is_some_and(|piece| {
            let field = |p: &Piece| p.origin.as_ref().map(|o| (o.step.clone(), o.field));
            piece.kind != PieceKind::Over && gone.origin.is_some() && field(piece) == field(gone)
        })
    };
    [Some(next), next.checked_sub(1)].into_iter().flatten().find(kin)
}

/// Where nothing of the kind is left: the head of the step.
fn head_of(gone: &Piece) -> Option<Origin> {
    let step = gone.origin.as_ref()?.step.clone()?;
    Some(Origin { step: Some(step), field: "title", item: 0 })
}

/// The fields of blocks that belong to no step: a section's opening by its place among the sections, a row of a list by
/// its place in the ledger.
pub(super) const SECTION: &str = "section";
pub(super) const PARTS_LIST: &str = "parts-list";
pub(super) const HARDWARE_LIST: &str = "hardware-list";
