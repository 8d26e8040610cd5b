//! The shelf on disk: `.kitwright-kept` in the output folder, beside the folders of the configurations.
//!
//! A file holds a line with what it is, its key and the digest of the rest. What is foreign, changed, cut short or
//! kept by another way of working is passed over, and the whole folder may be deleted at any time.

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use sha2::{Digest, Sha256};

use crate::source::{Shelf, hex};

const FOLDER: &str = ".kitwright-kept";
/// The most bytes that are read of a file. A larger one was not written here.
const LARGEST: u64 = 128 << 20;

/// What a run kept, and what it found kept.
#[derive(Debug)]
pub(super) struct Kept {
    folder: PathBuf,
    used: Mutex<BTreeSet<String>>,
}

impl Kept {
    pub fn beside(out: &Path) -> Self {
        Self { folder: out.join(FOLDER), used: Mutex::default() }
    }

    /// Takes away what this run had no use for. That it can't be done is no fault.
    pub fn forget_unused(&self) {
        let used = self.used.lock().unwrap_or_else(PoisonError::into_inner);
        if !self.is_ours() {
            return;
        }
        let Ok(entries) = fs::read_dir(&self.folder) else { return };
        for entry in entries.flatten() {
            if !entry.file_name().to_str().is_some_and(|name| used.contains(name)) {
                let _ = fs::remove_file(entry.path());
            }
        }
    }

    /// A folder of its own, and no link to another.
    fn is_ours(&self) -> bool {
        fs::symlink_metadata(&self.folder).is_ok_and(|meta| meta.is_dir())
    }

    fn path(&self, key: &str) -> Option<PathBuf> {
        let plain = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '.';
        (key.len() < 128 && !key.starts_with('.') && key.chars().all(plain)).then(|| self.folder.join(key))
    }
}

impl Shelf for Kept {
    fn get(&self, key: &str) -> Option<Vec<u8>> {
        let path =
            self.path(key).filter(|path| self.is_ours() && fs::symlink_metadata(path).is_ok_and(|m| m.is_file()))?;
        let mut all = Vec::new();
        File::open(path).ok()?.take(LARGEST).read_to_end(&mut all).ok()?;
        let end = all.iter().position(|b| *b == b'\n')?;
        let bytes = all.split_off(end + 1);
        if all != head(key, &bytes) {
            return None;
        }
        self.used.lock().unwrap_or_else(PoisonError::into_inner).insert(key.to_owned());
        Some(bytes)
    }

    fn put(&self, key: &str, bytes: &[u8]) {
        let Some(path) = self.path(key) else { return };
        let _ = fs::create_dir(&self.folder);
        if !self.is_ours() {
            return;
        }
        let mut used = self.used.lock().unwrap_or_else(PoisonError::into_inner);
        // Written beside and moved, so that a file is whole or not there.
        let new = self.folder.join(format!("{key}.new"));
        let _ = fs::remove_file(&new);
        let written = File::create_new(&new)
            .and_then(|mut file| file.write_all(&head(key, bytes)).and_then(|()| file.write_all(bytes)))
            .and_then(|()| fs::rename(&new, &path));
        match written {
            Ok(()) => drop(used.insert(key.to_owned())),
            Err(_) => drop(fs::remove_file(&new)),
        }
    }
}

fn head(key: &str, bytes: &[u8]) -> Vec<u8> {
    format!("kitwright kept {key} {}\n", hex(&Sha256::digest(bytes))).into_bytes()
}

#[cfg(test)]
mod tests {
    use super::*;

    const KEY: &str = "grey-1-abc.jpg";

    #[test]
    fn only_what_was_put_there_is_given_back() {
        let out = tempfile::tempdir().unwrap();
        let kept = Kept::beside(out.path());
        assert_eq!(kept.get(KEY), None);
        kept.put(KEY, b"picture");
        assert_eq!(kept.get(KEY).as_deref(), Some(&b"picture"[..]));

        let file = out.path().join(FOLDER).join(KEY);
        let whole = fs::read(&file).unwrap();
        let mut flipped = whole.clone();
        *flipped.last_mut().unwrap() ^= 1;
        for bad in [&b""[..], b"picture", &whole[..whole.len() - 1], &flipped, &[&whole[..], b"!"].concat()] {
            fs::write(&file, bad).unwrap();
            assert_eq!(kept.get(KEY), None);
        }
        // A whole file under another's name.
        fs::write(out.path().join(FOLDER).join("grey-1-def.jpg"), &whole).unwrap();
        assert_eq!(kept.get("grey-1-def.jpg"), None);

        kept.put(KEY, b"picture");
        assert_eq!(fs::read(&file).unwrap(), whole, "what is spoilt is written anew");
    }

    #[test]
    fn it_stays_in_its_folder_and_may_be_deleted() {
        let out = tempfile::tempdir().unwrap();
        let kept = Kept::beside(out.path());
        for key in ["../outside", "a/b", ".hidden", "a\\b", "c:d"] {
            kept.put(key, b"x");
            assert_eq!(kept.get(key), None);
        }
        kept.put(KEY, b"picture");
        kept.put("grey-1-def.jpg", b"other");
        fs::remove_dir_all(out.path().join(FOLDER)).unwrap();
        assert_eq!(kept.get(KEY), None);
        kept.put(KEY, b"picture");
        assert!(kept.get(KEY).is_some());
    }

    #[test]
    fn what_a_run_did_not_use_goes_away() {
        let out = tempfile::tempdir().unwrap();
        Kept::beside(out.path()).put(KEY, b"picture");
        Kept::beside(out.path()).put("grey-1-def.jpg", b"other");
        let next = Kept::beside(out.path());
        assert!(next.get(KEY).is_some());
        next.forget_unused();
        assert!(next.get(KEY).is_some() && next.get("grey-1-def.jpg").is_none());
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_not_followed() {
        let (out, elsewhere) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        std::os::unix::fs::symlink(elsewhere.path(), out.path().join(FOLDER)).unwrap();
        let kept = Kept::beside(out.path());
        kept.put(KEY, b"picture");
        assert_eq!(kept.get(KEY), None);
        kept.forget_unused();
        assert_eq!(fs::read_dir(elsewhere.path()).unwrap().count(), 0);
    }
}
