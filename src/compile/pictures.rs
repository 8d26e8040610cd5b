//! Photographs left out: a comparison goes by their digests and has no need of what is in them.

use crate::source::{FileEntry, Files, LoadError};

/// Which pictures are read with a state of the sources.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum PicturesRead {
    /// All of them: documents are made.
    All,
    /// Drawings, which are mirrored for the other hand.
    Drawings,
}

/// Whether a path is that of a photograph.
fn is_photograph(path: &str) -> bool {
    let lower = path.to_lowercase();
    path.starts_with("figures/") && [".jpg", ".jpeg", ".png"].iter().any(|end| lower.ends_with(end))
}

/// A folder without its photographs.
pub(super) struct WithoutPhotographs<'a>(pub &'a dyn Files);

impl Files for WithoutPhotographs<'_> {
    fn list(&self) -> Result<Vec<FileEntry>, LoadError> {
        Ok(self.0.list()?.into_iter().filter(|e| !is_photograph(&e.path)).collect())
    }

    fn read(&self, path: &str) -> Result<Vec<u8>, LoadError> {
        self.0.read(path)
    }
}

/// Whether a file of a release is restored.
pub(super) fn is_kept(path: &str, pictures: PicturesRead) -> bool {
    pictures == PicturesRead::All || !is_photograph(path)
}
