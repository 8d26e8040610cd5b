//! Writing: the counterpart of `Files`. Documents are handed to an `Output`; only the command line owns one
//! that reaches the disk.

use std::collections::BTreeMap;
use std::sync::Mutex;

use super::shelf::Shelf;

/// A folder that takes files.
pub trait Output: Sync {
    /// Writes one file. `path` is relative, with `/` between its parts; it is written once.
    ///
    /// # Errors
    /// The system's words, with the path.
    fn write(&self, path: &str, bytes: &[u8]) -> std::io::Result<()>;

    /// What earlier runs kept for this output, where it keeps anything.
    fn shelf(&self) -> Option<&dyn Shelf> {
        None
    }
}

/// An output in memory, for tests.
#[derive(Debug, Default)]
pub struct Collected {
    files: Mutex<BTreeMap<String, Vec<u8>>>,
}

impl Collected {
    pub fn new() -> Self {
        Self::default()
    }

    /// What was written, by path.
    pub fn into_files(self) -> BTreeMap<String, Vec<u8>> {
        self.files.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner)
    }
}

impl Output for Collected {
    fn write(&self, path: &str, bytes: &[u8]) -> std::io::Result<()> {
        let mut files = self.files.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        files.insert(path.to_owned(), bytes.to_vec());
        Ok(())
    }
}
