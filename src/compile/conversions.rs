//! Conversions of a kit from one configuration to another.

use super::compared::Compared;
use super::documents::WriteFailure;
use super::reports::{Press, put};
use crate::change::{Conversion, Side, conversion};
use crate::diag::Diagnostics;
use crate::document::{Bars, Edition, PrintScale, conversion_document, pick_lists_edition, pick_rows, templates};
use crate::emit::csv::pick_list_csv;
use crate::resolve::{Configuration, Resolved, resolve};
use crate::source::{Files, Output};

/// The conversion of the first of two configurations to the second.
pub fn converted(compared: &Compared) -> Conversion {
    let (from, plain) = (compared.side(0), compared.side(1));
    let configuration = Configuration {
        from: Some(from.resolved.configuration.variant.clone()),
        ..plain.resolved.configuration.clone()
    };
    let to = resolve(plain.manual, &configuration);
    let mut conversion = conversion(&from, &Side { resolved: &to, ..plain }, plain.resolved);
    conversion.change.shipped = compared.shipped().to_vec();
    conversion
}

/// Writes the document of a conversion as pages and on paper, its pick lists and its templates, below `folder`/. Returns
/// what was found on the way.
///
/// # Errors
/// The output refuses a file.
pub fn conversion_report(
    compared: &Compared,
    conversion: &Conversion,
    files: &dyn Files,
    folder: &str,
    out: &dyn Output,
) -> Result<Diagnostics, WriteFailure> {
    let state = compared.state(1);
    let (manual, resolved) = (&state.manual, &conversion.resolved);
    let mut press = match Press::new(state, resolved, files) {
        Ok(press) => press,
        Err(found) => return Ok(Diagnostics::collect(found, &state.sources)),
    };
    let words = format!("{} to {}", conversion.from, conversion.to);
    let variant = resolved.configuration.variant.as_str();
    // As if it were built new, so that what comes out of the kit and not out of the crate is no change.
    let new = Resolved {
        configuration: compared.resolved(1).configuration.clone(),
        ..resolve(manual, &resolved.configuration)
    };
    let from = compared.state(0);
    let (old, new) = (from.pictures.manual(&from.manual, compared.resolved(0)), state.pictures.manual(manual, &new));
    let bars = Bars::of(&old, &new, resolved, "", variant).of_changes_only();
    let document = conversion_document(manual, conversion, &words, bars);
    press.pages(&document, &format!("{folder}/conversion"), out)?;
    press.paper(&document, &format!("{folder}/conversion"), out)?;
    let edition = Edition { state: words.into(), ..Edition::default() };
    press.paper(&pick_lists_edition(manual, resolved, &edition), &format!("{folder}/pick-lists"), out)?;
    if let Some(mut sleeves) = templates(manual, resolved, PrintScale::TRUE) {
        sleeves.meta.release = edition.state.clone();
        press.paper(&sleeves, &format!("{folder}/templates"), out)?;
    }
    put(out, format!("{folder}/pick-lists.csv"), &pick_list_csv(&pick_rows(manual, resolved)))?;
    Ok(Diagnostics::collect(press.found, &state.sources))
}
