//! The state of the documents of a configuration: which release they belong to, what changed when.

use std::collections::BTreeMap;

use super::compared::{State, released_state, working_state};
use super::freeze::Refused;
use crate::change::{Change, History, Side, Standing, compare};
use crate::document::{Bars, Edition, Revision};
use crate::resolve::{Resolved, resolve};
use crate::source::Files;
use crate::units::StepId;

/// What stands at a change that has no letter yet.
const NEW: &str = "new";

/// Every release, read back, oldest first, and how the sources stand to them.
pub(super) struct Editions {
    standing: Standing,
    revisions: Vec<Revision>,
    states: Vec<State>,
    /// The sources as they are; none where nothing was released.
    working: Option<State>,
}

impl Editions {
    /// # Errors
    /// A release can't be read.
    pub fn read(files: &dyn Files) -> Result<Self, Refused> {
        let (history, faults) = History::read(files)?;
        if let Some(fault) = faults.first() {
            return Err(Refused::new(fault.headline.clone(), fault.help.clone()));
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
        let working = if history.last().is_some() { Some(working_state(files)?) } else { None };
        Ok(Self { standing, revisions, states: history.releases().map(|r| released_state(files, &history, r.letter.as_str())).collect::<Result<_, _>>()?, working })
    }

    /// The edition of a configuration of the sources as they are.
    pub fn of(&self, resolved: &Resolved) -> Edition {
        let Some(working) = &self.working else { return Edition::default() };
        let before: Vec<(&State, Resolved)> = self
            .states
            .iter()
            .filter(|s| crate::resolve::parse_configuration(&s.manual.settings, &plain(resolved, working)).is_ok())
            .map(|s| (s, resolve(&s.manual, &resolved.configuration)))
            .collect();
        let released = matches!(self.standing, Standing::Released(_));
        // Letters: a step has that of the first release in which it became what it is.
        let mut letters: BTreeMap<StepId, String> = BTreeMap::new();
        let mut last: Option<Side> = None;
        for (state, old) in &before {
            let side = state.side(old);
            mark(&mut letters, last.as_ref().map(|l| compare(l, &side)), old, state.letter());
            last = Some(side);
        }
        let here = working.side(resolved);
        let since = last.map(|l| compare(&l, &here));
        if !released {
            mark(&mut letters, since, resolved, NEW);
        }
        letters.retain(|id, _| resolved.step(id).is_some());
        // Bars: against the release before this one.
        let (base, letter) = match &self.standing {
            Standing::Released(this) => (before.iter().rev().nth(1), this.letter.to_string()),
            _ => (before.last(), NEW.to_owned()),
        };
        let bars = base.map_or_else(Bars::default, |(state, old)| {
            Bars::of(&compare(&state.side(old), &here), old, resolved, state.letter(), &letter)
        });
        Edition { state: self.standing.words().into(), released, revisions: self.revisions.clone(), letters, bars }
    }
}

fn plain(resolved: &Resolved, working: &State) -> String {
    resolved.configuration.plain_name(&working.manual.settings)
}

/// Gives `letter` to the steps that are new or changed; all of them where there is nothing to compare with.
fn mark(letters: &mut BTreeMap<StepId, String>, change: Option<Change>, resolved: &Resolved, letter: &str) {
    let ids: Vec<StepId> = match change {
        None => resolved.steps.iter().map(|s| s.step.id.value.clone()).collect(),
        Some(change) => {
            let changed = change.changed.iter().map(|c| &c.step);
            changed.chain(&change.added).map(|s| s.id.clone()).collect()
        }
    };
    letters.extend(ids.into_iter().map(|id| (id, letter.to_owned())));
}
