//! Digests.

use sha2::{Digest as _, Sha256};

use crate::source::hex;

/// The SHA-256 digest of `bytes` in 64 hexadecimal digits (FIPS 180-4).
pub fn hex_digest(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}

/// The same as bytes, for what is compared and not kept.
pub fn digest(bytes: &[u8]) -> [u8; 32] {
    Sha256::digest(bytes).into()
}

/// Whether a text has the form of a digest as it is written here.
pub(super) fn has_digest_form(text: &str) -> bool {
    text.len() == 64 && text.bytes().all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b))
}

#[cfg(test)]
mod tests {
    /// FIPS 180-4, the example of one block.
    #[test]
    fn digest_of_a_known_text() {
        let abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(super::hex_digest(b"abc"), abc);
    }
}
