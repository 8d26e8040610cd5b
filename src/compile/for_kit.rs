//! The manual of one kit of the register: the sources that it was shipped with, and what is otherwise in it.

use super::compared::working_state;
use super::pictures::PicturesRead;
use super::{Checked, Watch, check};
use crate::change::{History, Letter, RELEASES, restore};
use crate::diag::Refusal;
use crate::model::Deviation;
use crate::resolve::{Configuration, parse_configuration, resolve};
use crate::source::{Files, Memory};

/// A kit and the sources of its manual.
pub struct ForKit {
    pub serial: u32,
    pub configuration: String,
    /// The release it was shipped with.
    pub letter: Option<String>,
    deviations: Vec<Deviation>,
    /// The sources of that release; none where the register names no release: then those as they are.
    released: Option<Memory>,
}

impl ForKit {
    /// Finds a kit in the register.
    ///
    /// # Errors
    /// There is no such kit; its release can't be read.
    pub fn find(files: &dyn Files, serial: u32) -> Result<Self, Refusal> {
        let manual = working_state(files, PicturesRead::Drawings)?.manual;
        let kit = manual.kits.iter().find(|k| k.serial.value == serial).ok_or_else(|| {
            Refusal::new(
                format!("there is no kit {serial} in the kit register"),
                "look up its serial number in kits.csv",
            )
        })?;
        let letter = kit.release.as_ref().map(|r| r.value.clone());
        let released = letter.as_deref().map(|l| released(files, l)).transpose()?;
        let deviations = manual.deviations_of(serial).cloned().collect();
        Ok(Self { serial, configuration: kit.configuration.value.clone(), letter, deviations, released })
    }

    /// The sources that its manual is made of; `files` where they are those as they are.
    pub fn sources<'a>(&'a self, files: &'a dyn Files) -> &'a dyn Files {
        self.released.as_ref().map_or(files, |memory| memory as &dyn Files)
    }

    /// Checks these sources and makes the kit's configuration of them, under the name that comes back.
    ///
    /// # Errors
    /// The folder can't be listed; the configuration is not one of these sources.
    pub fn check(&self, files: &dyn Files, watch: Watch) -> Result<(Checked, String), Refusal> {
        let mut checked = check(self.sources(files), watch)?;
        let Some(manual) = &mut checked.manual else { return Ok((checked, String::new())) };
        manual.deviations = self.deviations.clone();
        let configuration = parse_configuration(&manual.settings, &self.configuration).map_err(|refusal| {
            Refusal::new(
                format!("kit {} can't be built as {}: {refusal}", self.serial, self.configuration),
                "correct its row in kits.csv",
            )
        })?;
        let resolved = resolve(manual, &Configuration { serial: Some(self.serial), ..configuration });
        let name = resolved.name.clone();
        checked.resolved.push(resolved);
        Ok((checked, name))
    }
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
