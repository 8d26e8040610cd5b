//! JPEG: size and orientation, and whether the picture is whole (ISO/IEC 10918-1, Exif 2.32).
//!
//! Owns: reading a JPEG under limits. Must not know: where it is shown.

use super::probe::MOST_PIXELS;
use super::{FigureFault, FigureFile, FigureKind, press};

/// The largest picture in the four inks of a press that is converted, in pixels.
const DECODED: u64 = 40_000_000;

/// The size of a JPEG in pixels as it is shown, turned as its Exif note says, and the file as it may be shown: without
/// its notes, in the colours of a screen.
///
/// The structure is followed to the end mark, so a picture cut off is found here. Damage inside the coded data shows
/// when the picture is decoded for print.
pub(super) fn read(bytes: &[u8]) -> Result<(u32, u32, Vec<u8>), FigureFault> {
    let (width, height, components, rest) = frame(bytes).ok_or_else(|| FigureFault::broken("JPEG"))?;
    let pixels = u64::from(width) * u64::from(height);
    if pixels > MOST_PIXELS {
        return Err(FigureFault::too_large(width.into(), height.into()));
    }
    if components == 4 && pixels > DECODED {
        return Err(FigureFault::new(
            "the picture has the four colours of a printing press and is too large to be converted",
            format!("save it as RGB, or with up to {} million pixels", DECODED / 1_000_000),
        ));
    }
    if !ends(bytes, rest) {
        return Err(FigureFault::broken("JPEG"));
    }
    let orientation = exif_orientation(bytes);
    let (width, height) = (u32::from(width), u32::from(height));
    let (wide, high) = if orientation >= 5 { (height, width) } else { (width, height) };
    if components == 4 {
        let screen = press::to_screen(bytes, orientation).ok_or_else(|| FigureFault::broken("JPEG"))?;
        return Ok((wide, high, screen));
    }
    Ok((wide, high, without_notes(bytes)))
}

/// How the pixels of a picture lie against the picture as shown: the Exif values 1 (as shown) to 8. Only a JPEG is
/// turned; every other picture is 1.
pub fn orientation(figure: &FigureFile) -> u8 {
    if figure.kind == FigureKind::Jpeg { exif_orientation(&figure.bytes) } else { 1 }
}

fn exif_orientation(bytes: &[u8]) -> u8 {
    let Some(note) = segments(bytes).find_map(|(s, _)| s.strip_prefix(b"\xFF\xE1")?[2..].strip_prefix(b"Exif\0\0"))
    else {
        return 1;
    };
    let exif = exif::Reader::new().read_raw(note.to_vec());
    let value = exif
        .ok()
        .and_then(|e| e.get_field(exif::Tag::Orientation, exif::In::PRIMARY).and_then(|f| f.value.get_uint(0)));
    value.and_then(|v| u8::try_from(v).ok()).filter(|v| (1..=8).contains(v)).unwrap_or(1)
}

/// The segments up to the first scan, each with its marker, and where it ends; fewer where they do not fit together.
fn segments(bytes: &[u8]) -> impl Iterator<Item = (&[u8], usize)> {
    let mut at = 2;
    std::iter::from_fn(move || {
        // A marker may stand behind any number of these.
        while bytes.get(at..at + 2) == Some(&[0xFF; 2]) {
            at += 1;
        }
        let [0xFF, marker, high, low, ..] = bytes[at.min(bytes.len())..] else { return None };
        let length = usize::from(u16::from_be_bytes([high, low]));
        let fits = marker != 0xDA && (0xC0..=0xFE).contains(&marker) && !(0xD0..=0xD9).contains(&marker) && length >= 2;
        let segment = bytes.get(at..at + 2 + length).filter(|_| fits)?;
        at += segment.len();
        Some((segment, at))
    })
}

