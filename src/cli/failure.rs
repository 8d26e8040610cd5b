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

    /// A failure to write `path` in the output folder, with what to do about its usual causes.
    pub fn write(path: &Path, error: &std::io::Error) -> Self {
        Self::new(
            format!("{} can't be written: {error}", path.display()),
            format!("{}, or name another folder with --out", way_out(error)),
        )
    }

    /// A failure to write `path` in the manual's folder, which is where it is.
    pub fn write_in_place(path: &Path, error: &std::io::Error) -> Self {
        Self::new(format!("{} can't be written: {error}", path.display()), way_out(error))
    }
}

fn way_out(error: &std::io::Error) -> &'static str {
    use std::io::ErrorKind;
    match error.kind() {
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => "make the folder writable",
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "make room on the disk",
        ErrorKind::FileTooLarge => "raise the limit on file sizes (`ulimit -f`)",
        ErrorKind::NotADirectory | ErrorKind::AlreadyExists => {
            "move the file away that stands in the place of a folder"
        }
        ErrorKind::IsADirectory => "move the folder away that stands in the place of a file",
        _ => "check the disk and the folder",
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
