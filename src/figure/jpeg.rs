//! JPEG: size and orientation, whether the picture is whole, and the picture without its notes (ISO/IEC 10918-1, Exif 2.32).
//!
//! Owns: reading a JPEG under limits. Must not know: where it is shown.

mod bits;
mod coded;

use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::options::DecoderOptions;

use super::limits::{MOST_PIXELS, MOST_SCANNED};
use super::{FigureFault, FigureFile, FigureKind, icc, press};

/// The largest picture in the four inks of a press that is converted, in pixels.
const MOST_PRESSED: u64 = 40_000_000;
const PROFILE: &[u8] = b"ICC_PROFILE\0";

/// The size of a JPEG in pixels as it is shown, turned as its Exif note says, and the file as it may be shown: without
/// its notes, in the colours of a screen.
///
/// The whole picture is decoded, strictly: what a browser or a reader of PDF would have to guess is broken.
pub(super) fn read(bytes: &[u8]) -> Result<(u32, u32, Vec<u8>), FigureFault> {
    let parts = parts(bytes)?;
    let (width, height) = (u32::from(parts.width), u32::from(parts.height));
    let pixels = u64::from(width) * u64::from(height);
    if pixels > MOST_PIXELS {
        return Err(FigureFault::too_large(width.into(), height.into()));
    }
    if parts.components == 4 && pixels > MOST_PRESSED {
        return Err(FigureFault::new(
            "the picture has the four colours of a printing press and is too large to be converted",
            format!("save it as RGB, or with up to {} million pixels", MOST_PRESSED / 1_000_000),
        ));
    }
    if pixels.saturating_mul(parts.scans) > MOST_SCANNED {
        return Err(FigureFault::new(
            format!("the JPEG picture is coded in {} scans, too many for its size", parts.scans),
            "save it again from a picture program, not as a progressive JPEG",
        ));
    }
    let turn = parts.turn;
    let (wide, high) = if turn >= 5 { (height, width) } else { (width, height) };
    let is_pressed = parts.components == 4;
    whole(&parts.steps).ok_or_else(broken)?;
    let clean = parts.put_together();
    if is_pressed {
        let screen = press::to_screen(&clean, turn).ok_or_else(broken)?;
        return Ok((wide, high, screen));
    }
    let mut decoder = JpegDecoder::new_with_options(ZCursor::new(&clean), strictly());
    let decoded = decoder.decode().map_err(|_| broken())?;
    if decoder.dimensions() != Some((width as usize, height as usize)) || decoded.is_empty() {
        return Err(broken());
    }
    Ok((wide, high, clean))
}

/// Reads all coded data. None where some of it is missing or can't be.
fn whole(steps: &[Step<'_>]) -> Option<()> {
    let mut coded = coded::Coded::default();
    for step in steps {
        match step.marker {
            0xC0..=0xC2 => coded.frame(step.marker, step.body)?,
            0xC4 => coded.tables(step.body)?,
            0xDD => coded.restarts(step.body)?,
            0xDA => coded.scan(step.body, step.data)?,
            _ => {}
        }
    }
    coded.is_complete().then_some(())
}

/// How a picture is decoded to find out whether it is whole.
pub(super) fn strictly() -> DecoderOptions {
    DecoderOptions::default().set_strict_mode(true).set_max_width(0xFFFF).set_max_height(0xFFFF)
}

fn broken() -> FigureFault {
    FigureFault::broken("JPEG")
}

fn unusual(what: &str) -> FigureFault {
    FigureFault::new(
        format!("the JPEG picture is {what}, which readers of PDF do not show"),
        "save it again from a picture program as an ordinary JPEG",
    )
}

/// How the pixels of a picture lie against the picture as shown: the Exif values 1 (as shown) to 8. Only a JPEG is
/// turned; every other picture is 1.
pub fn orientation(figure: &FigureFile) -> u8 {
    if figure.kind == FigureKind::Jpeg { turn(&figure.bytes) } else { 1 }
}

/// The same of the bytes of a JPEG that was found whole.
fn turn(bytes: &[u8]) -> u8 {
    parts(bytes).map_or(1, |p| p.turn)
}

/// A JPEG that was found whole as readers of PDF take it: turned by them, so without the note of it.
pub(super) struct Bare {
    /// Size as stored.
    pub width: u32,
    pub height: u32,
    pub components: u8,
    pub turn: u8,
    pub bytes: Vec<u8>,
}

pub(super) fn bare(bytes: &[u8]) -> Result<Bare, FigureFault> {
    let parts = parts(bytes)?;
    let (width, height, components, turn) = (parts.width.into(), parts.height.into(), parts.components, parts.turn);
    Ok(Bare { width, height, components, turn, bytes: Parts { turn: 1, ..parts }.put_together() })
}

/// What a JPEG is made of, without notes: place, time, owner, small pictures, comments, what hangs behind its end.
struct Parts<'a> {
    width: u16,
    height: u16,
    components: u8,
    scans: u64,
    turn: u8,
    /// Version and density of the JFIF segment (ITU-T T.871, 10.1), without its small picture.
    jfif: Option<[u8; 7]>,
    /// Version, flags and transform of Adobe's segment (Adobe Technical Note 5116).
    adobe: Option<[u8; 7]>,
    profile: Vec<u8>,
    /// Tables, frame and scans as they stand.
    coded: Vec<u8>,
    steps: Vec<Step<'a>>,
}

