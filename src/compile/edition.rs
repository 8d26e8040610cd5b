//! The state of the documents of a configuration: which release they belong to, what changed when.

use std::collections::BTreeMap;

use super::before::{Before, mark};
use super::compared::{State, released_state, working_state};
use super::pictures::PicturesRead;
use crate::change::{History, Release, Standing};
use crate::diag::Refusal;
use crate::document::{Edition, Revision};
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
        let working = if history.last().is_some() { Some(working_state(files, PicturesRead::Drawings)?) } else { None };
        let second = match (&standing, history.releases().nth_back(1)) {
            (Standing::Released(_), Some(second)) => {
                Some(released_state(files, &history, second.letter.as_str(), PicturesRead::Drawings)?)
            }
            _ => None,
        };
        Ok(Self { before: Before::read(files, history)?, standing, second, working })
    }

    /// What this program makes otherwise of the last release than the one that made it, in words.
    pub fn otherwise(&self) -> &[String] {
        self.before.last.as_ref().map_or(&[], |last| &last.otherwise)
    }

    /// What every page says of the state of its document.
    pub fn state(&self) -> String {
        self.standing.words()
    }

    /// The edition of a configuration of the sources as they are.
    pub fn of(&self, resolved: &Resolved) -> Edition {
        let Some(working) = &self.working else { return Edition::default() };
        // What is otherwise in one kit has no letter and no bar.
        let plain = (!resolved.configuration.deviations.is_empty())
            .then(|| resolve(&working.manual, &resolved.configuration.without_deviations()));
        let resolved = plain.as_ref().unwrap_or(resolved);
        let Some(earlier) = self.before.earlier(&working.side(resolved)) else { return Edition::default() };
        let mut letters: BTreeMap<StepId, String> =
            earlier.letters.into_iter().map(|(id, l)| (id, l.to_string())).collect();
        let name = resolved.configuration.plain_name(&working.manual.settings);
        let released = matches!(self.standing, Standing::Released(_));
        // Against the release before the one that they are, else against the last one.
        let base = match &self.standing {
            Standing::Released(_) => self.second.as_ref().filter(|s| s.allows(&name)).map(|state| {
                let old = resolve(&state.manual, &resolved.configuration);
                (state, old)
            }),
            _ => self.before.last.as_ref().zip(earlier.resolved),
        };
        let change = base.map(|(state, old)| (state, state.pages(&old), working.pages(resolved)));
        if !released {
            mark(&mut letters, change.as_ref().map(|(_, a, b)| a.compare(b)).as_ref(), resolved, &NEW.to_owned());
        }
        let letter = match &self.standing {
            Standing::Released(this) => this.letter.as_str(),
            _ => NEW,
        };
        let (bars, shop_bars) =
            change.map(|(state, a, b)| a.bars(&b, resolved, state.letter(), letter)).unwrap_or_default();
        let revisions = self.revisions(&name);
        Edition { state: self.state().into(), released, revisions, letters, bars, shop_bars, ..Edition::default() }
    }

    /// The releases as the record of revisions of a configuration has them.
    fn revisions(&self, name: &str) -> Vec<Revision> {
        let mut before: Option<&Release> = None;
        let mut list = Vec::new();
        for release in self.before.history.releases() {
            list.push(Revision {
                letter: release.letter.to_string(),
                date: release.date.to_string(),
                class: release.class.word(),
                summary: release.summary.clone(),
                no_step: before.is_some_and(|before| changes_no_step(before, release, name)),
            });
            before = Some(release);
        }
        list
    }
}

/// Whether a release records that it changed, added and dropped no step of a configuration.
fn changes_no_step(before: &Release, release: &Release, name: &str) -> bool {
    let (Some(old), Some(new)) = (before.letters_of(name), release.letters_of(name)) else { return false };
    old.keys().eq(new.keys()) && new.values().all(|letter| *letter != release.letter)
}
