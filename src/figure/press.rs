//! Photographs in the four inks of a printing press, to the three colours of a screen.
//!
//! Owns: the conversion. What was saved for a press looks the same on every screen and on paper only once it is
//! converted: programs differ in how they show it. Must not know: where a picture is shown.

use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::colorspace::ColorSpace;

/// JPEG quality of what is written: beyond what shows on paper.
const QUALITY: u8 = 92;

/// A JPEG in three colours from one in four inks, turned as `orientation` (Exif 2.32) says. None where it is broken.
///
/// Without a profile of the press there is only the plain rule: light is what each ink leaves of it,
/// (1 - ink) (1 - black). A profile in the file is not followed.
pub fn to_screen(bytes: &[u8], orientation: u8) -> Option<Vec<u8>> {
    let (rgb, width, height) = decode(bytes)?;
    let mut out = Vec::new();
    let mut encoder = jpeg_encoder::Encoder::new(&mut out, QUALITY);
    if orientation > 1 {
        let mut note = b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
        note.extend([orientation, 0, 0, 0, 0, 0, 0]);
        encoder.add_app_segment(1, note).ok()?;
    }
    encoder.encode(&rgb, width, height, jpeg_encoder::ColorType::Rgb).ok()?;
    Some(out)
}

/// Three bytes a pixel, width and height of a JPEG in four inks.
pub(super) fn decode(bytes: &[u8]) -> Option<(Vec<u8>, u16, u16)> {
    // As stored: what the decoder makes of it leaves out whether the inks are inverted.
    let stored = if adobe_transform(bytes) == Some(2) { ColorSpace::YCCK } else { ColorSpace::CMYK };
    let options = super::jpeg::strictly().jpeg_set_out_colorspace(stored);
    let mut decoder = JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    let pixels = decoder.decode().ok()?;
    let (width, height) = decoder.dimensions()?;
    if pixels.len() != width * height * 4 {
        return None;
    }
    let light = light(stored, adobe_transform(bytes).is_some());
    let rgb = pixels.chunks_exact(4).flat_map(|p| light([p[0], p[1], p[2], p[3]])).collect();
    Some((rgb, u16::try_from(width).ok()?, u16::try_from(height).ok()?))
}

/// What a stored pixel looks like. Adobe's programs store all four values inverted (Adobe Technical Note 5116).
fn light(stored: ColorSpace, inverted: bool) -> impl Fn([u8; 4]) -> [u8; 3] {
    move |p| {
        let [c, m, y, k] = if stored == ColorSpace::YCCK { of_ycck(p) } else { p };
        let left = |v: u8| if inverted { u32::from(v) } else { 255 - u32::from(v) };
        [c, m, y].map(|ink| ((left(ink) * left(k) + 127) / 255) as u8)
    }
}

/// The stored inks of a pixel whose first three were inverted and turned to luma and two differences (ITU-T T.871, 7;
/// Adobe Technical Note 5116).
fn of_ycck([y, cb, cr, k]: [u8; 4]) -> [u8; 4] {
    let (y, cb, cr) = (f64::from(y), f64::from(cb) - 128.0, f64::from(cr) - 128.0);
    let round = |v: f64| 255 - v.round().clamp(0.0, 255.0) as u8;
    [round(y + 1.402 * cr), round(y - 0.344_136 * cb - 0.714_136 * cr), round(y + 1.772 * cb), k]
}

/// The transform that Adobe's segment names: 0 none, 2 YCCK; None without such a segment.
fn adobe_transform(bytes: &[u8]) -> Option<u8> {
    let mut at = 2;
    while let [0xFF, marker, high, low, ..] = bytes[at.min(bytes.len())..] {
        let end = at + 2 + usize::from(u16::from_be_bytes([high, low]));
        match (marker, bytes.get(at + 4..end)) {
            (0xDA, _) | (_, None) => return None,
            (0xEE, Some(body)) if body.starts_with(b"Adobe") => return body.get(11).copied(),
            _ => at = end,
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two fields of ink, eight pixels wide each, as jpeg-encoder writes them (with Adobe's segment, inverted).
    fn jpeg(kind: jpeg_encoder::ColorType) -> Vec<u8> {
        let row: Vec<u8> = (0..16).flat_map(|x| if x < 8 { [0, 200, 180, 20] } else { [180, 40, 0, 100] }).collect();
        let mut out = Vec::new();
        jpeg_encoder::Encoder::new(&mut out, 100).encode(&row.repeat(16), 16, 16, kind).unwrap();
        out
    }

    #[track_caller]
    fn is_near(rgb: &[u8], meant: [u8; 3]) {
        assert!(rgb.iter().zip(meant).all(|(a, b)| a.abs_diff(b) <= 4), "{rgb:?} {meant:?}");
    }

    #[test]
    fn inks_become_light_however_they_are_stored() {
        use jpeg_encoder::ColorType;
        for kind in [ColorType::Cmyk, ColorType::CmykAsYcck] {
            let (rgb, width, height) = decode(&jpeg(kind)).unwrap();
            assert_eq!((width, height, adobe_transform(&jpeg(kind)).is_some()), (16, 16, true));
            // (255 - ink) (255 - black) / 255.
            is_near(&rgb[..3], [235, 51, 69]);
            is_near(&rgb[45..48], [46, 131, 155]);
        }
    }

    #[test]
    fn without_the_segment_of_adobe_inks_are_not_inverted() {
        let adobe = jpeg(jpeg_encoder::ColorType::Cmyk);
        let at = adobe.windows(7).position(|w| w[..2] == [0xFF, 0xEE]).unwrap();
        let length = usize::from(u16::from_be_bytes([adobe[at + 2], adobe[at + 3]])) + 2;
        let plain = [&adobe[..at], &adobe[at + length..]].concat();
        let (rgb, ..) = decode(&plain).unwrap();
        // What was stored as its inverse is now the ink itself: (255 - (255 - ink)) (255 - (255 - black)) / 255.
        is_near(&rgb[..3], [0, 16, 14]);
    }

    #[test]
    fn how_it_is_turned_stays() {
        let screen = to_screen(&jpeg(jpeg_encoder::ColorType::Cmyk), 6).unwrap();
        let exif = exif::Reader::new().read_from_container(&mut std::io::Cursor::new(&screen)).unwrap();
        assert_eq!(exif.fields().next().unwrap().value.get_uint(0), Some(6));
    }

    #[test]
    fn what_is_broken_is_none() {
        let whole = jpeg(jpeg_encoder::ColorType::Cmyk);
        for cut in 0..whole.len().min(700) {
            let _ = to_screen(&whole[..cut], 1);
        }
        assert!(to_screen(&whole[..60], 1).is_none());
    }
}
