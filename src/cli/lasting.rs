//! Writing what must last: a file is there whole or not at all, and after a function here has returned it is on the disk
//! and not only on its way there.

use std::ffi::OsString;
use std::fs::{self, File, TryLockError};
use std::io::{self, ErrorKind, Write as _};
use std::path::{Path, PathBuf};

/// Writes a file that is not there yet.
///
/// # Errors
/// It is there already; the system's words.
pub(super) fn write_new(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let beside = write_beside(path, bytes)?;
    let placed = match fs::hard_link(&beside, path) {
        // Some file systems know no second name for a file.
        Err(e) if e.kind() != ErrorKind::AlreadyExists && !there(path)? => fs::rename(&beside, path),
        other => other,
    };
    // Gone already where it was renamed.
    let _ = fs::remove_file(&beside);
    placed?;
    sync_folder(folder_of(path))
}

/// Writes a file in the place of what is there.
///
/// # Errors
/// The system's words; then the old one is still there.
pub(super) fn write_over(path: &Path, bytes: &[u8]) -> io::Result<()> {
    write_all_over([(path, bytes)]).map_err(|(_, error)| error)
}

/// Writes files in the place of what is there: each is on the disk beside its place before the first takes its place.
///
/// # Errors
/// The file and the system's words; where it could not be written, all the old ones are still there.
pub(super) fn write_all_over<'a>(
    files: impl IntoIterator<Item = (&'a Path, &'a [u8])>,
) -> Result<(), (PathBuf, io::Error)> {
    let mut waiting = Vec::new();
    let place_all = || {
        for (path, bytes) in files {
            waiting.push((write_beside(path, bytes).map_err(|e| (path.to_owned(), e))?, path));
        }
        for (beside, path) in &waiting {
            fs::rename(beside, path)
                .and_then(|()| sync_folder(folder_of(path)))
                .map_err(|e| ((*path).to_owned(), e))?;
        }
        Ok(())
    };
    let done = place_all();
    if done.is_err() {
        // Those that have taken their place are gone from here already.
        waiting.iter().for_each(|(beside, _)| drop(fs::remove_file(beside)));
    }
    done
}

/// The end of the names of files that are not in their place yet.
const BESIDE: &str = ".kitwright-new";

/// Writes a file beside its place, under a name that no other run uses.
fn write_beside(path: &Path, bytes: &[u8]) -> io::Result<PathBuf> {
    let folder = folder_of(path);
    make_folder(folder)?;
    let name = path.file_name().unwrap_or_default();
    for number in 0_u32.. {
        let mut beside = OsString::from(".");
        beside.push(name);
        beside.push(format!(".{}-{number}{BESIDE}", std::process::id()));
        let beside = folder.join(beside);
        match File::create_new(&beside) {
            Err(e) if e.kind() == ErrorKind::AlreadyExists && number < 100 => {}
            Err(e) => return Err(e),
            Ok(mut file) => {
                return match file.write_all(bytes).and_then(|()| sync(&file)) {
                    Ok(()) => Ok(beside),
                    Err(e) => {
                        let _ = fs::remove_file(&beside);
                        Err(e)
                    }
                };
            }
        }
    }
    Err(ErrorKind::AlreadyExists.into())
}

/// Removes what runs that broke off have left beside its place in a folder. Only for who holds the lock.
pub(super) fn clear_beside(folder: &Path) -> io::Result<()> {
    let entries = match fs::read_dir(folder) {
        Err(e) if e.kind() == ErrorKind::NotFound => return Ok(()),
        entries => entries?,
    };
    for entry in entries {
        let entry = entry?;
        let name = entry.file_name().to_string_lossy().into_owned();
        if name.starts_with('.') && name.ends_with(BESIDE) && entry.file_type()?.is_file() {
            fs::remove_file(entry.path())?;
        }
    }
    Ok(())
}

/// Makes a folder and those above it, each entry on the disk.
pub(super) fn make_folder(folder: &Path) -> io::Result<()> {
    let mut missing = Vec::new();
    let mut at = Some(folder).filter(|f| !f.as_os_str().is_empty());
    while let Some(folder) = at.filter(|folder| !folder.is_dir()) {
        missing.push(folder);
        at = folder.parent().filter(|f| !f.as_os_str().is_empty());
    }
    for folder in missing.into_iter().rev() {
        match fs::create_dir(folder) {
            Err(e) if e.kind() == ErrorKind::AlreadyExists && folder.is_dir() => {}
            done => done?,
        }
        sync_folder(folder_of(folder))?;
    }
    Ok(())
}

/// Moves a file or folder; the entries of both folders are on the disk afterwards.
pub(super) fn rename(from: &Path, to: &Path) -> io::Result<()> {
    fs::rename(from, to)?;
    sync_folder(folder_of(to))?;
    if folder_of(from) == folder_of(to) { Ok(()) } else { sync_folder(folder_of(from)) }
}

/// Puts the contents of a file on the disk.
pub(super) fn sync(file: &File) -> io::Result<()> {
    where_it_can_be_done(file.sync_all())
}

/// Puts the entries of a folder on the disk.
pub(super) fn sync_folder(folder: &Path) -> io::Result<()> {
    // Elsewhere a folder can't be opened as a file, and the system sees to its entries.
    if cfg!(unix) { where_it_can_be_done(File::open(folder).and_then(|folder| folder.sync_all())) } else { Ok(()) }
}

/// Some file systems, such as a network drive's, have no way to do it, and say so.
fn where_it_can_be_done(done: io::Result<()>) -> io::Result<()> {
    match done {
        Err(e) if matches!(e.kind(), ErrorKind::InvalidInput | ErrorKind::Unsupported) => Ok(()),
        done => done,
    }
}

/// The folder that a path stands in.
pub(super) fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

/// Whether something is at a path, be it a link that leads nowhere.
pub(super) fn there(path: &Path) -> io::Result<bool> {
    match fs::symlink_metadata(path) {
        Ok(_) => Ok(true),
        Err(e) if matches!(e.kind(), ErrorKind::NotFound | ErrorKind::NotADirectory) => Ok(false),
        Err(e) => Err(e),
    }
}

/// A lock that the system lets go when the program ends, however it ends.
#[derive(Debug)]
pub(super) enum Lock {
    Held {
        _file: File,
    },
    /// Some file systems, such as a network drive's, know no locks.
    Unknown,
}

/// Locks a file that is open; none where another run has it.
pub(super) fn lock(file: File) -> Option<Lock> {
    match file.try_lock() {
        Ok(()) => Some(Lock::Held { _file: file }),
        Err(TryLockError::WouldBlock) => None,
        Err(TryLockError::Error(_)) => Some(Lock::Unknown),
    }
}
