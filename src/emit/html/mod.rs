//! HTML pages that open from disk, with no network.
//!
//! Owns: the file of every leaf, links between pages, the markup of text in a line, and the values that the
//! templates show. The markup of blocks and pages stands in `templates/`.
//! Must not know: the model, paper, the disk.

mod blocks;
mod colour;
mod data;
mod digest;
mod drawing;
mod file_name;
mod inline;
mod lines;
mod marks;
mod page;
mod picture;
#[cfg(test)]
mod sample;
mod site;
mod stick_page;
mod table;
mod templates;
#[cfg(test)]
mod tests;
mod way_in;
mod words;

use std::collections::BTreeMap;

use rayon::prelude::*;

pub use stick_page::{Door, stick_page};
pub use templates::Templates;

use super::EmitError;
use crate::document::{Bench, Document};
use crate::figure::FigureFile;
use crate::source::Output;
use crate::units::FigureName;
use site::Site;

/// Writes a document as pages below `prefix`: `index.html` for its first leaf, a page for every other leaf,
/// `style.css`, `manual.js`, `data.js`, `lines.js` and the figures that are shown, under `figures/`, photographs in two widths.
///
/// `prefix` is empty or ends with `/`. The same document gives the same bytes, whatever the number of threads.
///
/// # Errors
/// A template that fails, a figure that is missing from `figures`, a link without its target, a name given
/// twice, nesting beyond what is written, and what the output refuses.
pub fn write(
    document: &Document,
    bench: &Bench,
    figures: &BTreeMap<FigureName, FigureFile>,
    templates: &Templates,
    out: &dyn Output,
    prefix: &str,
) -> Result<(), EmitError> {
    let site = Site::of(document, bench, figures, out.shelf())?;
    let put = |path: &str, bytes: &[u8]| {
        let path = format!("{prefix}{path}");
        out.write(&path, bytes).map_err(|error| EmitError::Write { path, error })
    };

    let render = |leaf| {
        let html = page::render(&site, leaf, templates)?;
        put(site.file(leaf), html.as_bytes())
    };
    let (data, pages) = rayon::join(
        || data::script(&site),
        || (0..document.leaves.len()).into_par_iter().map(render).collect::<Vec<Result<(), EmitError>>>(),
    );
    // The first failure in the order of the pages, whichever came first in time.
    pages.into_iter().collect::<Result<(), EmitError>>()?;

    put("style.css", templates.style(&colour::accent_rules(document.meta.accent)).as_bytes())?;
    put("manual.js", templates.script().as_bytes())?;
    put("data.js", data.as_bytes())?;
    put("lines.js", lines::script(&site).as_bytes())?;
    for (path, bytes) in site.pictures() {
        put(path, bytes)?;
    }
    Ok(())
}
