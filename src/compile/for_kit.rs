//! The manual of one kit of the register: the sources that it was shipped with, and what is otherwise in it.

use std::collections::{BTreeMap, BTreeSet};

use super::pictures::WithoutPhotographs;
use super::{Checked, Watch, check_after};
use crate::change::{History, Letter, RELEASES, complete, deviations, restore, restore_where};
use crate::check;
use crate::diag::{Diagnostic, Diagnostics, Level, Refusal, Sink};
use crate::model::{self, Deviation, Kit, Manual};
use crate::resolve::{Configuration, Resolved, parse_configuration, resolve};
use crate::source::{Files, LoadError, Memory, SourceMap};

/// A kit and the sources of its manual.
pub struct ForKit {
    pub serial: u32,
    pub configuration: String,
    /// The release it was shipped with.
    pub letter: Option<String>,
    /// What is otherwise in it.
    deviations: Vec<Deviation>,
    /// The sources as they are, for what the release does not list, with their texts.
    today: Manual,
    texts: SourceMap,
    /// What is wrong with the register itself.
    faults: Sink,
    /// The sources of that release; none where the register names no release: then those as they are.
    released: Option<Memory>,
}

impl ForKit {
    /// Finds a kit in the register.
    ///
    /// # Errors
    /// There is no such kit; its release can't be read.
    pub fn find(files: &dyn Files, serial: u32) -> Result<Self, Refusal> {
        let model::Read { manual, sources: texts, mut faults, .. } = model::read(&WithoutPhotographs(files))?;
        let today = manual
            .ok_or_else(|| Refusal::new("there is no readable manual.yaml", "correct what `kitwright check` lists"))?;
        let kit = today.kits.iter().find(|k| k.serial.value == serial).ok_or_else(|| {
            Refusal::new(
                format!("there is no kit {serial} in the kit register"),
                "look up its serial number in kits.csv",
            )
        })?;
        // A row that can't be read is not used: the kit would be shown without it.
        let register: Vec<_> = ["kits", "shipped"].iter().filter_map(|n| today.tables.get(n)).map(|t| t.file).collect();
        faults.retain(|d| d.level == Level::Error && d.span.is_some_and(|span| register.contains(&span.file)));
        let letter = kit.release.as_ref().map(|r| r.value.clone());
        let released = letter.as_deref().map(|l| released(files, l)).transpose()?;
        let (configuration, deviations) = (kit.configuration.value.clone(), deviations(&today, kit));
        Ok(Self { serial, configuration, letter, deviations, today, texts, faults, released })
    }

    /// The sources that its manual is made of; `files` where they are those as they are.
    pub fn sources<'a>(&'a self, files: &'a dyn Files) -> &'a dyn Files {
        self.released.as_ref().map_or(files, |memory| memory as &dyn Files)
    }

    /// Whether the register of deviations is a sheet of a workbook.
    pub fn register_is_a_sheet(&self) -> bool {
        self.today.tables.get("shipped").is_some_and(|table| self.texts.name(table.file) != "shipped.csv")
    }

    /// The kit with these rows, of this manual, whose lists are completed by those of today.
    fn made(&self, manual: &mut Manual, rows: Vec<Deviation>) -> Result<Resolved, Refusal> {
        complete(manual, &self.today, &rows);
        let plain = parse_configuration(&manual.settings, &self.configuration).map_err(|refusal| {
            Refusal::new(
                format!("kit {} can't be built as {}: {refusal}", self.serial, self.configuration),
                "correct its row in kits.csv",
            )
        })?;
        Ok(resolve(manual, &Configuration { serial: Some(self.serial), deviations: rows, ..plain }))
    }

    /// The kit as it was shipped, resolved and not judged, with the manual that it is made of.
    ///
    /// # Errors
    /// Its sources can't be read; it is no configuration of them.
    pub fn resolved(&self, files: &dyn Files) -> Result<(Manual, Resolved), Refusal> {
        let read = model::read(&WithoutPhotographs(self.sources(files)))?;
        let mut manual =
            read.manual.ok_or_else(|| Refusal::new("its sources can't be read", "run `kitwright check`"))?;
        let resolved = self.made(&mut manual, self.deviations.clone())?;
        Ok((manual, resolved))
    }

    /// The steps of the kit and their joints: each step alone, and with each of its joints that has an id.
    ///
    /// # Errors
    /// As of [`Self::resolved`].
    pub fn places(&self, files: &dyn Files) -> Result<Vec<(String, Option<String>)>, Refusal> {
        let (_, resolved) = self.resolved(files)?;
        let mut places = Vec::new();
        for s in &resolved.steps {
            let step = s.step.id.value.to_string();
            let joints = s.step.joints.iter().filter_map(|j| j.id.as_ref());
            places.extend(joints.map(|j| (step.clone(), Some(j.value.clone()))));
            places.push((step, None));
        }
        Ok(places)
    }

