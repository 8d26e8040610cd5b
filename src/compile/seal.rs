//! Seals for releases of an earlier form, made of what can be found out about them today.

use crate::change::{
    History, Letter, RELEASES, Release, Seal, body, normalise, restore, seal_path, store_faults, store_path,
};
use crate::diag::Refusal;
use crate::source::{Files, LoadError};
use crate::units::Date;

/// Makes the seals that are missing: path and bytes, in the order of the letters.
///
/// # Errors
/// A release, the store or the copy `against` contradicts them; nothing is sealed then.
pub fn seals(files: &dyn Files, against: Option<&dyn Files>, date: Date) -> Result<Vec<(String, String)>, Refusal> {
    let (history, faults) = History::read(files)?;
    if let Some(fault) = faults.iter().chain(&store_faults(&history, files)).next() {
        return Err(Refusal::new(fault.headline.clone(), fault.help.clone()));
    }
    let mut seals = Vec::new();
    for letter in history.unproven() {
        let Some(release) = history.get(letter.as_str()) else { continue };
        holds_together(release, &history, files, date)?;
        if let Some(copy) = against {
            is_the_same(release, copy)?;
        }
        let seal = Seal { letter: letter.clone(), date, release: release.digest() };
        seals.push((seal_path(letter.as_str()), seal.text()));
    }
    Ok(seals)
}

/// Whether a release agrees with itself and with those beside it.
fn holds_together(release: &Release, history: &History, files: &dyn Files, date: Date) -> Result<(), Refusal> {
    let contradicted = |words: String| {
        Err(Refusal::new(
            format!("release {} is not sealed: {words}", release.letter),
            "take its file back from version control, or from a copy that you trust",
        ))
    };
    if !history.is_as_written(&release.letter) {
        return contradicted("its head is not as it is written".to_owned());
    }
    let lines = release.lines().map_err(|e| Refusal::new(e.to_string(), "take its file back from version control"))?;
    let restored = restore(&lines, files).files;
    if body(&normalise(&restored)?) != release.body {
        return contradicted("its sources are not as they are written when they are read back".to_owned());
    }
    if release.date > date {
        return contradicted(format!("it has the date {}, which is after {date}", release.date));
    }
    let before = history.releases().take_while(|r| r.letter < release.letter).last();
    if let Some(before) = before.filter(|before| before.date > release.date) {
        return contradicted(format!("it has an earlier date than release {}", before.letter));
    }
    let letters = release.retired.values().map(|r| r.letter.as_str());
    let letters = letters.filter_map(Letter::parse).chain(release.changed.keys().map(|(_, letter)| letter.clone()));
    match letters.max() {
        Some(later) if later > release.letter => contradicted(format!("it speaks of the later release {later}")),
        _ => Ok(()),
    }
}

/// Whether another copy has the same release, file by file.
fn is_the_same(release: &Release, copy: &dyn Files) -> Result<(), Refusal> {
    let path = format!("{RELEASES}{}.release", release.letter);
    let refused = |words: String, help: &str| {
        Err(Refusal::new(format!("release {} is not sealed: {words}", release.letter), help))
    };
    let other = match copy.read(&path) {
        Ok(bytes) => String::from_utf8(bytes).ok().and_then(|text| Release::read(&text).ok()),
        Err(LoadError::Missing) => {
            return refused(
                format!("the copy has no {path}"),
                "name a manual's folder that has it, or leave --against out",
            );
        }
        Err(error) => return refused(format!("{path} of the copy can't be read: {error}"), "name another copy"),
    };
    match other {
        None => return refused(format!("{path} of the copy is not whole"), "name an intact copy"),
        Some(other) if other.text() != release.text() => {
            return refused(
                "the copy has another one".to_owned(),
                "find out which of the two was issued, and put that one into the manual's folder",
            );
        }
        Some(_) => {}
    }
    for (digest, name) in release.stored() {
        match copy.read(&store_path(digest)) {
            Ok(bytes) if crate::change::hex_digest(&bytes) != digest => {
                return refused(format!("{name} is damaged in the copy"), "name an intact copy");
            }
            Ok(_) => {}
            Err(_) => return refused(format!("the copy lacks the bytes of {name}"), "name an intact copy"),
        }
    }
    Ok(())
}
