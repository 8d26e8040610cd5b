//! Which encoding a text file has.
//!
//! Owns: telling encodings apart, decoding. Must not know: what the text holds.

use crate::diag::{Diagnostic, Sink};

/// A decoded text and what was assumed.
#[derive(Clone, Debug)]
pub struct DecodedText {
    pub text: String,
    /// `UTF-8`, `UTF-8 with byte order mark`, `UTF-16 little endian`, `UTF-16 big endian`, `Windows-1252`.
    pub encoding: &'static str,
    /// Whether some bytes stand for no character in that encoding; each became `U+FFFD`.
    pub damaged: bool,
}

/// Decodes what a spreadsheet program wrote: UTF-8 with or without a byte order mark, UTF-16 (with or without), else Windows-1252.
pub fn decode(bytes: &[u8]) -> DecodedText {
    if let Some(rest) = bytes.strip_prefix(b"\xEF\xBB\xBF") {
        let (text, damaged) = encoding_rs::UTF_8.decode_without_bom_handling(rest);
        return DecodedText { text: text.into_owned(), encoding: "UTF-8 with byte order mark", damaged };
    }
    if let Some((encoding, name, skip)) = utf16(bytes) {
        let (text, damaged) = encoding.decode_without_bom_handling(&bytes[skip..]);
        return DecodedText { text: text.into_owned(), encoding: name, damaged };
    }
    if let Ok(text) = std::str::from_utf8(bytes) {
        return DecodedText { text: text.to_owned(), encoding: "UTF-8", damaged: false };
    }
    let (text, _) = encoding_rs::WINDOWS_1252.decode_without_bom_handling(bytes);
    // The five bytes that Windows-1252 leaves open decode to control characters.
    let damaged = text.chars().any(|c| ('\u{80}'..='\u{9F}').contains(&c));
    DecodedText { text: text.into_owned(), encoding: "Windows-1252", damaged }
}

/// The largest step, page or settings file, in bytes: thirty times what the longest step needs.
const LARGEST_TEXT: usize = 1 << 20;
/// The longest line, in bytes: a paragraph may be one line.
const LONGEST_LINE: usize = 64_000;
/// The longest run of characters without a space, in bytes: addresses are shorter.
const LONGEST_WORD: usize = 2_000;

/// The text of a step, a page or the manual's settings, which must be UTF-8; a byte order mark is dropped.
/// Where it is not, the fault goes to `sink`, with what the author sees and how to put it right.
pub fn utf8_or_report(path: &str, bytes: &[u8], sink: &mut Sink) -> Option<String> {
    if bytes.len() > LARGEST_TEXT {
        sink.push(
            Diagnostic::error("text-too-large", format!("the file has more than {} MB", LARGEST_TEXT >> 20))
                .in_file(path)
                .help("split it; if it is no text, put the right file in its place"),
        );
        return None;
    }
    if utf16(bytes).is_some() {
        sink.push(
            Diagnostic::error("not-utf-8", "the file is saved as UTF-16, and only UTF-8 is read here")
                .in_file(path)
                .help("open it in an editor and save it again with the encoding UTF-8"),
        );
        return None;
    }
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) if !text.contains('\0') => match too_long(text) {
            None => Some(text.to_owned()),
            Some(headline) => {
                sink.push(
                    Diagnostic::error("text-too-large", headline)
                        .in_file(path)
                        .help("break it into several; if it is no text, put the right file in its place"),
                );
                None
            }
        },
        Ok(_) => {
            sink.push(
                Diagnostic::error("not-utf-8", "this is not a text file")
                    .in_file(path)
                    .help("it holds bytes that no text holds; put the right file in its place"),
            );
            None
        }
        Err(fault) => {
            let valid = fault.valid_up_to();
            let line = bytes[..valid].iter().filter(|&&b| b == b'\n').count() + 1;
            let start = bytes[..valid].iter().rposition(|&b| b == b'\n').map_or(0, |i| i + 1);
            let end = bytes[valid..].iter().position(|&b| b == b'\n').map_or(bytes.len(), |i| valid + i);
            let (shown, _) = encoding_rs::WINDOWS_1252.decode_without_bom_handling(&bytes[start..end]);
            let shown: String = shown.trim().chars().take(60).collect();
            sink.push(
                Diagnostic::error("not-utf-8", format!("line {line} is not UTF-8, the only encoding read here"))
                    .in_file(path)
                    .help(format!(
                        "open the file in an editor and save it again with the encoding UTF-8; the line may be meant as \
                         `{shown}`"
                    )),
            );
            None
        }
    }
}

/// What is longer than it may be, in words.
fn too_long(text: &str) -> Option<String> {
    let (number, line) = (1..)
        .zip(text.lines())
        .find(|(_, line)| line.len() > LONGEST_LINE || line.split_whitespace().any(|word| word.len() > LONGEST_WORD))?;
    Some(match line.len() > LONGEST_LINE {
        true => format!("line {number} has more than {LONGEST_LINE} characters"),
        false => format!("line {number} holds a word of more than {LONGEST_WORD} characters"),
    })
}

