//! Reading: the one trait through which every byte of a manual comes in.

use std::collections::BTreeMap;

/// A file of the manual's folder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileEntry {
    /// Path relative to the manual's folder, with `/` between its parts.
    pub path: String,
    /// Size in bytes.
    pub size: u64,
}

/// Why a file could not be read. The text says what and what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LoadError {
    /// There is no such file.
    Missing,
    /// The file lies outside the manual's folder, through a link or `..`.
    Outside,
    /// The file is larger than what is read, in bytes.
    TooLarge { size: u64, limit: u64 },
    /// A folder, a pipe or a device stands in the place of the file.
    NotAFile,
    /// The system's own words.
    System(String),
}

impl std::fmt::Display for LoadError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Missing => f.write_str("there is no such file"),
            Self::Outside => f.write_str("the path leaves the manual's folder"),
            Self::TooLarge { size, limit } => {
                write!(f, "the file has {} MB, more than the {} MB that are read", size >> 20, limit >> 20)
            }
            Self::NotAFile => f.write_str("it is a folder, a pipe or a device, and no file"),
            Self::System(words) => f.write_str(words),
        }
    }
}

impl std::error::Error for LoadError {}

/// The largest file that is read, in bytes.
pub const LARGEST_FILE: u64 = 256 << 20;

/// A folder of sources: on disk or in memory.
pub trait Files: Sync {
    /// Every file below the folder, ordered by path; folders and files whose name starts with a point are
    /// left out. Links that leave the folder, links to folders, and folders with the name of a file are listed, so that
    /// they can be reported when they are read.
    ///
    /// # Errors
    /// The folder can't be read.
    fn list(&self) -> Result<Vec<FileEntry>, LoadError>;

    /// The bytes of one file. `path` is relative to the folder, with `/` between its parts.
    ///
    /// # Errors
    /// See [`LoadError`].
    fn read(&self, path: &str) -> Result<Vec<u8>, LoadError>;
}

/// A folder in memory, for tests and previews.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    files: BTreeMap<String, Vec<u8>>,
}

impl Memory {
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds or replaces a file.
    pub fn insert(&mut self, path: impl Into<String>, bytes: impl Into<Vec<u8>>) {
        self.files.insert(path.into(), bytes.into());
    }

    /// Takes a file away; says whether it was there.
    pub fn remove(&mut self, path: &str) -> bool {
        self.files.remove(path).is_some()
    }
}

impl Files for Memory {
    fn list(&self) -> Result<Vec<FileEntry>, LoadError> {
        Ok(self.files.iter().map(|(path, bytes)| FileEntry { path: path.clone(), size: bytes.len() as u64 }).collect())
    }

    fn read(&self, path: &str) -> Result<Vec<u8>, LoadError> {
        if path.split('/').any(|part| part == ".." || part.is_empty()) {
            return Err(LoadError::Outside);
        }
        self.files.get(path).cloned().ok_or(LoadError::Missing)
    }
}