/// A table, the frame or a scan: its marker, what stands in its segment, and of a scan its data.
struct Step<'a> {
    marker: u8,
    body: &'a [u8],
    data: &'a [u8],
}

impl Parts<'_> {
    fn put_together(self) -> Vec<u8> {
        let mut out = b"\xFF\xD8".to_vec();
        if let Some(jfif) = self.jfif {
            out.extend_from_slice(b"\xFF\xE0\0\x10JFIF\0");
            out.extend_from_slice(&jfif);
            out.extend_from_slice(&[0, 0]);
        }
        if self.turn > 1 {
            out.extend_from_slice(b"\xFF\xE1\0\x22Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0");
            out.extend_from_slice(&[self.turn, 0, 0, 0, 0, 0, 0]);
        }
        // ICC.1:2022, B.4: a profile stands in up to 255 numbered pieces.
        let pieces: Vec<&[u8]> = self.profile.chunks(65_519).collect();
        if let Ok(count) = u8::try_from(pieces.len()) {
            for (number, piece) in (1..=count).zip(pieces) {
                out.extend_from_slice(b"\xFF\xE2");
                out.extend_from_slice(&(piece.len() as u16 + 16).to_be_bytes());
                out.extend_from_slice(PROFILE);
                out.extend_from_slice(&[number, count]);
                out.extend_from_slice(piece);
            }
        }
        if let Some(adobe) = self.adobe {
            out.extend_from_slice(b"\xFF\xEE\0\x0EAdobe");
            out.extend_from_slice(&adobe);
        }
        out.extend_from_slice(&self.coded);
        out.extend_from_slice(b"\xFF\xD9");
        out
    }
}

/// Takes a JPEG apart, from its first mark to its end mark (ISO/IEC 10918-1, B.1.1 and B.2).
fn parts(bytes: &[u8]) -> Result<Parts<'_>, FigureFault> {
    let mut parts = Parts {
        width: 0,
        height: 0,
        components: 0,
        scans: 0,
        turn: 1,
        jfif: None,
        adobe: None,
        profile: Vec::new(),
        coded: Vec::new(),
        steps: Vec::new(),
    };
    let mut profile: Vec<(u8, &[u8])> = Vec::new();
    let mut exif = None;
    let mut at = 2;
    loop {
        if bytes.get(at) != Some(&0xFF) {
            return Err(broken());
        }
        let marker = *bytes.get(at + 1).ok_or_else(broken)?;
        match marker {
            // Any number of these may stand before a marker.
            0xFF => {
                at += 1;
                continue;
            }
            0xD9 if parts.scans > 0 => break,
            0xC0..=0xFE if !(0xD0..=0xD9).contains(&marker) => {}
            _ => return Err(broken()),
        }
        let length = bytes.get(at + 2..at + 4).map(|l| usize::from(u16::from_be_bytes([l[0], l[1]])));
        let segment = length.filter(|l| *l >= 2).and_then(|l| bytes.get(at..at + 2 + l)).ok_or_else(broken)?;
        let body = &segment[4..];
        at += segment.len();
        match marker {
            0xC0..=0xC2 => parts.frame(body)?,
            0xC3 | 0xC5..=0xC7 | 0xC9..=0xCB | 0xCD..=0xCF => return Err(unusual("coded in a rare way")),
            0xC4 | 0xDB | 0xDD => {}
            0xDA => {
                if parts.components == 0 {
                    return Err(broken());
                }
                parts.scans += 1;
                parts.coded.extend_from_slice(segment);
                let end = end_of_scan(bytes, at).ok_or_else(broken)?;
                let data = bytes.get(at..end).ok_or_else(broken)?;
                parts.coded.extend_from_slice(data);
                parts.steps.push(Step { marker, body, data });
                at = end;
                continue;
            }
            0xE0 => {
                let found = body.strip_prefix(b"JFIF\0").and_then(|b| b.first_chunk::<7>());
                parts.jfif = parts.jfif.or(found.copied());
            }
            0xE1 => exif = exif.or(body.strip_prefix(b"Exif\0\0")),
            0xE2 => {
                if let Some([number, _, piece @ ..]) = body.strip_prefix(PROFILE) {
                    profile.push((*number, piece));
                }
            }
            0xEE => {
                let found = body.strip_prefix(b"Adobe").and_then(|b| b.first_chunk::<7>());
                parts.adobe = parts.adobe.or(found.copied());
            }
            0xE3..=0xEF | 0xFE => {}
            _ => return Err(broken()),
        }
        if marker < 0xE0 {
            parts.coded.extend_from_slice(segment);
            parts.steps.push(Step { marker, body, data: &[] });
        }
    }
    parts.turn = exif.map_or(1, exif_turn);
    profile.sort_by_key(|(number, _)| *number);
    let profile: Vec<u8> = profile.into_iter().flat_map(|(_, piece)| piece).copied().collect();
    parts.profile = icc::cleaned(&profile).unwrap_or_default();
    Ok(parts)
}

