//! `release`: the sources frozen under the next letter, seals for earlier ones, and how the sources stand to the last one.

use std::fs::File;
use std::io;
use std::path::Path;
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use super::failure::Failure;
use super::lasting::{self, Lock};
use crate::change::{Class, History, Notice, RELEASES, Standing, mended, seal_path, store_path};
use crate::compile::{Frozen, seals};
use crate::diag::Refusal;
use crate::document::CsvSheet;
use crate::source::{Disk, Files};
use crate::units::Date;

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
    let (history, faults) = History::read(files).map_err(Refusal::from)?;
    if let Some(fault) = faults.first() {
        return Err(Failure::new(fault.headline.clone(), fault.help.clone()));
    }
    let standing = history.standing(files).map_err(Refusal::from)?;
    let words = match &standing {
        Standing::Unreleased => "nothing was released yet".to_owned(),
        Standing::Released(last) => format!("the sources are those of release {} ({})", last.letter, last.date),
        Standing::Working(last) => format!("the sources differ from release {} ({})", last.letter, last.date),
    };
    Ok((standing, words))
}

/// What has to be in the commit for a release to be there for good: a line for each file of the releases, with its
/// digest as `sha256sum` writes it.
///
/// # Errors
/// The folder or a release can't be read.
pub(super) fn to_commit(files: &Disk) -> Result<String, Failure> {
    let (history, _) = History::read(files).map_err(Refusal::from)?;
    let mut lines = Vec::new();
    for release in history.releases() {
        lines.push(format!("{}  {RELEASES}{}.release\n", release.digest(), release.letter));
        let seal = seal_path(release.letter.as_str());
        if let Ok(bytes) = files.read(&seal) {
            lines.push(format!("{}  {seal}\n", crate::change::hex_digest(&bytes)));
        }
        lines.extend(release.stored().map(|(digest, _)| format!("{digest}  {}\n", store_path(digest))));
    }
    lines.sort_by(|a, b| a[64..].cmp(&b[64..]));
    lines.dedup();
    Ok(lines.concat())
}

/// Takes the folder's releases for this run, and clears up after one that broke off.
///
/// # Errors
/// Another run has them; the folder can't be read.
pub(super) fn take(folder: &Path) -> Result<Lock, Failure> {
    let failed = |e: io::Error| Failure::write_in_place(folder, &e);
    // The folder itself is locked where the system can do that, so that no file of a lock comes into version control.
    let file = if cfg!(unix) {
        File::open(folder)
    } else {
        File::options().create(true).append(true).open(folder.join(".kitwright-lock"))
    };
    let lock = lasting::lock(file.map_err(failed)?).ok_or_else(|| {
        Failure::new(format!("another run is making a release of {}", folder.display()), "wait for it to end")
    })?;
    // Nothing is written through a link to somewhere else.
    for inside in [RELEASES, &store_path("")] {
        let inside = folder.join(inside.trim_end_matches('/'));
        if std::fs::symlink_metadata(&inside).is_ok_and(|meta| !meta.is_dir()) {
            return Err(Failure::new(
                format!("{} is a file or a link, and no folder", inside.display()),
                "put the folder itself in its place",
            ));
        }
    }
    if let Lock::Held { .. } = lock {
        lasting::clear_beside(&folder.join(RELEASES)).map_err(failed)?;
        lasting::clear_beside(&folder.join(store_path(""))).map_err(failed)?;
    }
    Ok(lock)
}

/// Puts back what is damaged or gone of the store and still in the sources; returns the paths.
///
/// # Errors
/// The folder can't be read or written.
pub(super) fn mend(files: &Disk, folder: &Path) -> Result<Vec<String>, Failure> {
    let (history, _) = History::read(files).map_err(Refusal::from)?;
    let mut paths = Vec::new();
    for (path, bytes) in mended(&history, files) {
        lasting::write_over(&folder.join(&path), &bytes).map_err(|e| not_written(&folder.join(&path), &e))?;
        paths.push(path);
    }
    Ok(paths)
}

