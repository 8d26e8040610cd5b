//! The documents of one configuration.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::edition::Editions;
use super::problems::{self, emit_fault, layout_problem};
use crate::diag::Diagnostic;
use crate::document::{self, Document, Edition, LiesIn, PrintScale, Purpose};
use crate::emit::EmitError;
use crate::emit::csv::{pick_list_csv, sheet_csv};
use crate::emit::html::{self, Templates};
use crate::emit::pdf::{self, PdfInk};
use crate::layout::{Fonts, Style, lay_out};
use crate::model::Manual;
use crate::resolve::Resolved;
use crate::source::{Files, Output, SourceMap};

/// The output refused a file.
#[derive(Debug)]
pub struct WriteFailure {
    /// Relative to the output folder.
    pub path: String,
    pub error: std::io::Error,
}

impl std::fmt::Display for WriteFailure {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} can't be written: {}", self.path, self.error)
    }
}

impl std::error::Error for WriteFailure {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        Some(&self.error)
    }
}

/// What is used for the documents of every configuration.
pub(super) struct MakingKit<'a> {
    manual: &'a Manual,
    sources: &'a SourceMap,
    pub(super) templates: Templates,
    /// The author's font for text, as read.
    pub(super) author_font: Option<Vec<u8>>,
    fonts: Fonts,
    editions: Editions<'a>,
    print_scale: PrintScale,
    /// Where the papers of the bench say that a thing lies.
    lies_in: LiesIn,
}

/// What was found while a document was made, or why it could not be written.
type MadeDocuments = Result<Vec<Diagnostic>, WriteFailure>;

impl<'a> MakingKit<'a> {
    /// Makes ready. None where the manual's own templates can't be used; `found` says why.
    pub(super) fn new(
        manual: &'a Manual,
        sources: &'a SourceMap,
        files: &'a dyn Files,
        print_scale: PrintScale,
        lies_in: LiesIn,
        found: &mut Vec<Diagnostic>,
    ) -> Option<Self> {
        let templates = own_templates(manual, files, found)?;
        let font = manual.settings.font.as_ref().and_then(|path| match files.read(path) {
            Ok(bytes) => Some(bytes),
            Err(error) => {
                found.push(problems::unreadable_font(path, &error));
                None
            }
        });
        let editions = match Editions::read(files) {
            Ok(editions) => editions,
            Err(refused) => {
                found.push(problems::unreadable_release(&refused));
                return None;
            }
        };
        found.extend(editions.otherwise().iter().map(|words| problems::release_otherwise(words)));
        let fonts = Fonts::new(font.as_deref());
        Some(Self { editions, manual, sources, templates, author_font: font, fonts, print_scale, lies_in })
    }

    /// What every page says of the state of its document.
    pub(super) fn state(&self) -> String {
        self.editions.state()
    }

    /// Writes the documents of a configuration. `found` is in the order of the documents.
    ///
    /// The large ones are made one after another, each on all threads: memory is that of one. What is small is made
    /// beside the shop copy.
    pub(super) fn write(
        &self,
        resolved: &Resolved,
        out: &dyn Output,
        found: &mut Vec<Diagnostic>,
    ) -> Result<(), WriteFailure> {
        type Job<'a> = &'a (dyn Fn() -> MadeDocuments + Sync);
        let edition = &Edition { lies_in: self.lies_in, ..self.editions.of(resolved) };
        let manual: Job = &|| self.manual(resolved, edition, out);
        let shop_copy: Job = &|| self.shop_copy(resolved, edition, out);
        let pick_cards: Job = &|| self.pick_cards(resolved, edition, out);
        let receiving_list: Job = &|| self.receiving_list(resolved, edition, out);
        let pick_table: Job = &|| self.pick_table(resolved, out);
        let registers: Job = &|| self.registers(resolved, out);
        let templates: Job = &|| self.templates(resolved, edition, out);
        let rounds: [&[Job]; 3] =
            [&[manual], &[shop_copy, pick_table, registers], &[pick_cards, receiving_list, templates]];
        for round in rounds {
            let made: Vec<MadeDocuments> = round.par_iter().map(|job| job()).collect();
            for findings in made {
                found.extend(findings?);
            }
        }
        Ok(())
    }

    /// The manual as pages and on paper, from one tree.
    fn manual(&self, resolved: &Resolved, edition: &Edition, out: &dyn Output) -> MadeDocuments {
        let document = document::compose_edition(self.manual, resolved, Purpose::Manual, edition);
        let bench = document::bench(self.manual, resolved);
        let prefix = format!("{}/manual/", resolved.name);
        let pages = || match html::write(&document, &bench, &self.manual.figures, &self.templates, out, &prefix) {
            Ok(()) => Ok(Vec::new()),
            Err(EmitError::Write { path, error }) => Err(WriteFailure { path, error }),
            Err(fault) => Ok(vec![emit_fault(&fault, resolved)]),
        };
        let paper = || self.paper(&document, resolved, PdfInk::Colour, "manual.pdf", out);
        let (pages, paper) = rayon::join(pages, paper);
        let mut found = pages?;
        found.extend(paper?);
        Ok(found)
    }

