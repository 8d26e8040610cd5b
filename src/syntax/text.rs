//! Which encoding a text file has.

/// A decoded text and what was assumed.
#[derive(Clone, Debug)]
pub struct Decoded {
    pub text: String,
    /// `UTF-8`, `UTF-8 with byte order mark`, `UTF-16 little endian`, `UTF-16 big endian`, `Windows-1252`.
    pub encoding: &'static str,
}

/// Decodes what a spreadsheet program wrote: UTF-8 with or without a byte order mark, UTF-16 (with or without), else Windows-1252.
pub fn decode(bytes: &[u8]) -> Decoded {
    let _ = bytes;
    todo!()
}
