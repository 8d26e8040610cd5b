//! Colour profiles (ICC.1:2022) without what they tell of a device, a person or a day.
//!
//! A profile decides how a photograph looks, so it stays; but programs write into it which screen it was made for, down to
//! the serial number, and when.
//!
//! Owns: which parts of a profile decide colours. Must not know: in what kind of file it stands.

use super::limits::LARGEST_PROFILE;

/// Tags that turn pixels into colours (ICC.1:2022, 8.3 and 9.2), and the licence of the profile, which goes with it.
const KEPT: [&[u8; 4]; 18] = [
    b"wtpt", b"bkpt", b"chad", b"rXYZ", b"gXYZ", b"bXYZ", b"rTRC", b"gTRC", b"bTRC", b"kTRC", b"A2B0", b"A2B1",
    b"A2B2", b"B2A0", b"B2A1", b"B2A2", b"cicp", b"cprt",
];
/// The longest licence that is kept, in bytes.
const LONGEST_LICENCE: usize = 1024;
/// What the profile is called then. A name is asked for (ICC.1:2022, 8.2).
const NAME: &str = "colours of a photograph";
const HEAD: usize = 128;

/// The profile as it may be carried; None where it is no profile that can be followed.
pub(super) fn cleaned(profile: &[u8]) -> Option<Vec<u8>> {
    let number = |at: usize| {
        let bytes: &[u8; 4] = profile.get(at..)?.first_chunk()?;
        usize::try_from(u32::from_be_bytes(*bytes)).ok()
    };
    if profile.len() > LARGEST_PROFILE || profile.get(36..40)? != b"acsp" {
        return None;
    }
    let version = *profile.get(8)?;
    let count = number(HEAD)?;
    if count > 100 {
        return None;
    }
    let mut tags: Vec<(&[u8], &[u8])> = Vec::new();
    for entry in 0..count {
        let at = HEAD + 4 + entry * 12;
        let (name, offset, size) = (profile.get(at..at + 4)?, number(at + 4)?, number(at + 8)?);
        let data = profile.get(offset..offset.checked_add(size)?)?;
        let is_kept = KEPT.iter().any(|k| *k == name) && !(name == b"cprt" && size > LONGEST_LICENCE);
        if is_kept && tags.iter().all(|(known, _)| *known != name) {
            tags.push((name, data));
        }
    }
    let name = if version < 4 { older_name() } else { newer_name() };
    tags.push((b"desc", &name));
    write(profile.get(..HEAD)?, &tags)
}

fn write(head: &[u8], tags: &[(&[u8], &[u8])]) -> Option<Vec<u8>> {
    let mut out = head.to_vec();
    // The program, the day, the system; maker, model and look of the device; who made it; its digest. All may be left
    // open (ICC.1:2022, 7.2).
    for open in [4..8, 24..36, 40..44, 48..64, 80..128] {
        out.get_mut(open)?.fill(0);
    }
    out.extend(u32::try_from(tags.len()).ok()?.to_be_bytes());
    let mut data: Vec<u8> = Vec::new();
    let first = HEAD + 4 + tags.len() * 12;
    // Curves of the three colours are often one and the same.
    let mut written: Vec<(&[u8], usize)> = Vec::new();
    for (name, bytes) in tags {
        let offset = match written.iter().find(|(known, _)| known == bytes) {
            Some(&(_, offset)) => offset,
            None => {
                data.resize(data.len().next_multiple_of(4), 0);
                let offset = first + data.len();
                data.extend_from_slice(bytes);
                written.push((bytes, offset));
                offset
            }
        };
        out.extend_from_slice(name);
        out.extend(u32::try_from(offset).ok()?.to_be_bytes());
        out.extend(u32::try_from(bytes.len()).ok()?.to_be_bytes());
    }
    data.resize(data.len().next_multiple_of(4), 0);
    out.extend(data);
    let size = u32::try_from(out.len()).ok()?.to_be_bytes();
    out.get_mut(..4)?.copy_from_slice(&size);
    Some(out)
}

/// The type `desc` of version 2 (ICC.1:2001-04, 6.5.17): ASCII, and no other script.
fn older_name() -> Vec<u8> {
    let mut out = b"desc\0\0\0\0".to_vec();
    out.extend((NAME.len() as u32 + 1).to_be_bytes());
    out.extend(NAME.bytes());
    out.extend([0; 1 + 4 + 4 + 2 + 1 + 67]);
    out
}

/// The type `mluc` of version 4 (ICC.1:2022, 10.15): one text in UTF-16.
fn newer_name() -> Vec<u8> {
    let mut out = b"mluc\0\0\0\0\0\0\0\x01\0\0\0\x0CenUS".to_vec();
    out.extend((NAME.len() as u32 * 2).to_be_bytes());
    out.extend(28u32.to_be_bytes());
    out.extend(NAME.encode_utf16().flat_map(u16::to_be_bytes));
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A profile of three curves and points, with the notes of a screen.
    pub(crate) fn noted(version: u8) -> Vec<u8> {
        let mut head = vec![0u8; HEAD];
        head[8] = version;
        head[12..24].copy_from_slice(b"mntrRGB XYZ ");
        head[24..36].copy_from_slice(&[7, 0xE9, 0, 5, 0, 4, 0, 3, 0, 2, 0, 1]);
        head[36..40].copy_from_slice(b"acsp");
        head[48..56].copy_from_slice(b"MAKRMODL");
        let curve = b"curv\0\0\0\0\0\0\0\x01\x02\x33";
        let point = b"XYZ \0\0\0\0\0\0\x6F\xA2\0\0\x38\xF5\0\0\x03\x90";
        let mut tags: Vec<(&[u8], &[u8])> =
            vec![(b"mmod", b"mmod\0\0\0\0serial 4711"), (b"desc", b"desc\0\0\0\0 of nobody")];
        tags.extend([&b"rXYZ"[..], b"gXYZ", b"bXYZ", b"wtpt"].map(|n| (n, &point[..])));
        tags.extend([&b"rTRC"[..], b"gTRC", b"bTRC"].map(|n| (n, &curve[..])));
        let mut out = write(&head, &tags).unwrap();
        out[24..64].copy_from_slice(&head[24..64]);
        out
    }

    #[test]
    fn what_decides_colours_stays_and_the_device_goes() {
        for version in [2, 4] {
            let noted = noted(version);
            assert!(noted.windows(11).any(|w| w == b"serial 4711"));
            let clean = cleaned(&noted).unwrap();
            for gone in [&b"serial"[..], b"mmod", b"nobody", b"MAKR", b"\x07\xE9\0\x05"] {
                assert!(!clean.windows(gone.len()).any(|w| w == gone), "{gone:?}");
            }
            for kept in [&b"rXYZ"[..], b"gTRC", b"wtpt", b"desc", b"\0\0\x6F\xA2\0\0\x38\xF5"] {
                assert!(clean.windows(kept.len()).any(|w| w == kept), "{kept:?}");
            }
            assert_eq!(clean.len(), u32::from_be_bytes(*clean.first_chunk().unwrap()) as usize);
            assert_eq!(cleaned(&clean).as_ref(), Some(&clean), "once is for good");
        }
    }

    #[test]
    fn what_is_no_profile_is_left_out() {
        let noted = noted(2);
        for cut in 0..noted.len() {
            let _ = cleaned(&noted[..cut]);
        }
        assert!(cleaned(&noted[..200]).is_none() && cleaned(b"").is_none() && cleaned(&[0; 500]).is_none());
    }
}
