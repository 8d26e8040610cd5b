//! PNG: size, whether the picture is whole, and the picture without its notes (ISO/IEC 15948).
//!
//! Owns: reading a PNG under limits. Must not know: where it is shown.

use std::io::{Cursor, Read as _};

use super::limits::{LARGEST_PROFILE, MOST_PIXELS};
use super::{FigureFault, icc};

pub(super) const SIGNATURE: &[u8; 8] = b"\x89PNG\r\n\x1a\n";
/// The longest row that is read, in bytes, and what else the decoder may hold.
const MOST_BYTES: usize = 64 << 20;

/// The size of a PNG in pixels, and the file as it may be shown: the chunks that decide how it looks and no other. The
/// whole picture is decoded, a row at a time.
pub(super) fn read(bytes: &[u8]) -> Result<(u32, u32, Vec<u8>), FigureFault> {
    // The size stands at a fixed place in the first chunk; a size beyond the limit is refused before anything is read.
    let number = |at: usize| bytes.get(at..at + 4).map(|b| u32::from_be_bytes([b[0], b[1], b[2], b[3]]));
    let (Some(width), Some(height)) = (number(16), number(20)) else { return Err(broken()) };
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        return Err(FigureFault::too_large(width.into(), height.into()));
    }
    let clean = without_notes(bytes)?;
    let mut reader = decoder(&clean).read_info().map_err(|_| broken())?;
    while reader.next_row().map_err(|_| broken())?.is_some() {}
    reader.finish().map_err(|_| broken())?;
    Ok((width, height, clean))
}

pub(super) fn decoder(bytes: &[u8]) -> png::Decoder<Cursor<&[u8]>> {
    png::Decoder::new_with_limits(Cursor::new(bytes), png::Limits { bytes: MOST_BYTES })
}

fn broken() -> FigureFault {
    FigureFault::broken("PNG")
}

/// The chunks of a PNG, each checked against its sum. None where they do not fit together up to the last.
fn chunks(bytes: &[u8]) -> Option<Vec<(&[u8; 4], &[u8])>> {
    let mut rest = bytes.strip_prefix(SIGNATURE)?;
    let mut found = Vec::new();
    loop {
        let length = usize::try_from(u32::from_be_bytes(*rest.first_chunk()?)).ok()?;
        let named = rest.get(4..length.checked_add(8)?)?;
        let mut sum = flate2::Crc::new();
        sum.update(named);
        if rest.get(length + 8..length + 12)? != sum.sum().to_be_bytes() {
            return None;
        }
        let (kind, data) = named.split_first_chunk::<4>()?;
        found.push((kind, data));
        if kind == b"IEND" {
            return Some(found);
        }
        rest = rest.get(length + 12..)?;
    }
}

/// The picture with the chunks that decide how it looks: no texts, no Exif, no date, nothing behind the end.
fn without_notes(bytes: &[u8]) -> Result<Vec<u8>, FigureFault> {
    let chunks = chunks(bytes).ok_or_else(broken)?;
    let head = chunks.first().filter(|(kind, data)| *kind == b"IHDR" && data.len() == 13).ok_or_else(broken)?.1;
    let (depth, color) = (head[8], head[9]);
    let mut out = Vec::with_capacity(bytes.len());
    out.extend_from_slice(SIGNATURE);
    let (mut colours, mut data_ended, mut seen) = (0, false, Vec::<&[u8; 4]>::new());
    for (kind, data) in &chunks {
        let has = |kind: &[u8; 4]| seen.contains(&kind);
        let (first, before_data) = (!has(kind), !has(b"IDAT"));
        data_ended |= !before_data && *kind != b"IDAT";
        match *kind {
            b"IHDR" if first => put(&mut out, kind, data),
            b"PLTE" => {
                // 11.2.2: whole colours, not more than the depth can name.
                let most = if color == 3 { 1usize << depth.min(8) } else { 256 };
                colours = data.len() / 3;
                let fits = first && before_data && data.len() % 3 == 0 && (1..=most).contains(&colours);
                if !fits || matches!(color, 0 | 4) {
                    return Err(broken());
                }
                put(&mut out, kind, data);
            }
            b"IDAT" if data_ended => return Err(broken()),
            b"IDAT" if color == 3 && colours == 0 => return Err(broken()),
            b"IDAT" | b"IEND" => put(&mut out, kind, data),
            b"tRNS" => {
                // 11.3.1.1
                let fits = match color {
                    0 => data.len() == 2,
                    2 => data.len() == 6,
                    3 => (1..=colours).contains(&data.len()),
                    _ => false,
                };
                if !fits || !first || !before_data {
                    return Err(broken());
                }
                put(&mut out, kind, data);
            }
            b"gAMA" if data.len() == 4 && first && before_data && colours == 0 => put(&mut out, kind, data),
            b"cHRM" if data.len() == 32 && first && before_data && colours == 0 => put(&mut out, kind, data),
            b"sRGB" if data.len() == 1 && first && before_data && colours == 0 => put(&mut out, kind, data),
            b"cICP" if data.len() == 4 && first && before_data && colours == 0 => put(&mut out, kind, data),
            b"iCCP" if first && before_data && colours == 0 => {
                if let Some(clean) = profile(data) {
                    put(&mut out, kind, &clean);
                }
            }
            b"acTL" => {
                return Err(FigureFault::new("the picture moves, and paper does not", "save one frame of it as PNG"));
            }
            // 5.4: a reader must know every chunk whose name begins with a capital.
            kind if kind[0].is_ascii_uppercase() => return Err(broken()),
            _ => {}
        }
        seen.push(kind);
    }
    Ok(out)
}

