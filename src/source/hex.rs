//! Bytes as text.

/// Two hexadecimal digits a byte, in lower case.
pub fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    /// RFC 4648, section 10, base 16 of `foobar`.
    #[test]
    fn two_digits_a_byte() {
        assert_eq!(super::hex(b"foobar"), "666f6f626172");
        assert_eq!(super::hex(&[0, 255]), "00ff");
    }
}
