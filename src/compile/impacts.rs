//! The sources as they are against the last release, for every configuration that documents or kits are made of.

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;

use super::compared::{State, released_state, working_state};
use super::pictures::PicturesRead;
use crate::change::{Documents, History, Impact, MadeDocument, Pair, impact, kits_touched};
use crate::diag::Refusal;
use crate::document::{LeafChange, MadeImprints, TouchedDocument, meta};
use crate::model::{Kit, Manual};
use crate::resolve::{Configuration, Resolved, SerialRange, declared, parse_configuration, resolve, serial_ranges};
use crate::source::Files;
use crate::units::{StepId, UnitStyle};

/// What the sources as they are change against the last release, and the units in which the manual shows lengths.
///
/// # Errors
/// Nothing was released yet; the sources or the release can't be read.
pub fn impacts(files: &dyn Files) -> Result<(Impact, UnitStyle), Refusal> {
    let history = History::last_head(files)?;
    if let Some(fault) = history.faults().next() {
        return Err(Refusal::new(fault.headline.clone(), fault.help.clone()));
    }
    let last = history.last().ok_or_else(|| {
        Refusal::new(
            "nothing was released yet",
            "make the first release with `kitwright release`; then changes can be followed",
        )
    })?;
    let (after, before) = rayon::join(
        || working_state(files, PicturesRead::Drawings),
        || released_state(files, &history, last.letter.as_str(), PicturesRead::Drawings),
    );
    let (after, before) = (after?, before?);
    let style = after.manual.settings.units;
    if after.lines == before.lines {
        return Ok((Impact { since: last.letter.to_string(), ..Impact::default() }, style));
    }
    let numbers = Numbers::of(&before.manual, &after.manual);
    let names = numbers.made(&after.manual);
    let old = numbers.made(&before.manual);
    let kept: Vec<&Configuration> = names.iter().filter(|c| allowed(&before.manual, &after.manual, c)).collect();
    let one = |state: &State, c: &Configuration| Resolved {
        name: numbers.name(&state.manual, c),
        ..resolve(&state.manual, c)
    };
    let resolved = |state: &State| -> Vec<Resolved> { kept.par_iter().map(|c| one(state, c)).collect() };
    let (a, b) = rayon::join(|| resolved(&before), || resolved(&after));
    let both: Vec<(&Resolved, &Resolved)> = a.iter().zip(&b).collect();
    let pairs: Vec<Pair> = both.par_iter().map(|(x, y)| Pair::new(before.side(x), after.side(y))).collect();
    let mut impact = impact(last.letter.as_str(), &pairs);
    let documents: Vec<Option<Documents>> = pairs.par_iter().map(|pair| documents(pair, &before, &after)).collect();
    impact.documents = documents.into_iter().flatten().collect();
    impact.new = names.iter().filter(|c| !kept.contains(c)).map(|c| numbers.name(&after.manual, c)).collect();
    impact.gone = old
        .iter()
        .map(|c| numbers.name(&before.manual, c))
        .filter(|n| !names.iter().any(|c| numbers.name(&after.manual, c) == *n))
        .collect();
    let of_kit = |kit: &Kit| numbers.of_kit(&after.manual, kit).map(|c| numbers.name(&after.manual, &c));
    impact.kits = kits_touched(&after.manual, &impact, of_kit);
    Ok((impact, style))
}

