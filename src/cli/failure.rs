//! Why the program could not run.

use std::path::Path;

use crate::diag::Refusal;

/// A fault of the surroundings, never of the manual.
#[derive(Debug)]
pub(super) struct Failure(Refusal);

impl Failure {
    pub fn new(headline: impl Into<String>, help: impl Into<String>) -> Self {
        Self(Refusal::new(headline, help))
    }

    /// A failure to write `path`, with what to do about its usual causes.
    pub fn write(path: &Path, error: &std::io::Error) -> Self {
        use std::io::ErrorKind;
        let help = match error.kind() {
            ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => {
                "make the folder writable, or name another one with --out"
            }
            ErrorKind::StorageFull | ErrorKind::QuotaExceeded => {
                "make room on the disk, or name another folder with --out"
            }
            ErrorKind::FileTooLarge => {
                "raise the limit on file sizes (`ulimit -f`), or name a folder on another disk with --out"
            }
            ErrorKind::NotADirectory | ErrorKind::AlreadyExists => {
                "move the file away that stands in the place of a folder, or name another folder with --out"
            }
            _ => "check the disk and the folder, or name another one with --out",
        };
        Self::new(format!("{} can't be written: {error}", path.display()), help)
    }
}

impl From<Refusal> for Failure {
    fn from(refusal: Refusal) -> Self {
        Self(refusal)
    }
}

impl std::fmt::Display for Failure {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.fmt(f)
    }
}
