//! Photographs made smaller for a small screen.
//!
//! Owns: when a smaller one is worth its bytes, and how it is made. Must not know: pages, where it is kept.

use std::io::Cursor;

use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

use super::limits::MOST_PIXELS;
use super::shrink::Samples;
use super::{FigureFile, FigureKind, orientation};

/// Width of a smaller photograph, in pixels: a phone's window at two pixels to the unit, or a tablet's at one.
pub const SMALL_WIDTH: u32 = 800;

/// Counts the ways in which photographs are made smaller: what is kept of an earlier way is not taken. Raised whenever
/// the same photograph gives other bytes.
pub const SMALL_WAY: u32 = 2;

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
    let (picture, profile) = match file.kind {
        FigureKind::Jpeg => read_jpeg(&file.bytes),
        FigureKind::Png => read_png(&file.bytes),
        FigureKind::Svg => None,
    }?;
    let turn = orientation(file);
    let (width, height) = if turn > 4 { (picture.height, picture.width) } else { (picture.width, picture.height) };
    let small_width = SMALL_WIDTH as usize;
    let small_height = (height * small_width / width.max(1)).max(1);
    let stored = if turn > 4 { (small_height, small_width) } else { (small_width, small_height) };
    let picture = picture.shrunk(stored.0, stored.1)?.upright(turn);
    let bytes = match file.kind {
        FigureKind::Jpeg => jpeg(&picture, profile.as_deref()),
        // Without its profile it would look otherwise.
        _ if profile.is_some() => None,
        _ => png(&picture),
    }?;
    (bytes.len() < file.bytes.len()).then_some(bytes)
}

type Profile = Option<Vec<u8>>;

fn read_jpeg(bytes: &[u8]) -> Option<(Samples, Profile)> {
    let most = usize::from(u16::MAX);
    let options = DecoderOptions::default().set_max_width(most).set_max_height(most);
    let mut decoder = zune_jpeg::JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    decoder.decode_headers().ok()?;
    let (channels, colours) = match decoder.input_colorspace()? {
        ColorSpace::Luma => (1, ColorSpace::Luma),
        _ => (3, ColorSpace::RGB),
    };
    decoder.set_options(options.jpeg_set_out_colorspace(colours));
    let bytes = decoder.decode().ok()?;
    let (width, height) = decoder.dimensions()?;
    Some((Samples { width, height, channels, bytes }, decoder.icc_profile()))
}

fn read_png(bytes: &[u8]) -> Option<(Samples, Profile)> {
    let limit = usize::try_from(MOST_PIXELS * 4).ok()?;
    let mut decoder = png::Decoder::new_with_limits(Cursor::new(bytes), png::Limits { bytes: limit });
    decoder.set_transformations(png::Transformations::normalize_to_color8());
    let mut reader = decoder.read_info().ok()?;
    let profile = reader.info().icc_profile.as_ref().map(|p| p.to_vec());
    let mut samples = vec![0; reader.output_buffer_size().filter(|size| *size <= limit)?];
    let frame = reader.next_frame(&mut samples).ok()?;
    samples.truncate(frame.buffer_size());
    let (width, height) = (usize::try_from(frame.width).ok()?, usize::try_from(frame.height).ok()?);
    Some((Samples { width, height, channels: frame.color_type.samples(), bytes: samples }, profile))
}

fn jpeg(picture: &Samples, profile: Option<&[u8]>) -> Option<Vec<u8>> {
    let (width, height) = (u16::try_from(picture.width).ok()?, u16::try_from(picture.height).ok()?);
    let mut out = Vec::new();
    let mut encoder = jpeg_encoder::Encoder::new(&mut out, QUALITY);
    if let Some(profile) = profile {
        encoder.add_icc_profile(profile).ok()?;
    }
    let colours = if picture.channels == 1 { jpeg_encoder::ColorType::Luma } else { jpeg_encoder::ColorType::Rgb };
    encoder.encode(&picture.bytes, width, height, colours).ok()?;
    Some(out)
}

fn png(picture: &Samples) -> Option<Vec<u8>> {
    let mut out = Vec::new();
    let (width, height) = (u32::try_from(picture.width).ok()?, u32::try_from(picture.height).ok()?);
    let mut encoder = png::Encoder::new(&mut out, width, height);
    encoder.set_color(match picture.channels {
        1 => png::ColorType::Grayscale,
        2 => png::ColorType::GrayscaleAlpha,
        3 => png::ColorType::Rgb,
        _ => png::ColorType::Rgba,
    });
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_compression(png::Compression::High);
    encoder.set_filter(png::Filter::Adaptive);
    let mut writer = encoder.write_header().ok()?;
    writer.write_image_data(&picture.bytes).ok()?;
    writer.finish().ok()?;
    Some(out)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use image::DynamicImage;

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