/// The documents of a configuration that come out otherwise: told from what is printed on them. None where none does.
fn documents(pair: &Pair, before: &State, after: &State) -> Option<Documents> {
    let (old, new) = rayon::join(
        || before.pictures.made(&before.manual, pair.before.resolved),
        || after.pictures.made(&after.manual, pair.after.resolved),
    );
    let made: Vec<MadeDocument> = old.compare(&new).into_iter().map(|t| touched(t, pair)).collect();
    let mut documents = Documents { configuration: pair.after.resolved.name.clone(), made, ..Documents::default() };
    let pages = documents.steps_of(MadeImprints::MANUAL).to_vec();
    let moved = pair.change.moved.iter().map(|s| s.id.clone());
    documents.moved = moved.filter(|id| !pages.contains(id)).collect();
    if meta(&before.manual, pair.before.resolved) != meta(&after.manual, pair.after.resolved) {
        let settings = pair.change.settings.iter().map(|s| s.field.clone());
        documents.settings = settings.filter(|field| ON_EVERY_PAGE.contains(&field.as_str())).collect();
        documents.settings.dedup();
    }
    // The manual's own templates and its font are files beside the sources.
    let (a, b): (BTreeSet<_>, BTreeSet<_>) = (look(before).collect(), look(after).collect());
    documents.settings.extend(a.symmetric_difference(&b).map(|(file, _)| (*file).to_owned()));
    documents.settings.dedup();
    let nothing = documents.made.is_empty() && documents.moved.is_empty() && documents.settings.is_empty();
    (!nothing).then_some(documents)
}

/// The files that decide how pages look, with what is in them.
fn look(state: &State) -> impl Iterator<Item = (&str, &str)> {
    let files = state.lines.iter().filter(|l| l.key == "sha256" && !l.file.starts_with("figures/"));
    files.map(|l| (l.file.as_str(), l.value.as_str()))
}

/// Settings that the head of every page shows or that decide how it looks.
const ON_EVERY_PAGE: [&str; 12] = [
    "title",
    "subtitle",
    "maker",
    "number",
    "language",
    "units",
    "paper",
    "step-start",
    "duplex",
    "hatching",
    "colours",
    "fonts",
];

/// The steps in the order of the pages, those that are gone at the end.
fn touched(document: TouchedDocument, pair: &Pair) -> MadeDocument {
    let TouchedDocument { name, change: LeafChange { changed, added, removed, pages } } = document;
    let (gone, mut here): (Vec<StepId>, Vec<StepId>) = (removed, changed.into_iter().chain(added).collect());
    let numbers: BTreeMap<&StepId, usize> =
        pair.after.resolved.steps.iter().enumerate().map(|(i, s)| (&s.step.id.value, i)).collect();
    here.sort_by_key(|id| numbers.get(id).copied());
    MadeDocument { name: name.to_owned(), steps: here.into_iter().chain(gone).collect(), pages }
}

/// The serial numbers that the conditions of two states tell apart.
struct Numbers {
    ranges: Vec<SerialRange>,
    /// The run of those that are built now, in both states.
    now: Option<SerialRange>,
}

impl Numbers {
    fn of(before: &Manual, after: &Manual) -> Self {
        let ranges = serial_ranges([before, after]);
        let is_now = |range: &&SerialRange| {
            ranges.len() == 1
                || [before, after].iter().all(|m| m.settings.serial.is_some_and(|serial| range.has(serial)))
        };
        let now = ranges.iter().find(is_now).copied();
        Self { ranges, now }
    }

    /// The configurations that are declared, then those of kits.
    fn made(&self, manual: &Manual) -> Vec<Configuration> {
        let mut list = declared(&manual.settings);
        for configuration in manual.kits.iter().filter_map(|kit| self.of_kit(manual, kit)) {
            if !list.contains(&configuration) {
                list.push(configuration);
            }
        }
        list
    }

    /// A kit's configuration, the same for all kits whose numbers no condition tells apart.
    fn of_kit(&self, manual: &Manual, kit: &Kit) -> Option<Configuration> {
        let configuration = parse_configuration(&manual.settings, &kit.configuration.value).ok()?;
        let range = self.ranges.iter().find(|range| range.has(kit.serial.value));
        let serial = range.filter(|range| self.now.as_ref() != Some(range)).map(|range| range.first);
        Some(Configuration { serial, ..configuration })
    }

    fn name(&self, manual: &Manual, configuration: &Configuration) -> String {
        let range = configuration.serial.and_then(|serial| self.ranges.iter().find(|range| range.has(serial)));
        range.map_or_else(
            || configuration.plain_name(&manual.settings),
            |range| range.name(configuration, &manual.settings),
        )
    }
}

fn allowed(before: &Manual, after: &Manual, configuration: &Configuration) -> bool {
    parse_configuration(&before.settings, &configuration.plain_name(&after.settings)).is_ok()
}
