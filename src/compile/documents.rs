//! The documents of one configuration.

use rayon::prelude::*;

use crate::diag::Diagnostic;
use crate::model::Manual;
use crate::resolve::Resolved;
use crate::source::{Files, Output};

/// The output refused a file.
#[derive(Debug)]
pub struct Failure {
    /// Relative to the output folder.
    pub path: String,
    pub error: std::io::Error,
}

impl std::fmt::Display for Failure {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} can't be written: {}", self.path, self.error)
    }
}

impl std::error::Error for Failure {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        Some(&self.error)
    }
}

/// What is used for the documents of every configuration.
pub(super) struct Kit<'a> {
    manual: &'a Manual,
}

/// A document on its way: what was found while it was made, or why it could not be written.
type Made = Result<Vec<Diagnostic>, Failure>;

impl<'a> Kit<'a> {
    pub(super) fn new(manual: &'a Manual, files: &dyn Files, found: &mut Vec<Diagnostic>) -> Self {
        let _ = (files, found);
        Self { manual }
    }

    /// Writes the documents of a configuration side by side.
    pub(super) fn write(
        &self,
        resolved: &Resolved,
        out: &dyn Output,
        found: &mut Vec<Diagnostic>,
    ) -> Result<(), Failure> {
        type Job<'j> = (&'static str, &'j (dyn Fn(&str) -> Made + Sync));
        let overview = |path: &str| self.overview(resolved, out, path);
        let jobs: [Job; 1] = [("steps.txt", &overview)];
        let made: Vec<Made> =
            jobs.par_iter().map(|(path, job)| job(&format!("{}/{path}", resolved.name))).collect();
        for findings in made {
            found.extend(findings?);
        }
        Ok(())
    }

    fn overview(&self, resolved: &Resolved, out: &dyn Output, path: &str) -> Made {
        let mut text = format!("{}\n{}\n\n", self.manual.settings.title, resolved.title);
        for s in &resolved.steps {
            text.push_str(&format!("{} {}\n", s.number, s.step.title.value));
        }
        out.write(path, text.as_bytes()).map_err(|error| Failure { path: path.to_owned(), error })?;
        Ok(Vec::new())
    }
}
