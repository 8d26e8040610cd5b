//! The output folder on disk. Everything is written beside the last good output and swapped in at the end.
//!
//! While a run goes on, `.kitwright-new` holds what is being made and `.kitwright-lock` is locked. See `swap` for the
//! rest. A run that breaks off leaves the old output or the new one; the next run clears up.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use super::failure::Failure;
use super::kept::Kept;
use super::lasting::{self, Lock};
use super::swap::{self, Delisted};
use crate::source::{Output, Shelf};

const LOCK: &str = ".kitwright-lock";

/// What was written, by the folder of its configuration: paths relative to that folder.
pub(super) type Written = BTreeMap<String, BTreeSet<String>>;

/// An output folder that shows nothing of a run until it is kept.
#[derive(Debug)]
pub(super) struct Staged {
    out: PathBuf,
    written: Mutex<Written>,
    kept: Kept,
    /// Held for as long as the run goes on.
    _lock: Lock,
}

impl Staged {
    /// Takes the folder for this run, makes it where it is not there, and clears up after a run that broke off.
    ///
    /// # Errors
    /// Another run has it; it can't be written.
    pub fn open(out: &Path) -> Result<Self, Failure> {
        let failed = |e: &io::Error| Failure::write(out, e);
        lasting::make_folder(out).map_err(|e| failed(&e))?;
        swap::own_names_are_free(out, &out.join(LOCK))?;
        let lock = lock(out)?;
        swap::recover(out).map_err(|e| failed(&e))?;
        fs::create_dir(swap::new_folder(out)).map_err(|e| failed(&e))?;
        Ok(Self { out: out.to_owned(), written: Mutex::default(), kept: Kept::beside(out), _lock: lock })
    }

    /// Puts what was written in the place of what was there. All of it or nothing.
    ///
    /// # Errors
    /// Files that the program did not write stand in the way; the system's words. The old output is back in place.
    pub fn keep(self, delisted: Delisted) -> Result<Written, Failure> {
        let written = std::mem::take(&mut *self.written.lock().unwrap_or_else(PoisonError::into_inner));
        swap::swap(&self.out, &written, delisted)?;
        // All that is declared was made, so what was not used has no use.
        if delisted == Delisted::Remove {
            self.kept.forget_unused();
        }
        Ok(written)
    }
}

impl Output for Staged {
    fn shelf(&self) -> Option<&dyn Shelf> {
        Some(&self.kept)
    }

    fn write(&self, path: &str, bytes: &[u8]) -> io::Result<()> {
        let fits = |part: &str| !part.is_empty() && !part.starts_with('.') && !part.contains(['\\', '\0', ':']);
        let (Some((folder, rest)), true) = (path.split_once('/'), path.split('/').all(fits)) else {
            return Err(io::Error::new(io::ErrorKind::InvalidFilename, "the name can't be used in the output folder"));
        };
        let full = swap::new_folder(&self.out).join(path);
        if let Some(parent) = full.parent() {
            fs::create_dir_all(parent)?;
        }
        let mut file = File::create_new(&full)?;
        file.write_all(bytes)?;
        let mut written = self.written.lock().unwrap_or_else(PoisonError::into_inner);
        written.entry(folder.to_owned()).or_default().insert(rest.to_owned());
        Ok(())
    }
}

impl Drop for Staged {
    fn drop(&mut self) {
        swap::abandon(&self.out);
    }
}

/// Locks the folder against a second run.
fn lock(out: &Path) -> Result<Lock, Failure> {
    let path = out.join(LOCK);
    let file = File::options().create(true).append(true).open(&path).map_err(|e| Failure::write(&path, &e))?;
    lasting::lock(file).ok_or_else(|| {
        Failure::new(
            format!("another run is writing to {}", out.display()),
            "wait for it to end, or name another folder with --out",
        )
    })
}
