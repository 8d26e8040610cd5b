//! The door through which every picture comes in, whatever it is and wherever it stands.
//!
//! What passes is decoded to its last pixel, or drawn once, within the limits of `limits`, and written anew without what
//! it tells of its camera, its author and its place. A photograph inside a drawing passes the same readers, `png::read` and
//! `jpeg::read`. Nothing else makes a `FigureFile` of bytes from outside.
//!
//! Owns: telling formats apart. Must not know: how a format is read.

use std::sync::Arc;

use super::limits::{LARGEST_PHOTOGRAPH, LARGEST_SVG};
use super::{FigureFault, FigureFile, FigureKind, jpeg, png, svg};
use crate::units::FigureName;

/// Reads a picture: its format by its content, its size, whether it is whole and can be drawn, and its bytes as they may be carried.
///
/// # Errors
/// The picture is of another kind than its name says, of a kind that is not carried, too large, broken, or (SVG) holds
/// something that would act or reach outside the manual.
pub fn probe(name: &FigureName, bytes: Arc<[u8]>) -> Result<FigureFile, FigureFault> {
    let kind = kind(&bytes)?;
    check_name(name, kind)?;
    let largest = if kind == FigureKind::Svg { LARGEST_SVG } else { LARGEST_PHOTOGRAPH };
    if bytes.len() > largest {
        return Err(FigureFault::new(
            format!("the picture file has {} MB, more than the {} MB that are read", bytes.len() >> 20, largest >> 20),
            "save it smaller: fewer pixels, or in an SVG without the photographs inside it",
        ));
    }
    let (width, height, bytes) = match kind {
        FigureKind::Png => {
            let (width, height, bytes) = png::read(&bytes)?;
            (width, height, bytes.into())
        }
        FigureKind::Jpeg => {
            let (width, height, bytes) = jpeg::read(&bytes)?;
            (width, height, bytes.into())
        }
        FigureKind::Svg => svg::read(&bytes)?,
    };
    Ok(FigureFile { name: name.clone(), kind, width, height, bytes })
}

fn kind(bytes: &[u8]) -> Result<FigureKind, FigureFault> {
    if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        return Ok(FigureKind::Png);
    }
    if bytes.starts_with(b"\xFF\xD8\xFF") {
        return Ok(FigureKind::Jpeg);
    }
    let other = match bytes {
        [] => return Err(FigureFault::new("the picture file is empty", "put the picture in its place")),
        [b'G', b'I', b'F', b'8', ..] => Some("GIF"),
        [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'E', b'B', b'P', ..] => Some("WebP"),
        [b'I', b'I', b'*', 0, ..] | [b'M', b'M', 0, b'*', ..] => Some("TIFF"),
        [b'B', b'M', ..] => Some("BMP"),
        [b'%', b'P', b'D', b'F', ..] => Some("PDF"),
        [_, _, _, _, b'f', b't', b'y', b'p', ..] => Some("HEIC or AVIF"),
        [0x1F, 0x8B, ..] => Some("compressed SVG"),
        [0xFF, 0xFE, ..] | [0xFE, 0xFF, ..] => Some("UTF-16"),
        _ => None,
    };
    if let Some(other) = other {
        return Err(FigureFault::new(
            format!("the picture is {other}, which is not carried"),
            "save it as SVG (drawings), PNG or JPEG (photographs)",
        ));
    }
    let text = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes).trim_ascii_start();
    if text.starts_with(b"<") {
        return Ok(FigureKind::Svg);
    }
    Err(FigureFault::new(
        "the file is no picture that is known here",
        "save it as SVG (drawings), PNG or JPEG (photographs)",
    ))
}

/// Documents are made by the name's ending, so it must agree with the content.
fn check_name(name: &FigureName, kind: FigureKind) -> Result<(), FigureFault> {
    let ending = name.as_str().rsplit_once('.').map_or("", |(_, e)| e).to_lowercase();
    let (fits, word, right) = match kind {
        FigureKind::Svg => (ending == "svg", "an SVG", ".svg"),
        FigureKind::Png => (ending == "png", "a PNG", ".png"),
        FigureKind::Jpeg => (matches!(ending.as_str(), "jpg" | "jpeg"), "a JPEG", ".jpg"),
    };
    if fits {
        return Ok(());
    }
    Err(FigureFault::new(
        format!("the picture is {word}, and its name ends otherwise"),
        format!("rename it so that it ends in `{right}`, here and where it is named"),
    ))
}

#[cfg(test)]
mod tests;
