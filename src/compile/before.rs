//! The letter of the last change of each step, as far as it can be told from what was released before.

use std::collections::{BTreeMap, BTreeSet};

use super::compared::{State, released_state};
use super::pictures::PicturesRead;
use crate::change::{History, Letter, Side};
use crate::diag::Refusal;
use crate::document::{Imprint, LeafChange};
use crate::resolve::{Resolved, parse_configuration, resolve};
use crate::source::Files;
use crate::units::StepId;

/// The releases before: the last one read back, and the others only where what it records does not do.
pub(super) struct Before<'a> {
    files: &'a dyn Files,
    pub history: History,
    /// The last release, read back.
    pub last: Option<State>,
}

/// A configuration as it was released last.
pub(super) struct Earlier {
    pub letters: BTreeMap<StepId, Letter>,
    /// None where that release did not allow it.
    pub resolved: Option<Resolved>,
}

impl<'a> Before<'a> {
    /// # Errors
    /// The last release can't be read.
    pub fn read(files: &'a dyn Files, history: History) -> Result<Self, Refusal> {
        let last = history
            .last()
            .map(|last| released_state(files, &history, last.letter.as_str(), PicturesRead::Drawings))
            .transpose()?;
        Ok(Self { files, history, last })
    }

    /// A configuration as the last release has it, with the letters of its steps; `side` is the one of today.
    pub fn earlier(&self, side: &Side) -> Option<Earlier> {
        let (last, state) = self.history.last().zip(self.last.as_ref())?;
        let name = side.resolved.configuration.plain_name(&side.manual.settings);
        let resolved = state.allows(&name).then(|| resolve(&state.manual, &side.resolved.configuration));
        // What a release records stands, whatever its pages would be told by today.
        let letters = last.letters_of(&name).unwrap_or_else(|| self.through_all(&name, side));
        Some(Earlier { letters, resolved })
    }

    /// Every release compared with the one before it: for configurations of which no release keeps a record.
    fn through_all(&self, name: &str, side: &Side) -> BTreeMap<StepId, Letter> {
        let mut letters = BTreeMap::new();
        let mut before: Option<Imprint> = None;
        for release in self.history.releases() {
            // What can't be read was reported; the letters of what it changed are those of the release after it.
            let Ok(state) = released_state(self.files, &self.history, release.letter.as_str(), PicturesRead::Drawings)
            else {
                continue;
            };
            if !state.allows(name) {
                continue;
            }
            let resolved = resolve(&state.manual, &side.resolved.configuration);
            let imprint = state.pictures.manual(&state.manual, &resolved);
            let change = before.as_ref().map(|old| old.compare(&imprint));
            mark(&mut letters, change.as_ref(), &resolved, &release.letter);
            before = Some(imprint);
        }
        letters
    }
}

impl State {
    /// Whether a kit of this name could be built.
    pub fn allows(&self, name: &str) -> bool {
        parse_configuration(&self.manual.settings, name).is_ok()
    }
}

/// Gives `letter` to the steps whose pages are new or say something else, all of them where there is nothing to compare
/// with, and drops those that are gone.
pub(super) fn mark<L: Clone>(
    letters: &mut BTreeMap<StepId, L>,
    change: Option<&LeafChange>,
    resolved: &Resolved,
    letter: &L,
) {
    let here: BTreeSet<&StepId> = resolved.steps.iter().map(|s| &s.step.id.value).collect();
    for id in &here {
        if change.is_none_or(|c| c.touches(id)) {
            letters.insert((*id).clone(), letter.clone());
        }
    }
    letters.retain(|id, _| here.contains(id));
}
