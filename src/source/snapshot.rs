//! A folder read once: what is read from it afterwards is what was there at that moment, whatever becomes of the files.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::files::{FileEntry, Files, LoadError};

/// The sources in memory, each with its bytes or why it could not be read.
pub struct Snapshot<'a> {
    entries: Vec<FileEntry>,
    read: BTreeMap<String, Result<Vec<u8>, LoadError>>,
    folder: &'a dyn Files,
}

impl<'a> Snapshot<'a> {
    /// Reads every file but those below `proven`, whose names prove what is in them: these are read when they are asked for.
    ///
    /// # Errors
    /// The folder can't be listed.
    pub fn of(folder: &'a dyn Files, proven: &str) -> Result<Self, LoadError> {
        let entries = folder.list()?;
        let wanted: Vec<&FileEntry> = entries.iter().filter(|entry| !entry.path.starts_with(proven)).collect();
        let read = wanted.par_iter().map(|entry| (entry.path.clone(), folder.read(&entry.path))).collect();
        Ok(Self { entries, read, folder })
    }
}

impl Files for Snapshot<'_> {
    fn list(&self) -> Result<Vec<FileEntry>, LoadError> {
        Ok(self.entries.clone())
    }

    fn read(&self, path: &str) -> Result<Vec<u8>, LoadError> {
        match self.read.get(path) {
            Some(read) => read.clone(),
            None if self.entries.iter().any(|entry| entry.path == path) => self.folder.read(path),
            None if path.split('/').any(|part| part == "..") => Err(LoadError::Outside),
            None => Err(LoadError::Missing),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::Memory;

    /// A folder in which every file is another one each time it is read.
    struct Restless(std::sync::atomic::AtomicU8);

    impl Files for Restless {
        fn list(&self) -> Result<Vec<FileEntry>, LoadError> {
            let entry = |path: &str| FileEntry { path: path.to_owned(), size: 1 };
            Ok(vec![entry("a.txt"), entry("kept/b")])
        }

        fn read(&self, _: &str) -> Result<Vec<u8>, LoadError> {
            Ok(vec![self.0.fetch_add(1, std::sync::atomic::Ordering::Relaxed)])
        }
    }

    #[test]
    fn a_file_is_the_same_each_time() {
        let restless = Restless(0.into());
        let snapshot = Snapshot::of(&restless, "kept/").unwrap();
        assert_eq!(snapshot.read("a.txt"), snapshot.read("a.txt"));
        assert_ne!(snapshot.read("kept/b"), snapshot.read("kept/b"));
        assert_eq!(snapshot.read("c.txt"), Err(LoadError::Missing));
        assert_eq!(snapshot.read("../c.txt"), Err(LoadError::Outside));
        assert_eq!(Snapshot::of(&Memory::new(), "").unwrap().list(), Ok(Vec::new()));
    }
}
