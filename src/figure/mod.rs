//! Pictures: what they are (probe), whether they are safe to carry (sanitise), and how they turn grey.
//!
//! Owns: reading of SVG, PNG and JPEG heads under limits, and conversions of pictures.
//! Must not know: steps, callouts, pages.

mod colours;
mod crop;
mod drawing;
mod fault;
mod grey;
mod greyed;
mod hatch;
mod icc;
mod jpeg;
mod lettering;
mod limits;
mod painting;
mod png;
mod press;
mod probe;
mod raster;
mod shrink;
mod small;
mod svg;
mod vector;

pub use colours::{Hue, contrast, lightness};
pub use crop::Crop;
pub use drawing::{Drawing, FillRule, Gradient, GradientKind, Letters, Op, Paint, PathPart, StrokeLook, Vector};
pub use grey::{GREY_WAY, grey_of, grey_raster, luminance};
pub use greyed::{Faint, Greyed, LEAST_LETTERING, LEAST_LINE, greyed};
pub use hatch::{Alike, CLOSE, Coloured, GreyMark, Hatch, KeyEntry, middle};
pub use lettering::{LEAST_LETTERS, LEAST_LETTERS_GREY, MOST_LARGER, letter_anew};
pub use raster::{Pixels, Raster};
pub use small::{SMALL_WAY, SMALL_WIDTH, small, wants_small};

use std::sync::Arc;

use crate::units::FigureName;

pub use fault::FigureFault;
pub use jpeg::orientation;
pub use probe::probe;
pub use svg::inline_svg;

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
    /// The bytes as they may be shown: without notes, an SVG sanitised and the photographs inside it too.
    pub bytes: Arc<[u8]>,
}

impl FigureFile {
    /// The drawing mirrored left to right under another name, its lettering readable. None for a picture that can't
    /// be: a photograph, or a drawing that holds one.
    pub fn mirrored(&self, name: FigureName) -> Option<Self> {
        let text = std::str::from_utf8(&self.bytes).ok().filter(|_| self.kind == FigureKind::Svg)?;
        Some(Self { name, bytes: svg::mirror(text)?.into_bytes().into(), ..self.clone() })
    }

    /// The texts that stand in a drawing; none are known of a photograph.
    pub fn lettering(&self) -> Vec<String> {
        std::str::from_utf8(&self.bytes)
            .ok()
            .filter(|_| self.kind == FigureKind::Svg)
            .map(svg::lettering)
            .unwrap_or_default()
    }
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
        FigureKind::Svg => vector::read(&file.bytes).map(Drawing::Vector),
        FigureKind::Png => raster::read_png(&file.bytes).map(Drawing::Raster),
        FigureKind::Jpeg => raster::read_jpeg(&file.bytes).map(Drawing::Raster),
    }
}
