//! JPEG: size and orientation, and whether the picture is whole (ISO/IEC 10918-1, Exif 2.32).
//!
//! Owns: reading a JPEG under limits. Must not know: where it is shown.

use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

use super::probe::MOST_PIXELS;
use super::{FigureFault, FigureFile, FigureKind};

/// Pictures up to this many pixels are decoded as a whole; of larger ones only the structure is checked.
const DECODED: u64 = 40_000_000;

/// The size of a JPEG in pixels as it is shown, turned as its Exif note says.
pub(super) fn read(bytes: &[u8]) -> Result<(u32, u32), FigureFault> {
    let (width, height, components, data) = frame(bytes).ok_or_else(|| FigureFault::broken("JPEG"))?;
    let pixels = u64::from(width) * u64::from(height);
    if pixels > MOST_PIXELS {
        return Err(FigureFault::too_large(width.into(), height.into()));
    }
    if components == 4 {
        return Err(FigureFault::new(
            "the picture has the four colours of a printing press",
            "save it as RGB; other programs show its colours wrongly",
        ));
    }
    // The end mark of a small picture inside the Exif note stands before the data.
    if !bytes[data..].windows(2).any(|w| w == [0xFF, 0xD9]) {
        return Err(FigureFault::broken("JPEG"));
    }
    if pixels <= DECODED {
        // Grey for grey, three bytes a pixel otherwise: at most 120 MB for the time of the check.
        let colours = if components == 1 { ColorSpace::Luma } else { ColorSpace::RGB };
        let options = DecoderOptions::default()
            .set_max_width(usize::from(width))
            .set_max_height(usize::from(height))
            .jpeg_set_out_colorspace(colours);
        JpegDecoder::new_with_options(ZCursor::new(bytes), options)
            .decode()
            .map_err(|_| FigureFault::broken("JPEG"))?;
    }
    let turned = exif_orientation(bytes) >= 5;
    let (width, height) = (u32::from(width), u32::from(height));
    Ok(if turned { (height, width) } else { (width, height) })
}

/// How the pixels of a picture lie against the picture as shown: the Exif values 1 (as shown) to 8. Only a JPEG is
/// turned; every other picture is 1.
pub fn orientation(figure: &FigureFile) -> u8 {
    if figure.kind == FigureKind::Jpeg { exif_orientation(&figure.bytes) } else { 1 }
}

fn exif_orientation(bytes: &[u8]) -> u8 {
    let exif = exif::Reader::new().read_from_container(&mut std::io::Cursor::new(bytes));
    let value = exif
        .ok()
        .and_then(|e| e.get_field(exif::Tag::Orientation, exif::In::PRIMARY).and_then(|f| f.value.get_uint(0)));
    value.and_then(|v| u8::try_from(v).ok()).filter(|v| (1..=8).contains(v)).unwrap_or(1)
}

/// Width, height and number of components from the frame header, and where it ends; None where the segments up to it do not fit together.
fn frame(bytes: &[u8]) -> Option<(u16, u16, u8, usize)> {
    let mut at = 2;
    loop {
        if *bytes.get(at)? != 0xFF {
            return None;
        }
        let marker = *bytes.get(at + 1)?;
        match marker {
            0xFF => at += 1,
            0x01 | 0xD0..=0xD7 => at += 2,
            // Start of frame; C4, C8 and CC are tables and a reserved value.
            0xC0..=0xCF if !matches!(marker, 0xC4 | 0xC8 | 0xCC) => {
                let b = bytes.get(at + 5..at + 10)?;
                let (height, width) = (u16::from_be_bytes([b[0], b[1]]), u16::from_be_bytes([b[2], b[3]]));
                return (width > 0 && height > 0).then_some((width, height, b[4], at + 10));
            }
            // The data or the end before any frame.
            0xD9 | 0xDA => return None,
            _ => {
                let length = usize::from(u16::from_be_bytes([*bytes.get(at + 2)?, *bytes.get(at + 3)?]));
                if length < 2 {
                    return None;
                }
                at += 2 + length;
            }
        }
    }
}
