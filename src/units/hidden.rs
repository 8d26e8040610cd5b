//! Characters that no text of a manual may hold, since what is read would not be what is written, or would be read
//! otherwise on a page than on paper.
//!
//! Owns: which they are, and what is said of them. Must not know: where a text stands.

/// What is wrong with a character, in words; None for one that may stand in a text.
pub fn hidden(c: char) -> Option<&'static str> {
    let code = u32::from(c);
    Some(match code {
        0x09 | 0x0A | 0x0D => return None,
        // Unicode 17, 23.1: control codes.
        0..=0x1F | 0x7F..=0x9F => "a control character",
        // Unicode Standard Annex 9, 2.
        0x061C | 0x200E | 0x200F | 0x202A..=0x202E | 0x2066..=0x2069 => "a mark that turns the direction of writing",
        // Unicode 17, 23.2 and 23.8 to 23.9, and letters that are blank (18.6).
        0xAD
        | 0x115F
        | 0x1160
        | 0x180E
        | 0x200B..=0x200D
        | 0x2028
        | 0x2029
        | 0x2060..=0x2065
        | 0x206A..=0x206F
        | 0x3164
        | 0xFEFF
        | 0xFFA0
        | 0xFFF9..=0xFFFB
        | 0xE0000..=0xE0FFF => "a character that is not seen",
        0xFDD0..=0xFDEF => "a code that stands for no character",
        _ if code & 0xFFFE == 0xFFFE => "a code that stands for no character",
        // Unicode 17, blocks of scripts whose letters run to the left: Hebrew, Arabic, Syriac and those after them.
        0x0590..=0x08FF
        | 0xFB1D..=0xFDCF
        | 0xFDF0..=0xFDFF
        | 0xFE70..=0xFEFC
        | 0x1_0800..=0x1_0FFF
        | 0x1_E800..=0x1_EFFF => "a letter of a script that runs from right to left, which is not set here",
        _ => return None,
    })
}

/// A character by its number, as standards write it.
pub fn character_code(c: char) -> String {
    format!("U+{:04X}", u32::from(c))
}

#[cfg(test)]
mod tests {
    use super::{character_code, hidden};

    #[test]
    fn what_is_seen_may_stand() {
        for c in "\t\n\rA z~\u{A0}Øé½–“”…→⌀☐⚠\u{FE0F}日本\u{E000}".chars() {
            assert_eq!(hidden(c), None, "{}", character_code(c));
        }
        for c in "\0\x1B\x7F\u{85}\u{AD}\u{200B}\u{200D}\u{202E}\u{2028}\u{2066}\u{FEFF}\u{FFFE}\u{10FFFF}אش\u{E0041}"
            .chars()
        {
            assert!(hidden(c).is_some(), "{}", character_code(c));
        }
    }
}