/// Writes a release that was made and proved; returns what was made, in words.
///
/// # Errors
/// The folder can't be written.
pub(super) fn write(frozen: &Frozen, folder: &Path) -> Result<String, Failure> {
    for (path, bytes) in &frozen.store {
        // Its name says what is in it, so what is there under the name and is not that is damage.
        lasting::write_over(&folder.join(path), bytes).map_err(|e| not_written(&folder.join(path), &e))?;
    }
    let path = folder.join(&frozen.path);
    lasting::write_new(&path, frozen.release.text().as_bytes()).map_err(|e| not_written(&path, &e))?;
    Ok(format!("{}: {}", path.display(), frozen.release.title()))
}

/// Writes the seals that are missing; returns their paths.
///
/// # Errors
/// A refusal; the folder can't be written.
pub(super) fn seal(
    files: &Disk,
    folder: &Path,
    against: Option<&Disk>,
    date: Option<Date>,
) -> Result<Vec<String>, Failure> {
    let date = date.map_or_else(|| today(files, folder), Ok)?;
    let made = seals(files, against.map(|disk| disk as &dyn Files), date)?;
    for (path, text) in &made {
        lasting::write_new(&folder.join(path), text.as_bytes()).map_err(|e| not_written(&folder.join(path), &e))?;
    }
    Ok(made.into_iter().map(|(path, _)| path).collect())
}

/// A clock that is so much after the last release, or after the last change of the sources, is not believed.
const FAR_AHEAD: Duration = Duration::from_secs(5 * 366 * 86_400);
/// Clocks of several machines differ by so much without harm.
const BEHIND: Duration = Duration::from_secs(2 * 86_400);

/// The date by the clock, where the clock can be right.
///
/// # Errors
/// It is before the last release or the sources, or far ahead of them.
pub(super) fn today(files: &Disk, folder: &Path) -> Result<Date, Failure> {
    let doubted = |words: String| {
        Failure::new(words, "set the clock, or give the date with --date, for example --date 2026-03-01")
    };
    let day =
        |time: SystemTime| time.duration_since(UNIX_EPOCH).ok().and_then(|d| Date::after_epoch(d.as_secs() / 86_400));
    let now = SystemTime::now();
    let today = day(now).ok_or_else(|| doubted("the clock shows no usable date".to_owned()))?;
    let history = History::last_head(files).map_err(Refusal::from)?;
    if let Some(last) = history.last() {
        if today < last.date {
            return Err(doubted(format!("the clock shows {today}, before release {} of {}", last.letter, last.date)));
        }
        if now.checked_sub(FAR_AHEAD).and_then(day).is_some_and(|early| early > last.date) {
            return Err(doubted(format!(
                "the clock shows {today}, years after release {} of {}",
                last.letter, last.date
            )));
        }
    }
    let entries = files.list().map_err(Refusal::from)?;
    let changed = entries.iter().filter_map(|e| std::fs::metadata(folder.join(&e.path)).ok()?.modified().ok()).max();
    match changed {
        Some(changed) if now.checked_add(BEHIND).is_some_and(|soon| changed > soon) => {
            Err(doubted(format!("the clock shows {today}, before a change of the sources")))
        }
        Some(changed) if changed.checked_add(FAR_AHEAD).is_some_and(|far| far < now) => {
            Err(doubted(format!("the clock shows {today}, years after the last change of the sources")))
        }
        _ => Ok(today),
    }
}

fn not_written(path: &Path, error: &io::Error) -> Failure {
    match error.kind() {
        io::ErrorKind::AlreadyExists => Failure::new(
            format!("{} is there already", path.display()),
            "a release is never overwritten; move the file away if it is no release",
        ),
        _ => Failure::write_in_place(path, error),
    }
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
