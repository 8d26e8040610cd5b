//! A manual's folder on disk.

use std::io::Read as _;
use std::path::{Path, PathBuf};

use super::files::{FileEntry, Files, LARGEST_FILE, LoadError};

/// A folder on disk. Nothing outside it is read, whatever links it holds.
#[derive(Debug)]
pub struct Disk {
    root: PathBuf,
}

impl Disk {
    /// # Errors
    /// The folder is not there or can't be entered.
    pub fn open(root: &Path) -> Result<Self, LoadError> {
        let root = root.canonicalize().map_err(|e| error(&e))?;
        if !root.is_dir() {
            return Err(LoadError::System("it is not a folder".to_owned()));
        }
        Ok(Self { root })
    }

    fn inside(&self, path: &str) -> Result<PathBuf, LoadError> {
        if path.split('/').any(|part| part == ".." || part.is_empty()) || path.contains('\\') {
            return Err(LoadError::Outside);
        }
        let full = self.root.join(path).canonicalize().map_err(|e| error(&e))?;
        if full.starts_with(&self.root) { Ok(full) } else { Err(LoadError::Outside) }
    }
}

impl Files for Disk {
    fn list(&self) -> Result<Vec<FileEntry>, LoadError> {
        let mut entries = Vec::new();
        let walk = walkdir::WalkDir::new(&self.root).max_depth(16).sort_by_file_name();
        let visible = |e: &walkdir::DirEntry| e.depth() == 0 || !e.file_name().to_string_lossy().starts_with('.');
        for entry in walk.into_iter().filter_entry(visible) {
            let entry = entry.map_err(|e| LoadError::System(e.to_string()))?;
            // In the place of a file it is listed as one, and reading it says what it is.
            if entry.file_type().is_dir() && (entry.depth() == 0 || !is_named_like_a_file(entry.path())) {
                continue;
            }
            let Ok(relative) = entry.path().strip_prefix(&self.root) else { continue };
            let parts: Vec<_> = relative.components().map(|c| c.as_os_str().to_string_lossy().into_owned()).collect();
            let size = entry.metadata().map_or(0, |m| m.len());
            entries.push(FileEntry { path: parts.join("/"), size });
        }
        entries.sort_by(|a, b| a.path.cmp(&b.path));
        Ok(entries)
    }

    fn read(&self, path: &str) -> Result<Vec<u8>, LoadError> {
        let full = self.inside(path)?;
        // Before it is opened: a pipe opens only when somebody writes into it.
        let meta = std::fs::metadata(&full).map_err(|e| error(&e))?;
        if !meta.is_file() {
            return Err(LoadError::NotAFile);
        }
        let file = std::fs::File::open(&full).map_err(|e| error(&e))?;
        if meta.len() > LARGEST_FILE {
            return Err(LoadError::TooLarge { size: meta.len(), limit: LARGEST_FILE });
        }
        let mut bytes = Vec::with_capacity(meta.len() as usize);
        file.take(LARGEST_FILE + 1).read_to_end(&mut bytes).map_err(|e| error(&e))?;
        if bytes.len() as u64 > LARGEST_FILE {
            return Err(LoadError::TooLarge { size: bytes.len() as u64, limit: LARGEST_FILE });
        }
        Ok(bytes)
    }
}

/// The endings of the files that a manual is made of.
const ENDINGS: [&str; 13] =
    ["yaml", "md", "csv", "xlsx", "svg", "png", "jpg", "jpeg", "html", "ttf", "otf", "release", "seal"];

fn is_named_like_a_file(path: &Path) -> bool {
    path.extension().is_some_and(|end| ENDINGS.iter().any(|ours| end.eq_ignore_ascii_case(ours)))
}

fn error(e: &std::io::Error) -> LoadError {
    match e.kind() {
        std::io::ErrorKind::NotFound => LoadError::Missing,
        _ => LoadError::System(e.to_string()),
    }
}