/// The picture without what a camera noted beside it: place, time, owner, small pictures, comments. What decides how
/// it looks stays: how it is turned, its colour profile, how its colours are coded.
fn without_notes(bytes: &[u8]) -> Vec<u8> {
    let mut out = Vec::with_capacity(bytes.len());
    out.extend_from_slice(&bytes[..2.min(bytes.len())]);
    let mut turned = exif_orientation(bytes);
    let mut at = 2;
    // From the first scan on, and where segments do not fit together, all stays as it is.
    for (segment, end) in segments(bytes) {
        let marker = segment[1];
        let note = match marker {
            0xE0 | 0xEE => false,
            0xE2 => !segment[4..].starts_with(b"ICC_PROFILE\0"),
            0xE1..=0xEF | 0xFE => true,
            _ => false,
        };
        // An application's first segment comes first; the note of how it is turned goes behind it.
        if turned > 1 && marker != 0xE0 {
            out.extend_from_slice(b"\xFF\xE1\0\x22Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0");
            out.extend_from_slice(&[turned, 0, 0, 0, 0, 0, 0]);
            turned = 1;
        }
        if !note {
            out.extend_from_slice(segment);
        }
        at = end;
    }
    out.extend_from_slice(&bytes[at.min(bytes.len())..]);
    out
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
                let b: &[u8; 8] = bytes.get(at + 2..)?.first_chunk()?;
                let number = |at: usize| u16::from_be_bytes([b[at], b[at + 1]]);
                let (length, height, width) = (number(0), number(3), number(5));
                return (width > 0 && height > 0).then_some((width, height, b[7], at + 2 + usize::from(length.max(2))));
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

/// Whether at least one scan follows from `at` on and the end mark after the last (ISO/IEC 10918-1, B.1.1 and B.2).
fn ends(bytes: &[u8], mut at: usize) -> bool {
    let mut scans = 0;
    while let Some(found) = bytes.get(at..).and_then(|rest| memchr::memchr(0xFF, rest)) {
        // Between segments nothing stands; in coded data anything does.
        if found > 0 && scans == 0 {
            return false;
        }
        at += found;
        let Some(marker) = bytes.get(at + 1) else { return false };
        at += match marker {
            0xFF => 1,
            // Of coded data: a stuffed zero, a restart.
            0x00 | 0xD0..=0xD7 if scans > 0 => 2,
            0xD9 => return scans > 0,
            0xC4 | 0xDA..=0xDD | 0xE0..=0xEF | 0xFE => {
                scans += usize::from(*marker == 0xDA);
                let Some(&[high, low]) = bytes.get(at + 2..at + 4).and_then(|b| b.first_chunk()) else { return false };
                2 + usize::from(u16::from_be_bytes([high, low])).max(2)
            }
            _ => return false,
        };
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A picture of 2 x 2 as jpeg-encoder writes it, with an Exif note of orientation and place, and a comment.
    fn noted(orientation: u8) -> Vec<u8> {
        let mut plain = Vec::new();
        jpeg_encoder::Encoder::new(&mut plain, 90).encode(&[200; 12], 2, 2, jpeg_encoder::ColorType::Rgb).unwrap();
        let mut tiff = b"MM\0*\0\0\0\x08\0\x02\x01\x12\0\x03\0\0\0\x01\0".to_vec();
        tiff.extend([orientation, 0, 0]);
        // Where it was taken: GPSInfo leads to GPSLatitudeRef (Exif 2.32, 4.6.6).
        tiff.extend(b"\x88\x25\0\x04\0\0\0\x01\0\0\0\x26\0\0\0\0\0\x01\0\x01\0\x02\0\0\0\x02N\0\0\0\0\0\0\0");
        let mut out = b"\xFF\xD8".to_vec();
        for (marker, body) in [(0xE1, [b"Exif\0\0", &tiff[..]].concat()), (0xFE, b"by nobody".to_vec())] {
            out.extend([0xFF, marker]);
            out.extend((body.len() as u16 + 2).to_be_bytes());
            out.extend(body);
        }
        out.extend(&plain[2..]);
        out
    }

    fn tags(bytes: &[u8]) -> Vec<String> {
        let exif = exif::Reader::new().read_from_container(&mut std::io::Cursor::new(bytes));
        exif.map_or_else(|_| Vec::new(), |e| e.fields().map(|f| f.tag.to_string()).collect())
    }

    #[test]
    fn only_how_a_picture_is_turned_stays_of_its_notes() {
        let noted = noted(6);
        assert_eq!(tags(&noted), ["Orientation", "GPSLatitudeRef"]);
        let plain = without_notes(&noted);
        assert_eq!(tags(&plain), ["Orientation"]);
        assert_eq!((exif_orientation(&plain), read(&noted).unwrap()), (6, (2, 2, plain.clone())));
        assert!(!plain.windows(9).any(|w| w == b"by nobody"));
        assert_eq!(without_notes(&plain), plain);
        // Any number of FF may stand before a marker (ISO/IEC 10918-1, B.1.1.2).
        let filled = [&noted[..2], &[0xFF; 3], &noted[2..]].concat();
        assert_eq!((without_notes(&filled), read(&filled).unwrap()), (plain.clone(), (2, 2, plain)));
    }

    #[test]
    fn a_picture_is_followed_to_its_end_mark() {
        let whole = noted(1);
        assert_eq!(read(&whole).map(|(wide, high, _)| (wide, high)).unwrap(), (2, 2));
        for cut in 0..whole.len() {
            assert!(read(&whole[..cut]).is_err(), "cut at {cut} of {}", whole.len());
        }
        let scan = whole.windows(2).rposition(|w| w == [0xFF, 0xDA]).unwrap();
        let mut other = whole.clone();
        other[scan + 1] = 0xC8;
        assert!(read(&other).is_err(), "a reserved mark in place of the scan");
        let mut none = whole[..scan].to_vec();
        none.extend([0xFF, 0xD9]);
        assert!(read(&none).is_err(), "an end without any scan");
    }

    #[test]
    fn a_picture_without_notes_stays_as_it_is() {
        let plain = without_notes(&noted(1));
        assert!(tags(&plain).is_empty() && read(&plain).is_ok());
        assert_eq!(without_notes(&plain), plain);
        for cut in 0..plain.len() {
            assert_eq!(without_notes(&plain[..cut]), &plain[..cut], "{cut}");
        }
    }
}
