//! Documents beside the manual: what differs, notices, conversions. Each is written as pages and on paper.

use super::compared::{Compared, State};
use super::documents::{WriteFailure, own_templates};
use super::problems::{emit_fault, layout_problem, pdf_fault, unreadable_font};
use crate::change::Change;
use crate::diag::{Diagnostic, Diagnostics};
use crate::document::{Bench, Document, change_document};
use crate::emit::EmitError;
use crate::emit::html;
use crate::emit::pdf::{self, PdfInk};
use crate::layout::{Fonts, Style, lay_out};
use crate::resolve::Resolved;
use crate::source::{Files, Output};

/// What a report is written with.
pub(super) struct Press<'a> {
    state: &'a State,
    resolved: &'a Resolved,
    templates: html::Templates,
    fonts: Fonts,
    pub found: Vec<Diagnostic>,
}

impl<'a> Press<'a> {
    /// `state` and `resolved` are what a report takes its figures from. None where the manual's own templates can't be
    /// used; the findings say why.
    pub fn new(state: &'a State, resolved: &'a Resolved, files: &dyn Files) -> Result<Self, Vec<Diagnostic>> {
        let mut found = Vec::new();
        let Some(templates) = own_templates(&state.manual, files, &mut found) else { return Err(found) };
        let font = state.manual.settings.font.as_ref().and_then(|path| match files.read(path) {
            Ok(bytes) => Some(bytes),
            Err(error) => {
                found.push(unreadable_font(path, &error));
                None
            }
        });
        Ok(Self { state, resolved, templates, fonts: Fonts::new(font.as_deref()), found })
    }

    /// Writes a document to `path`.pdf.
    ///
    /// # Errors
    /// The output refuses a file.
    pub fn paper(&mut self, document: &Document, path: &str, out: &dyn Output) -> Result<(), WriteFailure> {
        let figures = &self.state.manual.figures;
        let laid = lay_out(document, figures, &self.fonts, &Style::of(document));
        let problems = laid.problems.iter();
        let told = problems.filter_map(|p| layout_problem(p, &self.state.manual, &self.state.sources, self.resolved));
        self.found.extend(told);
        match pdf::write(laid, figures, &self.fonts, PdfInk::Colour, None) {
            Ok(bytes) => put(out, format!("{path}.pdf"), &bytes),
            Err(fault) => {
                self.found.push(pdf_fault(&fault, self.resolved));
                Ok(())
            }
        }
    }

    /// Writes a document as pages below `path`/.
    ///
    /// # Errors
    /// The output refuses a file.
    pub fn pages(&mut self, document: &Document, path: &str, out: &dyn Output) -> Result<(), WriteFailure> {
        let prefix = format!("{path}/");
        match html::write(document, &Bench::default(), &self.state.manual.figures, &self.templates, out, &prefix) {
            Ok(()) => Ok(()),
            Err(EmitError::Write { path, error }) => Err(WriteFailure { path, error }),
            Err(fault) => {
                self.found.push(emit_fault(&fault, self.resolved));
                Ok(())
            }
        }
    }
}

pub(super) fn put(out: &dyn Output, path: String, bytes: &[u8]) -> Result<(), WriteFailure> {
    out.write(&path, bytes).map_err(|error| WriteFailure { path, error })
}

/// Writes a change as `FOLDER/changes.pdf` and as pages below `FOLDER/changes/`. Returns what was found on the way.
///
/// # Errors
/// The output refuses a file.
pub fn change_report(
    compared: &Compared,
    change: &Change,
    files: &dyn Files,
    folder: &str,
    out: &dyn Output,
) -> Result<Diagnostics, WriteFailure> {
    let (state, resolved) = (compared.state(1), compared.resolved(1));
    let found = match Press::new(state, resolved, files) {
        Err(found) => found,
        Ok(mut press) => {
            let words = format!("{} against {}", change.to, change.from);
            let document = change_document(&state.manual, resolved, change, &words);
            press.pages(&document, &format!("{folder}/changes"), out)?;
            press.paper(&document, &format!("{folder}/changes"), out)?;
            press.found
        }
    };
    Ok(Diagnostics::collect(found, &state.sources))
}
