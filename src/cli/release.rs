//! `release`: the sources frozen under the next letter, and whether they differ from the last one.

use std::fs::{self, File};
use std::io::{self, Write as _};
use std::path::Path;
use std::time::{SystemTime, UNIX_EPOCH};

use super::failure::Failure;
use crate::change::{Class, Date, History, Notice, Standing};
use crate::compile::{Checked, Refused, freeze};
use crate::document::CsvSheet;
use crate::source::Disk;

/// What the maker says of a release.
#[derive(Clone, Debug)]
pub(super) struct Terms {
    /// None is today.
    pub date: Option<Date>,
    pub class: Class,
    pub summary: String,
}

/// How the sources stand to the last release, and in words.
///
/// # Errors
/// The folder or a release can't be read.
pub(super) fn standing(files: &Disk) -> Result<(Standing, String), Failure> {
    let (history, faults) = History::read(files).map_err(|e| refused(e.into()))?;
    if let Some(fault) = faults.first() {
        return Err(Failure::new(fault.headline.clone(), fault.help.clone()));
    }
    let standing = history.standing(files).map_err(|e| refused(e.into()))?;
    let words = match &standing {
        Standing::Unreleased => "nothing was released yet".to_owned(),
        Standing::Released(last) => format!("the sources are those of release {} ({})", last.letter, last.date),
        Standing::Working(last) => format!("the sources differ from release {} ({})", last.letter, last.date),
    };
    Ok((standing, words))
}

/// Freezes the sources; returns what was made, in words.
///
/// # Errors
/// A refusal; the folder can't be written.
pub(super) fn release(checked: &Checked, files: &Disk, folder: &Path, terms: &Terms) -> Result<String, Failure> {
    let date = terms.date.map_or_else(today, Ok)?;
    let frozen = freeze(checked, files, date, terms.class, &terms.summary).map_err(refused)?;
    for (path, bytes) in &frozen.store {
        write_new(&folder.join(path), bytes)?;
    }
    let path = folder.join(&frozen.path);
    write_new(&path, frozen.release.text().as_bytes())?;
    Ok(format!("{}: {}", path.display(), frozen.release.title()))
}

pub(super) fn refused(refused: Refused) -> Failure {
    Failure::new(refused.headline, refused.help)
}

fn today() -> Result<Date, Failure> {
    let days = SystemTime::now().duration_since(UNIX_EPOCH).map(|d| d.as_secs() / 86_400);
    days.ok().and_then(Date::after_epoch).ok_or_else(|| {
        Failure::new("the clock shows no usable date", "give the date with --date, for example --date 2026-03-01")
    })
}

/// Writes a file that is not there yet: first beside its place, then with one step into it, so that there is never half
/// a file and never one overwritten.
fn write_new(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let failed = |e: &io::Error| match e.kind() {
        io::ErrorKind::AlreadyExists => Failure::new(
            format!("{} is there already", path.display()),
            "a release is never overwritten; move the file away if it is no release",
        ),
        _ => Failure::write(path, e),
    };
    let folder = path.parent().unwrap_or(Path::new("."));
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let beside = folder.join(format!(".{name}.new"));
    fs::create_dir_all(folder).map_err(|e| failed(&e))?;
    let written = File::create(&beside).and_then(|mut file| file.write_all(bytes).and_then(|()| file.sync_all()));
    let placed = written.and_then(|()| match fs::hard_link(&beside, path) {
        Err(e) if e.kind() != io::ErrorKind::AlreadyExists && !path.exists() => fs::rename(&beside, path),
        other => other,
    });
    // Gone already where it was renamed.
    let _ = fs::remove_file(&beside);
    placed.map_err(|e| failed(&e))
}

/// A notice in plain text: a line a kit, and below it the steps and what to send.
pub(super) fn sheet_text(notice: &Notice) -> String {
    let mut out = format!("notice {}: {}, {}\n", notice.subject.name(), notice.class.word(), notice.summary);
    for k in &notice.kits {
        let reason = k.concern.reason();
        let reason = if reason.is_empty() { String::new() } else { format!(": {reason}") };
        let release = k.release.as_deref().unwrap_or("no release");
        out.push_str(&format!("\nkit {} ({}, {release}): {}{reason}\n", k.serial, k.configuration, k.concern.word()));
        for s in &k.steps {
            out.push_str(&format!("  {} {} ({}): {}\n", s.number, s.title, s.id, s.fate.word()));
        }
        for s in &k.send {
            out.push_str(&format!("  send {} x {} {} ({})\n", s.quantity, s.item, s.title, s.why));
        }
    }
    out
}

/// A sheet as a JSON array of objects on a line.
pub(super) fn sheet_json(sheet: &CsvSheet) -> String {
    let rows: Vec<serde_json::Value> = sheet
        .rows
        .iter()
        .map(|row| {
            sheet.columns.iter().zip(row).map(|(c, v)| ((*c).to_owned(), serde_json::Value::from(v.as_str()))).collect()
        })
        .collect();
    format!("{}\n", serde_json::Value::from(rows))
}
