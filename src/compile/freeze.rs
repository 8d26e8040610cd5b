//! A release made of the checked sources: nothing is written here.

use std::collections::{BTreeMap, BTreeSet};

use super::Checked;
use super::before::{Before, mark};
use super::imprints::PictureDigests;
use super::notices::{silent_steps, without_text};
use crate::change::{
    Class, History, Letter, NameKind, RELEASES, Release, Retired, SCHEMA, Side, body, frozen_digest, normalise,
    restore, retired, titles, unstored,
};
use crate::diag::Refusal;
use crate::resolve::declared;
use crate::source::Files;
use crate::units::Date;

/// A release that is ready to be written.
#[derive(Clone, Debug)]
pub struct Frozen {
    pub release: Release,
    /// Its path in the manual's folder.
    pub path: String,
    /// Pictures, templates and fonts that are not in the store yet: path and bytes. To be written first.
    pub store: Vec<(String, Vec<u8>)>,
}

/// Makes the next release of a manual that was checked and has no errors.
///
/// # Errors
/// Nothing has changed since the last release; the date is before it; the sources can't be carried in a release.
pub fn freeze(
    checked: &Checked,
    files: &dyn Files,
    date: Date,
    class: Class,
    summary: &str,
) -> Result<Frozen, Refusal> {
    let Some(manual) = checked.manual.as_ref().filter(|_| !checked.findings.has_errors()) else {
        return Err(Refusal::new("the manual has errors", "correct what `kitwright check` lists, then release"));
    };
    let (history, faults) = History::read(files)?;
    if let Some(fault) = faults.first() {
        return Err(Refusal::new(fault.headline.clone(), fault.help.clone()));
    }
    let before = Before::read(files, history)?;
    let history = &before.history;
    let lines = normalise(files)?;
    let text = body(&lines);
    if let Some(last) = history.last() {
        if last.body == text {
            return Err(Refusal::new(
                format!("nothing has changed since release {}", last.letter),
                "change the sources first; a comment or a blank does not count as a change",
            ));
        }
        if date < last.date {
            return Err(Refusal::new(
                format!("{date} is before release {}, which has the date {}", last.letter, last.date),
                "give a later date with --date, or set the clock",
            ));
        }
    }
    let letter = history.last().map_or_else(Letter::first, |last| last.letter.next());
    let already = titles_gone(history, &text);
    let pictures = PictureDigests::of(manual, &lines);
    let mut configurations = BTreeMap::new();
    let mut changed: BTreeMap<(String, Letter), BTreeSet<String>> = BTreeMap::new();
    // Changed steps that say nothing to who has done them already.
    let mut silent: BTreeSet<String> = BTreeSet::new();
    for configuration in declared(&manual.settings) {
        let name = configuration.name(&manual.settings);
        let Some(resolved) = checked.resolved.iter().find(|r| r.configuration == configuration) else { continue };
        let side = Side { name: &name, manual, sources: &checked.sources, resolved, lines: &lines };
        let earlier = before.earlier(&side);
        let since = earlier.as_ref().and_then(|e| e.resolved.as_ref()).zip(before.last.as_ref());
        let printed = since
            .map(|(old, state)| (state.pictures.manual(&state.manual, old), pictures.manual(manual, resolved), state));
        if let Some((old, new, state)) = &printed {
            silent.extend(silent_steps(old, new, resolved, letter.as_str(), state.letter()));
        }
        let mut letters = earlier.map(|e| e.letters).unwrap_or_default();
        mark(&mut letters, printed.map(|(old, new, _)| old.compare(&new)).as_ref(), resolved, &letter);
        for (step, since) in letters {
            changed.entry((step.to_string(), since)).or_default().insert(name.clone());
        }
        configurations.insert(name.clone(), frozen_digest(&side));
    }
    if class == Class::Mandatory && !silent.is_empty() {
        return Err(without_text(letter.as_str(), &silent.into_iter().collect::<Vec<_>>()));
    }
    let release = Release {
        letter,
        date,
        class,
        summary: summary.to_owned(),
        configurations,
        program: env!("CARGO_PKG_VERSION").to_owned(),
        earlier: history.releases().map(|r| (r.letter.clone(), r.digest())).collect(),
        schema: SCHEMA,
        retired: already,
        changed,
        body: text,
    };
    // A release that can't be read back is worth nothing, so it is read back before it is written.
    let again = Release::read(&release.text())
        .ok()
        .and_then(|r| r.lines().ok())
        .map(|lines| restore(&lines, files))
        .and_then(|restored| normalise(&restored.files).ok());
    if again.as_deref() != Some(&lines[..]) {
        let at = again.unwrap_or_default().iter().zip(&lines).find(|(a, b)| a != b).map(|(_, b)| b.to_string());
        return Err(Refusal::new(
            format!("the sources can't be read back from a release: {}", at.unwrap_or_default()),
            "take unusual characters out of this value, or report it with the manual's folder",
        ));
    }
    let store = unstored(&lines, files)?;
    let path = format!("{RELEASES}{}.release", release.letter);
    Ok(Frozen { release, path, store: store.into_iter().collect() })
}

/// Names that were released once and that `text`, the sources of the release to be made, has no more.
fn titles_gone(history: &History, text: &str) -> BTreeMap<(NameKind, String), Retired> {
    let mut gone = retired(history);
    if let Some(last) = history.last() {
        let letter = last.letter.to_string();
        gone.extend(
            titles(&last.body).into_iter().map(|(name, title)| (name, Retired { letter: letter.clone(), title })),
        );
    }
    let still = titles(text);
    gone.retain(|name, _| !still.contains_key(name));
    gone
}
