//! Photographs made smaller for a small screen.
//!
//! Owns: when a smaller one is worth its bytes, and how it is made. Must not know: pages, where it is kept.

use std::io::Cursor;

use image::{DynamicImage, ImageDecoder as _, ImageEncoder as _, ImageReader};

use super::raster::MOST_BYTES;
use super::{FigureFile, FigureKind, orientation};

/// Width of a smaller photograph, in pixels: a phone's window at two pixels to the unit, or a tablet's at one.
pub const SMALL_WIDTH: u32 = 800;

/// Counts the ways in which photographs are made smaller: what is kept of an earlier way is not taken. Raised whenever
/// the same photograph gives other bytes.
pub const SMALL_WAY: u32 = 1;

/// JPEG quality of a smaller photograph.
const QUALITY: u8 = 80;

/// Whether a picture is wide enough for a smaller one beside it.
pub fn wants_small(file: &FigureFile) -> bool {
    file.kind != FigureKind::Svg && file.width >= SMALL_WIDTH * 3 / 2
}

/// A picture as it is shown, upright, [`SMALL_WIDTH`] pixels wide, in its own format. A JPEG keeps its colour profile. None where there is
/// nothing to gain, and where the picture can't be made smaller without looking otherwise.
pub fn small(file: &FigureFile) -> Option<Vec<u8>> {
    if !wants_small(file) {
        return None;
    }
    let format = match file.kind {
        FigureKind::Jpeg => image::ImageFormat::Jpeg,
        FigureKind::Png => image::ImageFormat::Png,
        FigureKind::Svg => return None,
    };
    let mut reader = ImageReader::with_format(Cursor::new(&*file.bytes), format);
    let mut limits = image::Limits::default();
    limits.max_alloc = Some(MOST_BYTES);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().ok()?;
    let profile = decoder.icc_profile().ok()?;
    let mut picture = DynamicImage::from_decoder(decoder).ok()?;
    if let Some(turn) = image::metadata::Orientation::from_exif(orientation(file)) {
        picture.apply_orientation(turn);
    }
    let height = (u64::from(picture.height()) * u64::from(SMALL_WIDTH) / u64::from(picture.width())).max(1);
    let picture = picture.thumbnail_exact(SMALL_WIDTH, u32::try_from(height).ok()?);
    let bytes = match file.kind {
        FigureKind::Jpeg => jpeg(&picture, profile.as_deref()),
        // Without its profile it would look otherwise.
        _ if profile.is_some() => None,
        _ => png(&picture),
    }?;
    (bytes.len() < file.bytes.len()).then_some(bytes)
}

fn jpeg(picture: &DynamicImage, profile: Option<&[u8]>) -> Option<Vec<u8>> {
    let (width, height) = (u16::try_from(picture.width()).ok()?, u16::try_from(picture.height()).ok()?);
    let mut out = Vec::new();
    let mut encoder = jpeg_encoder::Encoder::new(&mut out, QUALITY);
    if let Some(profile) = profile {
        encoder.add_icc_profile(profile).ok()?;
    }
    match picture {
        DynamicImage::ImageLuma8(grey) => encoder.encode(grey, width, height, jpeg_encoder::ColorType::Luma),
        _ => encoder.encode(&picture.to_rgb8(), width, height, jpeg_encoder::ColorType::Rgb),
    }
    .ok()?;
    Some(out)
}

fn png(picture: &DynamicImage) -> Option<Vec<u8>> {
    use image::codecs::png::{CompressionType, FilterType, PngEncoder};
    let mut out = Vec::new();
    PngEncoder::new_with_quality(&mut out, CompressionType::Best, FilterType::Adaptive)
        .write_image(picture.as_bytes(), picture.width(), picture.height(), picture.color().into())
        .ok()?;
    Some(out)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::figure::probe;
    use crate::units::FigureName;

    /// Left half dark, right half light, with a bright upper edge.
    fn picture(width: u32, height: u32) -> image::RgbImage {
        image::RgbImage::from_fn(width, height, |x, y| match (y < height / 8, x < width / 2) {
            (true, _) => image::Rgb([250, 40, 40]),
            (_, true) => image::Rgb([20, 30, 40]),
            _ => image::Rgb([220, (x % 7) as u8 + 200, (y % 5) as u8 + 200]),
        })
    }

    fn jpeg_of(picture: &image::RgbImage, turn: u8) -> FigureFile {
        let mut out = Vec::new();
        let mut encoder = jpeg_encoder::Encoder::new(&mut out, 95);
        let mut note = b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
        note.extend([turn, 0, 0, 0, 0, 0, 0]);
        encoder.add_app_segment(1, note).unwrap();
        let (width, height) = (picture.width() as u16, picture.height() as u16);
        encoder.encode(picture, width, height, jpeg_encoder::ColorType::Rgb).unwrap();
        probe(&FigureName::new("p.jpg"), Arc::from(out)).unwrap()
    }

    fn pixel(picture: &DynamicImage, x: u32, y: u32) -> [u8; 3] {
        picture.to_rgb8().get_pixel(x, y).0
    }

    #[test]
    fn a_wide_photograph_is_made_smaller_and_upright() {
        let whole = jpeg_of(&picture(1600, 1200), 1);
        let made = image::load_from_memory(&small(&whole).unwrap()).unwrap();
        assert_eq!((made.width(), made.height()), (800, 600));
        assert!(pixel(&made, 10, 300)[0] < 60 && pixel(&made, 790, 300)[0] > 180 && pixel(&made, 400, 5)[0] > 200);
        // Exif 6: what is stored as the left edge is shown on top.
        let turned = jpeg_of(&picture(1200, 1600), 6);
        assert_eq!((turned.width, turned.height), (1600, 1200));
        let made = image::load_from_memory(&small(&turned).unwrap()).unwrap();
        assert_eq!((made.width(), made.height()), (800, 600));
        assert!(pixel(&made, 400, 10)[0] < 60 && pixel(&made, 400, 590)[0] > 180 && pixel(&made, 795, 300)[1] < 90);
    }

    #[test]
    fn a_narrow_one_and_a_broken_one_are_left() {
        assert!(small(&jpeg_of(&picture(1100, 900), 1)).is_none());
        let mut broken = jpeg_of(&picture(1600, 1200), 1);
        broken.bytes = Arc::from(&broken.bytes[..200]);
        assert!(small(&broken).is_none());
    }

    #[test]
    fn a_png_keeps_what_shows_through() {
        let clear = image::RgbaImage::from_fn(1400, 700, |x, y| {
            image::Rgba([(x % 251) as u8, (y % 241) as u8, 90, if x < 700 { 0 } else { 255 }])
        });
        let mut out = Cursor::new(Vec::new());
        clear.write_to(&mut out, image::ImageFormat::Png).unwrap();
        let file = probe(&FigureName::new("p.png"), Arc::from(out.into_inner())).unwrap();
        let made = image::load_from_memory(&small(&file).unwrap()).unwrap().to_rgba8();
        assert_eq!(
            (made.dimensions(), made.get_pixel(10, 10).0[3], made.get_pixel(790, 10).0[3]),
            ((800, 400), 0, 255)
        );
    }
}
