//! The state of the documents of a configuration: which release they belong to, what changed when.

use std::collections::BTreeMap;

use super::before::{Before, mark};
use super::compared::{State, released_state, working_state};
use super::pictures::PicturesRead;
use crate::change::{History, Standing, compare};
use crate::diag::Refusal;
use crate::document::{Bars, Edition, Revision};
use crate::resolve::{Resolved, resolve};
use crate::source::Files;
use crate::units::StepId;

/// What stands at a change that has no letter yet.
const NEW: &str = "new";

/// How the sources stand to the releases. Of these the last one is read back, and where the sources are that one, the
/// one before it too: what was changed when in the others stands in the last.
pub(super) struct Editions<'a> {
    before: Before<'a>,
    standing: Standing,
    revisions: Vec<Revision>,
    /// The release before the last, where the sources are those of the last.
    second: Option<State>,
    /// The sources as they are; none where nothing was released.
    working: Option<State>,
}

impl<'a> Editions<'a> {
    /// # Errors
    /// A release can't be read.
    pub fn read(files: &'a dyn Files) -> Result<Self, Refusal> {
        let (history, faults) = History::read(files)?;
        if let Some(fault) = faults.first() {
            return Err(Refusal::new(fault.headline.clone(), fault.help.clone()));
        }
        let standing = history.standing(files)?;
        let revisions = history
            .releases()
            .map(|r| Revision {
                letter: r.letter.to_string(),
                date: r.date.to_string(),
                class: r.class.word(),
                summary: r.summary.clone(),
            })
            .collect();
        let working = if history.last().is_some() { Some(working_state(files, PicturesRead::Drawings)?) } else { None };
        let second = match (&standing, history.releases().nth_back(1)) {
            (Standing::Released(_), Some(second)) => {
                Some(released_state(files, &history, second.letter.as_str(), PicturesRead::Drawings)?)
            }
            _ => None,
        };
        Ok(Self { before: Before::read(files, history)?, standing, revisions, second, working })
    }

    /// What this program makes otherwise of the last release than the one that made it, in words.
    pub fn otherwise(&self) -> &[String] {
        self.before.last.as_ref().map_or(&[], |last| &last.otherwise)
    }

    /// The edition of a configuration of the sources as they are.
    pub fn of(&self, resolved: &Resolved) -> Edition {
        let Some(working) = &self.working else { return Edition::default() };
        let here = working.side(resolved);
        let Some(earlier) = self.before.earlier(&here) else { return Edition::default() };
        let mut letters: BTreeMap<StepId, String> =
            earlier.letters.into_iter().map(|(id, l)| (id, l.to_string())).collect();
        let since = earlier.resolved.as_ref().zip(self.before.last.as_ref()).map(|(old, state)| (state, old));
        let bars = match &self.standing {
            // Against the release before this one.
            Standing::Released(this) => {
                self.second.as_ref().filter(|s| s.allows(&plain(resolved, working))).map(|state| {
                    let old = resolve(&state.manual, &resolved.configuration);
                    Bars::of(&compare(&state.side(&old), &here), &old, resolved, state.letter(), this.letter.as_str())
                })
            }
            _ => {
                let change = since.map(|(state, old)| compare(&state.side(old), &here));
                mark(&mut letters, change.as_ref(), resolved, &NEW.to_owned());
                since.zip(change).map(|((state, old), change)| Bars::of(&change, old, resolved, state.letter(), NEW))
            }
        };
        Edition {
            state: self.standing.words().into(),
            released: matches!(self.standing, Standing::Released(_)),
            revisions: self.revisions.clone(),
            letters,
            bars: bars.unwrap_or_default(),
        }
    }
}

fn plain(resolved: &Resolved, working: &State) -> String {
    resolved.configuration.plain_name(&working.manual.settings)
}
