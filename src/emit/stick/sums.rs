//! Checksums in the format that `sha256sum` writes and reads.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use sha2::{Digest as _, Sha256};

use crate::source::hex;

/// The file of the checksums. It does not list itself.
pub const SUMS: &str = "SHA256SUMS.txt";

/// The checksum of the list itself: a list that lost its end would otherwise be taken for a short one.
pub const SUMS_CHECK: &str = "SHA256SUMS-check.txt";

/// Why a list of checksums can't be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SumsFault {
    /// From 1.
    pub line: usize,
    pub reason: &'static str,
}

/// A line a file: digest, two spaces, path.
pub fn write_sums(files: &BTreeMap<String, Vec<u8>>) -> String {
    let mut text = String::new();
    for (path, bytes) in files.iter().filter(|(path, _)| *path != SUMS && *path != SUMS_CHECK) {
        let _ = writeln!(text, "{}  {path}", hex(&Sha256::digest(bytes)));
    }
    text
}

/// The line for the list itself.
pub fn write_sums_check(sums: &str) -> String {
    format!("{}  {SUMS}\n", hex(&Sha256::digest(sums.as_bytes())))
}

/// The digest of what `read` gives, in hexadecimal signs.
///
/// # Errors
/// The system's words.
pub fn digest_of(mut read: impl std::io::Read) -> std::io::Result<String> {
    let mut hash = Sha256::new();
    let mut buffer = vec![0; 1 << 16];
    loop {
        match read.read(&mut buffer)? {
            0 => return Ok(hex(&hash.finalize())),
            n => hash.update(&buffer[..n]),
        }
    }
}

/// Reads a list of checksums: digests by path. A path that leaves the folder is refused.
///
/// # Errors
/// The first line that is none of the format.
pub fn read_sums(text: &str) -> Result<BTreeMap<String, String>, SumsFault> {
    let mut sums = BTreeMap::new();
    for (number, line) in text.lines().enumerate() {
        let fault = |reason| SumsFault { line: number + 1, reason };
        let line = line.trim_end_matches('\r');
        if line.is_empty() {
            continue;
        }
        let (digest, rest) = line.split_at_checked(64).ok_or(fault("it is too short"))?;
        // A star says that the file was read as bytes, which it is in any case.
        let path = rest.strip_prefix("  ").or_else(|| rest.strip_prefix(" *")).ok_or(fault("it has no file name"))?;
        if !digest.bytes().all(|b| b.is_ascii_hexdigit()) {
            return Err(fault("it does not begin with a digest"));
        }
        let leaves = path.starts_with('/') || path.contains(['\\', '\0', ':']);
        if leaves || path.split('/').any(|part| part.is_empty() || part == "." || part == "..") {
            return Err(fault("its file name leaves the folder"));
        }
        if sums.insert(path.to_owned(), digest.to_ascii_lowercase()).is_some() {
            return Err(fault("its file is listed twice"));
        }
    }
    if sums.is_empty() { Err(SumsFault { line: 1, reason: "the list is empty" }) } else { Ok(sums) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read_again() {
        let files = BTreeMap::from([("a b/c.txt".to_owned(), b"abc".to_vec()), (SUMS.to_owned(), Vec::new())]);
        let text = write_sums(&files);
        // The digest of "abc": FIPS 180-2, appendix B.1.
        let expected = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(text, format!("{expected}  a b/c.txt\n"));
        assert_eq!(read_sums(&text), Ok(BTreeMap::from([("a b/c.txt".to_owned(), expected.to_owned())])));
        assert_eq!(digest_of(&b"abc"[..]).expect("memory can be read"), expected);
    }

    #[test]
    fn lines_that_lead_astray_are_refused() {
        let digest = "0".repeat(64);
        for path in ["../x", "/etc/passwd", "a//b", "C:x", "a\\b", "./a"] {
            assert!(read_sums(&format!("{digest}  {path}\n")).is_err(), "{path}");
        }
        for text in ["", "abc", &format!("{digest}x a\n"), &format!("{digest}  a\n{digest}  a\n"), &"é".repeat(40)] {
            assert!(read_sums(text).is_err(), "{text}");
        }
        assert!(read_sums(&format!("{digest} *a\r\n")).is_ok());
    }
}