    fn shop_copy(&self, resolved: &Resolved, edition: &Edition, out: &dyn Output) -> MadeDocuments {
        let document = document::compose_edition(self.manual, resolved, Purpose::ShopCopy, edition);
        self.paper(&document, resolved, PdfInk::Grey, "shop-copy.pdf", out)
    }

    fn pick_cards(&self, resolved: &Resolved, edition: &Edition, out: &dyn Output) -> MadeDocuments {
        let document = document::pick_lists_edition(self.manual, resolved, edition);
        self.paper(&document, resolved, PdfInk::Grey, "pick-lists.pdf", out)
    }

    fn receiving_list(&self, resolved: &Resolved, edition: &Edition, out: &dyn Output) -> MadeDocuments {
        match document::receiving_list(self.manual, resolved, edition) {
            Some(document) => self.paper(&document, resolved, PdfInk::Grey, "receiving-list.pdf", out),
            None => Ok(Vec::new()),
        }
    }

    fn pick_table(&self, resolved: &Resolved, out: &dyn Output) -> MadeDocuments {
        let mut rows = document::pick_rows(self.manual, resolved);
        if self.lies_in == LiesIn::Bags {
            rows.iter_mut().for_each(|row| row.bin.clear());
        }
        put(out, resolved, "pick-lists.csv", &pick_list_csv(&rows))?;
        Ok(Vec::new())
    }

    fn registers(&self, resolved: &Resolved, out: &dyn Output) -> MadeDocuments {
        put(
            out,
            resolved,
            "receiving-list.csv",
            &sheet_csv(&document::box_sheet(self.manual, resolved, self.lies_in)),
        )?;
        put(out, resolved, "joints.csv", &sheet_csv(&document::joint_sheet(self.manual, resolved)))?;
        put(out, resolved, "holes.csv", &sheet_csv(&document::hole_sheet(self.manual, resolved)))?;
        let cables = document::cable_sheet(self.manual, resolved);
        if !cables.rows.is_empty() {
            put(out, resolved, "cables.csv", &sheet_csv(&cables))?;
        }
        let wires = document::wire_sheet(self.manual, resolved);
        if !wires.rows.is_empty() {
            put(out, resolved, "wires.csv", &sheet_csv(&wires))?;
        }
        Ok(Vec::new())
    }

    /// Templates at full size, where the builder has an end to cut.
    fn templates(&self, resolved: &Resolved, edition: &Edition, out: &dyn Output) -> MadeDocuments {
        match document::templates(self.manual, resolved, self.print_scale) {
            Some(mut document) => {
                document.meta.release = edition.state.clone();
                self.paper(&document, resolved, PdfInk::Grey, "templates.pdf", out)
            }
            None => Ok(Vec::new()),
        }
    }

    fn paper(
        &self,
        document: &Document,
        resolved: &Resolved,
        ink: PdfInk,
        file: &str,
        out: &dyn Output,
    ) -> MadeDocuments {
        let laid = lay_out(document, &self.manual.figures, &self.fonts, &Style::of(document));
        let mut found: Vec<_> =
            laid.problems.iter().filter_map(|p| layout_problem(p, self.manual, self.sources, resolved)).collect();
        match pdf::write(laid, &self.manual.figures, &self.fonts, ink, out.shelf()) {
            Ok(bytes) => put(out, resolved, file, &bytes)?,
            Err(fault) => found.push(problems::pdf_fault(&fault, resolved)),
        }
        Ok(found)
    }
}

fn put(out: &dyn Output, resolved: &Resolved, file: &str, bytes: &[u8]) -> Result<(), WriteFailure> {
    let path = format!("{}/{file}", resolved.name);
    out.write(&path, bytes).map_err(|error| WriteFailure { path, error })
}

/// The templates, with those in the manual's own `templates` folder.
pub(super) fn own_templates(manual: &Manual, files: &dyn Files, found: &mut Vec<Diagnostic>) -> Option<Templates> {
    let mut own = BTreeMap::new();
    let before = found.len();
    for path in &manual.paths {
        let Some(name) = path.strip_prefix("templates/") else { continue };
        let read = files.read(path).map_err(|e| e.to_string());
        match read.and_then(|bytes| String::from_utf8(bytes).map_err(|_| "it is not UTF-8 text".to_owned())) {
            Ok(text) => {
                own.insert(name.to_owned(), text);
            }
            Err(words) => found.push(problems::unreadable_template(path, &words)),
        }
    }
    if found.len() > before {
        return None;
    }
    Templates::new(&own).map_err(|fault| found.push(problems::template_fault(&fault))).ok()
}