/// Whether this is UTF-16: by its byte order mark, else by the zero bytes that fill every second place of a text in
/// a Latin script. Gives the length of the mark as well.
fn utf16(bytes: &[u8]) -> Option<(&'static encoding_rs::Encoding, &'static str, usize)> {
    const LITTLE: (&encoding_rs::Encoding, &str) = (encoding_rs::UTF_16LE, "UTF-16 little endian");
    const BIG: (&encoding_rs::Encoding, &str) = (encoding_rs::UTF_16BE, "UTF-16 big endian");
    if bytes.starts_with(b"\xFF\xFE") {
        return Some((LITTLE.0, LITTLE.1, 2));
    }
    if bytes.starts_with(b"\xFE\xFF") {
        return Some((BIG.0, BIG.1, 2));
    }
    let head = &bytes[..bytes.len().min(4096) & !1];
    let pairs = head.len() / 2;
    if pairs < 2 || !bytes.len().is_multiple_of(2) {
        return None;
    }
    let zeros = |offset: usize| head.iter().skip(offset).step_by(2).filter(|&&b| b == 0).count();
    let (even, odd) = (zeros(0), zeros(1));
    // Most of a table is digits and Latin letters; zeros on the other side would be characters of value 0.
    if odd * 10 >= pairs * 7 && even == 0 {
        Some((LITTLE.0, LITTLE.1, 0))
    } else if even * 10 >= pairs * 7 && odd == 0 {
        Some((BIG.0, BIG.1, 0))
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{decode, utf8_or_report};

    #[test]
    fn every_encoding_gives_the_same_text() {
        let text = "number,name\nKW-101,Mast foot – ½\u{201D} tube, Ø 25 mm é\n";
        let little: Vec<u8> = text.encode_utf16().flat_map(u16::to_le_bytes).collect();
        let big: Vec<u8> = text.encode_utf16().flat_map(u16::to_be_bytes).collect();
        // Byte values of Windows-1252 from the WHATWG Encoding Standard, index windows-1252.
        let windows: Vec<u8> = text
            .chars()
            .map(|c| match c {
                '–' => 0x96,
                '\u{201D}' => 0x94,
                c => u8::try_from(u32::from(c)).unwrap(),
            })
            .collect();
        let cases: [(&str, Vec<u8>); 7] = [
            ("UTF-8", text.into()),
            ("UTF-8 with byte order mark", [b"\xEF\xBB\xBF", text.as_bytes()].concat()),
            ("UTF-16 little endian", little.clone()),
            ("UTF-16 little endian", [b"\xFF\xFE".to_vec(), little].concat()),
            ("UTF-16 big endian", big.clone()),
            ("UTF-16 big endian", [b"\xFE\xFF".to_vec(), big].concat()),
            ("Windows-1252", windows),
        ];
        for (encoding, bytes) in cases {
            let decoded = decode(&bytes);
            assert_eq!((decoded.encoding, decoded.text.as_str(), decoded.damaged), (encoding, text, false));
        }
        assert!(decode(b"a\x81b\xE9").damaged);
    }

    #[test]
    fn a_step_that_is_not_utf8_says_what_to_do() {
        let mut sink = Vec::new();
        assert_eq!(utf8_or_report("a.md", b"\xEF\xBB\xBFx", &mut sink).as_deref(), Some("x"));
        assert!(sink.is_empty());
        assert_eq!(utf8_or_report("a.md", b"one\nR\xFCck\ntwo", &mut sink), None);
        assert_eq!(sink[0].headline, "line 2 is not UTF-8, the only encoding read here");
        assert!(sink[0].help.contains("`Rück`"), "{}", sink[0].help);
        assert_eq!(utf8_or_report("a.md", b"\xFF\xFEx\0", &mut sink), None);
        assert_eq!(utf8_or_report("a.md", b"x\0y", &mut sink), None);
        assert_eq!(sink.len(), 3);
    }

    #[test]
    fn a_text_has_limits_that_are_told() {
        for (text, said) in [
            ("a ".repeat(600_000), "the file has more than 1 MB"),
            (format!("one\n{}", "a b ".repeat(17_000)), "line 2 has more than 64000 characters"),
            (format!("one\n\n{}", "ab".repeat(1_001)), "line 3 holds a word of more than 2000 characters"),
        ] {
            let mut sink = Vec::new();
            assert_eq!(utf8_or_report("a.md", text.as_bytes(), &mut sink), None);
            assert_eq!((sink.len(), sink[0].headline.as_str()), (1, said));
        }
        let long = format!("{}\n", "word ".repeat(12_000)).repeat(10);
        assert!(utf8_or_report("a.md", long.as_bytes(), &mut Vec::new()).is_some());
    }

    proptest! {
        #[test]
        fn any_bytes_are_read(bytes: Vec<u8>) {
            let _ = decode(&bytes);
            let mut sink = Vec::new();
            prop_assert_eq!(utf8_or_report("a", &bytes, &mut sink).is_none(), !sink.is_empty());
        }

        #[test]
        fn utf8_is_taken_as_utf8(text in "[a-z0-9,;é–\n]{1,80}") {
            prop_assert_eq!(decode(text.as_bytes()).text, text);
        }
    }
}