impl Parts<'_> {
    /// The frame header: precision, height, width and the number of components (B.2.2).
    fn frame(&mut self, body: &[u8]) -> Result<(), FigureFault> {
        let &[precision, h1, h0, w1, w0, components, ref rest @ ..] = body else { return Err(broken()) };
        (self.height, self.width) = (u16::from_be_bytes([h1, h0]), u16::from_be_bytes([w1, w0]));
        let once = self.components == 0;
        if !once || self.width == 0 || self.height == 0 || rest.len() != usize::from(components) * 3 {
            return Err(broken());
        }
        if precision != 8 {
            return Err(unusual("coded with other than 8 bits a colour"));
        }
        if !matches!(components, 1 | 3 | 4) {
            return Err(unusual("of a number of colours other than one, three or four"));
        }
        self.components = components;
        Ok(())
    }
}

/// Where the coded data that begins at `at` ends: at the first marker that is neither a stuffed zero nor a restart.
fn end_of_scan(bytes: &[u8], mut at: usize) -> Option<usize> {
    loop {
        at += memchr::memchr(0xFF, bytes.get(at..)?)?;
        match bytes.get(at + 1)? {
            0x00 | 0xD0..=0xD7 => at += 2,
            0xFF => at += 1,
            _ => return Some(at),
        }
    }
}

fn exif_turn(note: &[u8]) -> u8 {
    let exif = exif::Reader::new().read_raw(note.to_vec()).ok();
    let field = exif.as_ref().and_then(|e| e.get_field(exif::Tag::Orientation, exif::In::PRIMARY));
    let value = field.and_then(|f| f.value.get_uint(0)).and_then(|v| u8::try_from(v).ok());
    value.filter(|v| (1..=8).contains(v)).unwrap_or(1)
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

    fn without_notes(bytes: &[u8]) -> Vec<u8> {
        parts(bytes).unwrap().put_together()
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
        assert_eq!((turn(&plain), read(&noted).unwrap()), (6, (2, 2, plain.clone())));
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
    }

    /// A segment with its marker and length.
    fn segment(marker: u8, body: &[u8]) -> Vec<u8> {
        [&[0xFF, marker][..], &(body.len() as u16 + 2).to_be_bytes(), body].concat()
    }

    #[test]
    fn notes_are_found_wherever_they_stand() {
        let plain = without_notes(&noted(1));
        let scan = plain.windows(2).rposition(|w| w == [0xFF, 0xDA]).unwrap();
        let spoilt = [
            &plain[..2],
            &segment(0xE0, b"JFIF\0\x01\x02\0\0\x01\0\x01\x01\x01\x41\x42\x43"),
            &segment(0xE0, b"JFXX\0\x10thumb"),
            &segment(0xE1, b"http://ns.adobe.com/xap/1.0/\0<x:xmpmeta/>"),
            &segment(0xE2, b"MPF\0II*\0"),
            &segment(0xED, b"Photoshop 3.0\0"),
            &plain[2..scan],
            &segment(0xFE, b"behind the frame"),
            &segment(0xEF, b"serial 4711"),
            &plain[scan..],
            b"a film, and a second picture",
        ]
        .concat();
        let (_, _, clean) = read(&spoilt).unwrap();
        for gone in [&b"JFXX"[..], b"ABC", b"xap", b"MPF", b"Photoshop", b"behind", b"4711", b"film"] {
            assert!(!clean.windows(gone.len()).any(|w| w == gone), "{gone:?}");
        }
        assert_eq!(clean, plain);
    }

    #[test]
    fn a_picture_whose_data_ends_early_is_broken() {
        let mut whole = Vec::new();
        let pixels: Vec<u8> = (0..64 * 64 * 3u32).map(|i| (i * i % 251) as u8).collect();
        jpeg_encoder::Encoder::new(&mut whole, 90).encode(&pixels, 64, 64, jpeg_encoder::ColorType::Rgb).unwrap();
        assert!(read(&whole).is_ok());
        // The end mark is there, and rows of the picture are not.
        for part in [2, 3, 4, 8] {
            let cut = [&whole[..whole.len() - whole.len() / part], b"\xFF\xD9"].concat();
            assert!(read(&cut).is_err(), "without 1/{part}");
        }
    }

    #[test]
    fn what_readers_of_pdf_do_not_show_is_refused() {
        let plain = without_notes(&noted(1));
        let frame = plain.windows(2).position(|w| w == [0xFF, 0xC0]).unwrap();
        for (at, to, said) in [(1, 0xC3, "a rare way"), (1, 0xC9, "a rare way"), (4, 12, "8 bits"), (9, 2, "broken")] {
            let mut other = plain.clone();
            other[frame + at] = to;
            let fault = read(&other).unwrap_err();
            assert!(fault.headline.contains(said), "{fault}");
        }
    }
}
