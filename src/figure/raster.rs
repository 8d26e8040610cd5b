//! Pictures of pixels: PNG decoded, JPEG passed through as it came but for its private data.
//!
//! Owns: reading them under limits. Must not know: where they stand.

use std::io::Cursor;
use std::sync::Arc;

use super::Undrawable;

/// Most bytes a decoded picture may take.
pub(super) const MOST_BYTES: u64 = 512 << 20;

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

pub fn read_png(bytes: &[u8]) -> Result<Raster, Undrawable> {
    let undrawable = |e: png::DecodingError| Undrawable(e.to_string());
    let limit = usize::try_from(MOST_BYTES).unwrap_or(usize::MAX);
    let mut decoder = png::Decoder::new_with_limits(Cursor::new(bytes), png::Limits { bytes: limit });
    decoder.set_transformations(png::Transformations::normalize_to_color8());
    let mut reader = decoder.read_info().map_err(undrawable)?;
    let size = reader.output_buffer_size().filter(|size| *size <= limit);
    let mut stored = vec![0; size.ok_or_else(|| Undrawable("it has too many pixels".to_owned()))?];
    let frame = reader.next_frame(&mut stored).map_err(undrawable)?;
    stored.truncate(frame.buffer_size());
    let channels = frame.color_type.samples();
    let pixels = || stored.chunks_exact(channels);
    let clear = channels.is_multiple_of(2) && pixels().any(|p| p[channels - 1] != 255);
    let alpha = clear.then(|| pixels().map(|p| p[channels - 1]).collect());
    let pixels = if channels < 3 || pixels().all(|p| p[0] == p[1] && p[1] == p[2]) {
        Pixels::Grey(pixels().map(|p| p[0]).collect())
    } else {
        Pixels::Rgb(pixels().flat_map(|p| [p[0], p[1], p[2]]).collect())
    };
    Ok(Raster { width: frame.width, height: frame.height, pixels, alpha, turn: 1 })
}

pub fn read_jpeg(bytes: &[u8]) -> Result<Raster, Undrawable> {
    let head = Head::read(bytes)?;
    let turn = orientation(bytes);
    // What viewers of documents can't show is decoded here and carried as pixels.
    if head.components == 4 {
        // One inside a drawing; of others this was done when they were read.
        let (rgb, width, height) = super::press::decode(bytes).ok_or_else(|| Undrawable("it is broken".to_owned()))?;
        return Ok(Raster {
            width: width.into(),
            height: height.into(),
            pixels: Pixels::Rgb(rgb.into()),
            alpha: None,
            turn,
        });
    }
    if head.lossless_or_arithmetic {
        let (rgb, width, height) = decode_jpeg(bytes)?;
        let too_large = |_| Undrawable("it has too many pixels".to_owned());
        return Ok(Raster {
            width: u32::try_from(width).map_err(too_large)?,
            height: u32::try_from(height).map_err(too_large)?,
            pixels: Pixels::Rgb(rgb.into()),
            alpha: None,
            turn,
        });
    }
    let pixels = Pixels::Jpeg { bytes: head.kept.into(), components: head.components };
    Ok(Raster { width: head.width, height: head.height, pixels, alpha: None, turn })
}

/// What the segments before the first scan tell, and the file without Exif, XMP, IPTC and comments.
struct Head {
    width: u32,
    height: u32,
    components: u8,
    lossless_or_arithmetic: bool,
    kept: Vec<u8>,
}

impl Head {
    /// Walks the segments of a JPEG (ITU-T T.81, annex B) up to the first scan.
    fn read(bytes: &[u8]) -> Result<Self, Undrawable> {
        let broken = |what: &str| Undrawable(format!("the JPEG {what}"));
        if !bytes.starts_with(&[0xFF, 0xD8]) {
            return Err(broken("does not begin as one"));
        }
        let mut head =
            Self { width: 0, height: 0, components: 0, lossless_or_arithmetic: false, kept: vec![0xFF, 0xD8] };
        let mut at = 2;
        loop {
            while bytes.get(at) == Some(&0xFF) && bytes.get(at + 1) == Some(&0xFF) {
                at += 1;
            }
            let (Some(0xFF), Some(&marker)) = (bytes.get(at), bytes.get(at + 1)) else {
                return Err(broken("ends before its picture"));
            };
            let length = match (bytes.get(at + 2), bytes.get(at + 3)) {
                (Some(&h), Some(&l)) => usize::from(u16::from_be_bytes([h, l])),
                _ => return Err(broken("ends before its picture")),
            };
            let segment = bytes.get(at..at + 2 + length).filter(|_| length >= 2).ok_or_else(|| broken("is cut off"))?;
            let body = &segment[4..];
            match marker {
                0xC0..=0xC3 | 0xC5..=0xC7 | 0xC9..=0xCB | 0xCD..=0xCF => {
                    if body.len() < 6 || body[0] != 8 {
                        return Err(broken("does not use 8 bits a colour"));
                    }
                    head.height = u32::from(u16::from_be_bytes([body[1], body[2]]));
                    head.width = u32::from(u16::from_be_bytes([body[3], body[4]]));
                    head.components = body[5];
                    head.lossless_or_arithmetic = !matches!(marker, 0xC0..=0xC2);
                }
                _ => {}
            }
            // Exif and XMP (place and time it was taken), IPTC, comments: not the reader's business.
            if !matches!(marker, 0xE1 | 0xED | 0xFE) {
                head.kept.extend_from_slice(segment);
            }
            at += 2 + length;
            if marker == 0xDA {
                break;
            }
        }
        if head.width == 0 || head.height == 0 || !matches!(head.components, 1 | 3 | 4) {
            return Err(broken("does not say how large it is"));
        }
        head.kept.extend_from_slice(&bytes[at..]);
        Ok(head)
    }
}

fn orientation(bytes: &[u8]) -> u8 {
    let exif = exif::Reader::new().read_from_container(&mut Cursor::new(bytes)).ok();
    let turn = exif
        .as_ref()
        .and_then(|e| e.get_field(exif::Tag::Orientation, exif::In::PRIMARY))
        .and_then(|f| f.value.get_uint(0));
    turn.and_then(|t| u8::try_from(t).ok()).filter(|t| (1..=8).contains(t)).unwrap_or(1)
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
