//! Pictures of pixels: PNG decoded, JPEG passed through as it came but for its private data.
//!
//! Owns: reading them under limits. Must not know: where they stand.

use std::sync::Arc;

use super::limits::MOST_PIXELS;
use super::{Undrawable, jpeg};

#[derive(Clone, Debug)]
pub struct Raster {
    /// Pixels as stored, before [`Raster::turn`].
    pub width: u32,
    pub height: u32,
    pub pixels: Pixels,
    /// Opacity of each pixel; none where all are opaque.
    pub alpha: Option<Arc<[u8]>>,
    /// How the stored picture is turned to be seen upright: 1 to 8 after Exif 2.3, tag Orientation.
    pub turn: u8,
}

#[derive(Clone, Debug)]
pub enum Pixels {
    /// A JPEG file without private data, of one or three components.
    Jpeg {
        bytes: Arc<[u8]>,
        components: u8,
    },
    /// Three bytes a pixel, rows from the top.
    Rgb(Arc<[u8]>),
    Grey(Arc<[u8]>),
}

/// The three colours of a JPEG's pixels, and its width and height.
pub(super) fn decode_jpeg(bytes: &[u8]) -> Result<(Vec<u8>, usize, usize), Undrawable> {
    use zune_jpeg::zune_core::bytestream::ZCursor;
    use zune_jpeg::zune_core::options::DecoderOptions;
    let most = usize::from(u16::MAX);
    let options = DecoderOptions::default().set_max_width(most).set_max_height(most);
    let mut decoder = zune_jpeg::JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    let rgb = decoder.decode().map_err(|e| Undrawable(e.to_string()))?;
    let (width, height) = decoder.dimensions().unwrap_or_default();
    if rgb.len() != width * height * 3 {
        return Err(Undrawable("its pixels do not fill it".to_owned()));
    }
    Ok((rgb, width, height))
}

/// The pixels of a PNG that was found whole.
pub(super) fn read_png(bytes: &[u8]) -> Result<Raster, Undrawable> {
    let undrawable = |e: png::DecodingError| Undrawable(e.to_string());
    let mut decoder = super::png::decoder(bytes);
    decoder.set_transformations(png::Transformations::normalize_to_color8());
    let mut reader = decoder.read_info().map_err(undrawable)?;
    let size = reader.output_buffer_size().filter(|size| *size as u64 <= MOST_PIXELS * 4);
    let mut stored = vec![0; size.ok_or_else(|| Undrawable("it has too many pixels".to_owned()))?];
    let frame = reader.next_frame(&mut stored).map_err(undrawable)?;
    let (samples, clear) = match frame.color_type {
        png::ColorType::Grayscale => (1, false),
        png::ColorType::GrayscaleAlpha => (2, true),
        png::ColorType::Rgb => (3, false),
        png::ColorType::Rgba => (4, true),
        png::ColorType::Indexed => return Err(Undrawable("its colours are not told".to_owned())),
    };
    let opacity = |p: &[u8]| p.last().copied().unwrap_or(255);
    let opaque = !clear || stored.chunks_exact(samples).all(|p| opacity(p) == 255);
    let alpha = (!opaque).then(|| stored.chunks_exact(samples).map(opacity).collect());
    let colours = samples - usize::from(clear);
    let pixels = if colours == 1 || stored.chunks_exact(samples).all(|p| p[0] == p[1] && p[1] == p[2]) {
        Pixels::Grey(stored.chunks_exact(samples).map(|p| p[0]).collect())
    } else if clear {
        Pixels::Rgb(stored.chunks_exact(samples).flat_map(|p| [p[0], p[1], p[2]]).collect())
    } else {
        Pixels::Rgb(stored.into())
    };
    Ok(Raster { width: frame.width, height: frame.height, pixels, alpha, turn: 1 })
}

/// A JPEG that was found whole, without the note of how it is turned.
pub(super) fn read_jpeg(bytes: &[u8]) -> Result<Raster, Undrawable> {
    let jpeg::Bare { width, height, components, turn, bytes } =
        jpeg::bare(bytes).map_err(|fault| Undrawable(fault.headline))?;
    Ok(Raster { width, height, pixels: Pixels::Jpeg { bytes: bytes.into(), components }, alpha: None, turn })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn jpeg(colors: jpeg_encoder::ColorType, bytes: usize) -> Vec<u8> {
        let mut out = Vec::new();
        let mut encoder = jpeg_encoder::Encoder::new(&mut out, 80);
        encoder
            .add_app_segment(1, b"Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06\0\0\0\0\0\0".to_vec())
            .unwrap();
        encoder.encode(&vec![90; 16 * 8 * bytes], 16, 8, colors).unwrap();
        out
    }

    #[test]
    fn a_jpeg_keeps_its_picture_and_loses_its_private_data() {
        let bytes = jpeg(jpeg_encoder::ColorType::Rgb, 3);
        let raster = read_jpeg(&bytes).unwrap();
        assert_eq!((raster.width, raster.height, raster.turn), (16, 8, 6));
        let Pixels::Jpeg { bytes: kept, components: 3 } = &raster.pixels else { panic!("{raster:?}") };
        assert!(!kept.windows(4).any(|w| w == b"Exif"));
        assert_eq!(decode_jpeg(&bytes).unwrap(), decode_jpeg(kept).unwrap());
    }

    #[test]
    fn a_broken_jpeg_is_refused() {
        let bytes = jpeg(jpeg_encoder::ColorType::Luma, 1);
        for end in 0..bytes.len().min(400) {
            let _ = read_jpeg(&bytes[..end]);
        }
        assert!(read_jpeg(&bytes[..40]).is_err());
        assert!(read_jpeg(b"\xFF\xD8\xFF\xC0\x00\x01").is_err());
    }
}
