//! An author's text as it may stand on a terminal.
//!
//! Owns: characters that would act on the terminal or hide what is written. Must not know: messages.

/// One line: control characters and those that turn the direction of writing become visible signs, line ends and tabs
/// become spaces.
pub(super) fn line(text: &str) -> String {
    text.chars().map(|c| if matches!(c, '\t' | '\n' | '\r') { ' ' } else { visible(c) }).collect()
}

/// A character that is safe to show in place of `c`.
pub(super) fn visible(c: char) -> char {
    match c {
        // Unicode chapter 22.7, Control Pictures: one sign for each control character of ASCII.
        '\0'..='\x1F' => char::from_u32(0x2400 + c as u32).unwrap_or('\u{FFFD}'),
        '\x7F' => '\u{2421}',
        '\u{80}'..='\u{9F}' => '\u{FFFD}',
        // Unicode Standard Annex 9: marks that turn the direction; and what takes no room.
        '\u{061C}' | '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{FEFF}' => {
            '\u{FFFD}'
        }
        c => c,
    }
}

#[cfg(test)]
mod tests {
    use super::line;

    #[test]
    fn nothing_acts_on_the_terminal() {
        assert_eq!(line("a\x1b[31mb\u{202E}c\td\r\ne\u{9B}f"), "a\u{241B}[31mb\u{FFFD}c d  e\u{FFFD}f");
        assert_eq!(line("Ø 25 mm – ½"), "Ø 25 mm – ½");
    }
}