fn put(out: &mut Vec<u8>, kind: &[u8; 4], data: &[u8]) {
    out.extend_from_slice(&(data.len() as u32).to_be_bytes());
    let start = out.len();
    out.extend_from_slice(kind);
    out.extend_from_slice(data);
    let mut sum = flate2::Crc::new();
    sum.update(&out[start..]);
    out.extend_from_slice(&sum.sum().to_be_bytes());
}

/// A chunk with a colour profile (11.3.2.3), its name and its notes taken out; None where it can't be followed.
fn profile(data: &[u8]) -> Option<Vec<u8>> {
    let end = data.iter().take(80).position(|b| *b == 0)?;
    let packed = data.get(end + 1..)?.strip_prefix(b"\0")?;
    let mut unpacked = Vec::new();
    flate2::read::ZlibDecoder::new(packed).take(LARGEST_PROFILE as u64 + 1).read_to_end(&mut unpacked).ok()?;
    let clean = icc::cleaned(&unpacked)?;
    let mut out = b"profile\0\0".to_vec();
    let mut encoder = flate2::write::ZlibEncoder::new(&mut out, flate2::Compression::best());
    std::io::Write::write_all(&mut encoder, &clean).ok()?;
    encoder.finish().ok()?;
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A PNG of one row with these chunks between its head and its data.
    fn with(depth: u8, color: u8, between: &[(&[u8; 4], &[u8])], behind: &[u8]) -> Vec<u8> {
        let mut out = SIGNATURE.to_vec();
        put(&mut out, b"IHDR", &[0, 0, 0, 4, 0, 0, 0, 1, depth, color, 0, 0, 0]);
        for (kind, data) in between {
            put(&mut out, kind, data);
        }
        let samples = if color == 2 { 3 } else { 1 };
        let row = vec![0u8; 1 + (4 * samples * usize::from(depth)).div_ceil(8)];
        let mut packed = Vec::new();
        let mut encoder = flate2::write::ZlibEncoder::new(&mut packed, flate2::Compression::fast());
        std::io::Write::write_all(&mut encoder, &row).unwrap();
        encoder.finish().unwrap();
        put(&mut out, b"IDAT", &packed);
        put(&mut out, b"IEND", b"");
        out.extend_from_slice(behind);
        out
    }

    #[test]
    fn notes_and_what_hangs_behind_are_left_out() {
        let notes: [(&[u8; 4], &[u8]); 6] = [
            (b"tEXt", b"Author\0Nobody"),
            (b"iTXt", b"XML:com.adobe.xmp\0\0\0\0\0<x:xmpmeta>Nobody</x:xmpmeta>"),
            (b"eXIf", b"MM\0*\0\0\0\x08\0\0\0\0\0\0"),
            (b"tIME", &[7, 0xE9, 1, 2, 3, 4, 5]),
            (b"pHYs", &[0, 0, 1, 0, 0, 0, 1, 0, 1]),
            (b"gAMA", &45_455u32.to_be_bytes()),
        ];
        let (width, height, clean) = read(&with(8, 2, &notes, b"Nobody again")).unwrap();
        assert_eq!((width, height), (4, 1));
        assert_eq!(clean, with(8, 2, &notes[5..], b""));
        assert_eq!(read(&clean).unwrap().2, clean);
    }

    #[test]
    fn a_colour_table_of_a_wrong_length_is_broken() {
        for (depth, color, table, good) in [
            (8, 3, 3, true),
            (8, 3, 768, true),
            (2, 3, 12, true),
            (8, 3, 4, false),
            (8, 3, 0, false),
            (8, 3, 771, false),
            (2, 3, 15, false),
            (8, 0, 3, false),
            (8, 2, 3, true),
        ] {
            let bytes = with(depth, color, &[(b"PLTE", &vec![9; table])], b"");
            assert_eq!(read(&bytes).is_ok(), good, "{depth} {color} {table}");
        }
        assert!(read(&with(8, 3, &[], b"")).is_err(), "without its table");
        let see_through = |n: usize| read(&with(8, 3, &[(b"PLTE", &[9; 6]), (b"tRNS", &vec![9; n])], b"")).is_ok();
        assert_eq!([1, 2, 3].map(see_through), [true, true, false]);
    }

    #[test]
    fn an_unknown_chunk_that_must_be_known_is_refused() {
        assert!(read(&with(8, 2, &[(b"ABCD", b"x")], b"")).is_err());
        assert!(read(&with(8, 2, &[(b"abCD", b"x")], b"")).is_ok());
    }
}
