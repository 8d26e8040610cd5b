//! A release made for trial before it is written: its sources are restored, checked, and made into documents, so that
//! there is none that can't be printed.

use super::for_kit::with_releases;
use super::freeze::Frozen;
use super::{Checked, Watch, check, declared_names, documents};
use crate::change::restore;
use crate::diag::Refusal;
use crate::document::PrintScale;
use crate::source::{Files, Memory, Output};

/// Takes everything and keeps nothing.
struct Nowhere;

impl Output for Nowhere {
    fn write(&self, _: &str, _: &[u8]) -> std::io::Result<()> {
        Ok(())
    }
}

/// Makes every document of a release that is ready to be written, from what it restores to alone. Returns the check of
/// it, with all that was found: with errors the release must not be written.
///
/// # Errors
/// The release can't be read back; its bytes are not all there.
pub fn prove(frozen: &Frozen, files: &dyn Files, watch: Watch) -> Result<Checked, Refusal> {
    let release = &frozen.release;
    let unreadable = |words: String| {
        Refusal::new(format!("the release can't be read back: {words}"), "report it with the manual's folder")
    };
    let lines = release.lines().map_err(|e| unreadable(e.to_string()))?;
    let mut there = Memory::new();
    for (path, bytes) in &frozen.store {
        there.insert(path.as_str(), bytes.as_slice());
    }
    let restored = restore(&lines, &Over { first: &there, then: files });
    if let Some(missing) = restored.missing.first() {
        return Err(unreadable(format!("the bytes of {missing} are not in it")));
    }
    let mut memory = with_releases(restored.files, files, &release.letter)?;
    for (path, bytes) in &frozen.store {
        memory.insert(path.as_str(), bytes.as_slice());
    }
    memory.insert(frozen.path.as_str(), release.text());
    let mut checked = check(&memory, watch)?;
    if let Some(manual) = checked.manual.as_ref().filter(|_| !checked.findings.has_errors()) {
        let names = declared_names(manual);
        let found = documents(&checked, &memory, &names, PrintScale::TRUE, &Nowhere, watch)
            .map_err(|failure| unreadable(failure.to_string()))?;
        checked.findings = found;
    }
    Ok(checked)
}

/// A folder over another one.
struct Over<'a> {
    first: &'a dyn Files,
    then: &'a dyn Files,
}

impl Files for Over<'_> {
    fn list(&self) -> Result<Vec<crate::source::FileEntry>, crate::source::LoadError> {
        self.then.list()
    }

    fn read(&self, path: &str) -> Result<Vec<u8>, crate::source::LoadError> {
        self.first.read(path).or_else(|_| self.then.read(path))
    }
}
