//! SVG: its size, whether it is safe, and its text as pages carry it.
//!
//! Owns: reading an SVG under limits, and what is refused. Must not know: pages, documents.

mod check;
mod cost;
mod css;
mod mirror;
mod scan;
mod size;
mod write;

use std::sync::Arc;

use roxmltree::{Document, ParsingOptions};

use super::limits::MOST_NODES;
use super::{FigureFault, FigureFile, FigureKind, vector};

pub(super) use mirror::{lettering, mirror};

pub(super) const NAMESPACE: &str = "http://www.w3.org/2000/svg";
pub(super) const XLINK: &str = "http://www.w3.org/1999/xlink";

/// Reads an SVG: its size in user units and its sanitised bytes, in which only drawing elements are left, style sheets
/// have become attributes, and photographs are without notes. What is taken was drawn once.
pub(super) fn read(bytes: &[u8]) -> Result<(u32, u32, Arc<[u8]>), FigureFault> {
    let text = std::str::from_utf8(bytes).map_err(|e| {
        FigureFault::new("the SVG is not UTF-8", "save it again as plain SVG").at(e.valid_up_to()..e.valid_up_to() + 1)
    })?;
    let text = without_doctype(text)?;
    scan::scan(&text)?;
    let document = parse(&text)?;
    let photographs = check::check(&document)?;
    let size = size::read(document.root_element())?;
    let styles = css::read(&document)?;
    let clean = write::write(&document, &styles, &photographs, &size, None);
    cost::check(&parse(&clean)?)?;
    vector::read(clean.as_bytes()).map_err(|undrawable| {
        FigureFault::new(
            format!("the SVG can't be drawn: {}", undrawable.0),
            "make the drawing simpler in the drawing program, or save what is too much for it as PNG",
        )
    })?;
    Ok((size.width_units(), size.height_units(), clean.into_bytes().into()))
}

/// The sanitised SVG for the inside of a page: no prolog, and every id and reference to one with `prefix` in front, so
/// that two figures of one page don't meet. `prefix` is letters, digits and `-`. Empty for other pictures.
pub fn inline_svg(figure: &FigureFile, prefix: &str) -> String {
    if figure.kind != FigureKind::Svg {
        return String::new();
    }
    let Ok(text) = std::str::from_utf8(&figure.bytes) else { return String::new() };
    let Ok(document) = parse(text) else { return String::new() };
    let Ok(size) = size::read(document.root_element()) else { return String::new() };
    write::write(&document, &css::Styles::default(), &check::Photographs::new(), &size, Some(prefix))
}

fn parse(text: &str) -> Result<Document<'_>, FigureFault> {
    let options = ParsingOptions { allow_dtd: false, nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    Document::parse_with_options(text, options).map_err(|error| {
        let pos = error.pos();
        let fault = match error {
            roxmltree::Error::NodesLimitReached => FigureFault::new(
                format!("the SVG has more than {MOST_NODES} elements"),
                "make the drawing simpler, or save it as PNG",
            ),
            roxmltree::Error::DtdDetected => entities(),
            _ => FigureFault::new(
                format!("the SVG is not well-formed: line {}, column {}", pos.row, pos.col),
                "save it again from the drawing program",
            ),
        };
        let line: usize = text.split_inclusive('\n').take(pos.row as usize - 1).map(str::len).sum();
        let column = text[line.min(text.len())..].chars().take(pos.col as usize - 1).map(char::len_utf8).sum::<usize>();
        let at = (line + column).min(text.len());
        fault.at(at..at)
    })
}

fn entities() -> FigureFault {
    FigureFault::new(
        "the SVG declares entities of its own, which are not read",
        "save it from the drawing program as plain SVG",
    )
}

/// Blanks a document type declaration without declarations of its own, as older drawing programs write it. One with
/// declarations is refused: entities can blow a small file up without end.
fn without_doctype(text: &str) -> Result<std::borrow::Cow<'_, str>, FigureFault> {
    let Some(start) = text.find("<!DOCTYPE") else { return Ok(text.into()) };
    let end = text[start..].find('>').map_or(text.len(), |i| start + i + 1);
    if text[start..end].contains('[') {
        return Err(entities().at(start..end));
    }
    let blank: String = text[start..end].bytes().map(|b| if b == b'\n' { '\n' } else { ' ' }).collect();
    Ok(format!("{}{blank}{}", &text[..start], &text[end..]).into())
}

#[cfg(test)]
mod tests;