    /// Checks these sources and makes the kit of them, as it was shipped, under the name that comes back. What is found of
    /// what is otherwise in it is found with the rest.
    ///
    /// # Errors
    /// The folder can't be listed; the configuration is not one of these sources.
    pub fn check(&self, files: &dyn Files, watch: Watch) -> Result<(Checked, String), Refusal> {
        let mut checked = check_after(self.sources(files), self.texts.clone(), watch)?;
        let Some(manual) = &mut checked.manual else { return Ok((checked, String::new())) };
        // Sources as they are hold the register themselves, and its rows were found wrong already.
        let own = manual.kits.iter().find(|k| self.released.is_none() && k.serial.value == self.serial);
        let rows = own.map_or_else(|| self.deviations.clone(), |kit| deviations(manual, kit));
        let register: &[Diagnostic] = if own.is_some() { &[] } else { &self.faults };
        let resolved = self.made(manual, rows)?;
        let mut found: Sink = checked.findings.iter().cloned().collect();
        found.extend(register.iter().cloned());
        let of_kit = check::kit_faults(manual, &resolved, &checked.sources);
        let known: BTreeSet<_> = found.iter().map(|d| (d.rule, d.span, d.headline.clone())).collect();
        found.extend(of_kit.into_iter().filter(|d| !known.contains(&(d.rule, d.span, d.headline.clone()))));
        checked.findings = Diagnostics::collect(found, &checked.sources);
        let name = resolved.name.clone();
        checked.resolved.push(resolved);
        Ok((checked, name))
    }
}

/// What is wrong with the rows of the register, each held against its kit at the release that it was shipped with. Kits whose
/// release or configuration is not there are another finding.
///
/// # Errors
/// The folder can't be listed.
pub(super) fn row_faults(files: &dyn Files, manual: &Manual) -> Result<Sink, LoadError> {
    let mut found = Sink::new();
    let mut by_letter: BTreeMap<Option<&str>, Vec<&Kit>> = BTreeMap::new();
    for kit in manual.kits.iter().filter(|k| manual.deviations_of(k.serial.value).next().is_some()) {
        by_letter.entry(kit.release.as_ref().map(|r| r.value.as_str())).or_default().push(kit);
    }
    if by_letter.is_empty() {
        return Ok(found);
    }
    let history = History::heads_where(files, &|l| by_letter.contains_key(&Some(l.as_str())))?;
    for (letter, kits) in by_letter {
        let released = match letter.map(|letter| lists_of(files, &history, letter)) {
            Some(None) => continue,
            Some(Some(mut released)) => {
                complete(&mut released, manual, &manual.deviations);
                Some(released)
            }
            None => None,
        };
        let at = released.as_ref().unwrap_or(manual);
        for kit in kits {
            let Ok(plain) = parse_configuration(&at.settings, &kit.configuration.value) else { continue };
            let deviations = deviations(manual, kit);
            let configuration = Configuration { serial: Some(kit.serial.value), deviations, ..plain };
            found.extend(check::row_faults(&resolve(at, &configuration)));
        }
    }
    Ok(found)
}

/// Lists and steps of a release, without its pictures. None where it can't be read, which is another finding.
fn lists_of(files: &dyn Files, history: &History, letter: &str) -> Option<Manual> {
    let lines = history.get(letter)?.lines().ok()?;
    let restored = restore_where(&lines, files, &|path| !path.starts_with("figures/"));
    model::read(&restored.files).ok()?.manual
}

/// The sources of a release, with the releases up to it, so that its documents are those of that release.
fn released(files: &dyn Files, letter: &str) -> Result<Memory, Refusal> {
    let history = History::heads(files)?;
    let no_such = || {
        let letters: Vec<_> = history.releases().map(|r| r.letter.to_string()).collect();
        Refusal::new(
            format!("there is no release {letter}"),
            format!("correct the register; the releases are {}", letters.join(", ")),
        )
    };
    if let Some(fault) = history.fault(letter) {
        return Err(Refusal::new(fault.headline.clone(), fault.help.clone()));
    }
    let (release, wanted) = history.get(letter).zip(Letter::parse(letter)).ok_or_else(no_such)?;
    let lines = release.lines().map_err(|e| {
        Refusal::new(format!("release {letter} can't be read: {e}"), "take its file back from version control")
    })?;
    let restored = restore(&lines, files);
    whole(letter, &restored.missing)?;
    with_releases(restored.files, files, &wanted)
}

/// Refuses what could not be restored in full.
pub(super) fn whole(letter: &str, missing: &[String]) -> Result<(), Refusal> {
    let Some(first) = missing.first() else { return Ok(()) };
    Err(Refusal::new(
        format!("release {letter} can't be restored: the bytes of {first} are gone or damaged"),
        "`kitwright check` says which file of `releases/files` it is; take it back from version control",
    ))
}

/// Adds the releases up to `last`, with their seals and the store.
pub(super) fn with_releases(mut memory: Memory, files: &dyn Files, last: &Letter) -> Result<Memory, Refusal> {
    for entry in files.list()? {
        let Some(rest) = entry.path.strip_prefix(RELEASES) else { continue };
        let letter = rest.strip_suffix(".release").or_else(|| rest.strip_suffix(".seal")).and_then(Letter::parse);
        if letter.is_none_or(|letter| letter <= *last) {
            memory.insert(entry.path.clone(), files.read(&entry.path)?);
        }
    }
    Ok(memory)
}
