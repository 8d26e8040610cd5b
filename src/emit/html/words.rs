//! The words of pages, for the search.

use crate::document::{Block, BlockKind, LineRole, all_blocks, plain_text};
use crate::units::UnitStyle;

/// All that some blocks say, a space after each line. Labels and headings are left out: they are the same on every page.
pub fn text_of(blocks: &[Block], units: UnitStyle) -> String {
    let mut out = String::new();
    let mut put = |text: &str| {
        out.push_str(text);
        out.push(' ');
    };
    for block in all_blocks(blocks) {
        if let BlockKind::Preformatted(text) = &block.kind {
            put(text);
        }
        for (role, line) in block.lines() {
            if role == LineRole::Said {
                put(&plain_text(line, units));
            }
        }
    }
    out
}

/// The words of a text as the search knows them: lower case, without signs around them. A number made of several
/// pieces, such as `AN4-15A`, stands for itself and for its pieces.
pub fn words(text: &str) -> Vec<String> {
    let mut words = Vec::new();
    for rough in text.split(|c: char| c.is_whitespace() || matches!(c, ',' | ';' | '(' | ')' | '"' | '×')) {
        let word = rough.trim_matches(|c: char| !c.is_alphanumeric()).to_lowercase();
        if word.is_empty() {
            continue;
        }
        let pieces: Vec<&str> = word.split(|c: char| !c.is_alphanumeric()).filter(|p| !p.is_empty()).collect();
        if pieces.len() > 1 {
            words.extend(pieces.iter().map(|p| (*p).to_owned()));
        }
        words.push(word);
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_stands_for_itself_and_its_pieces() {
        assert_eq!(
            words("Fit AN4-15A, then (KW-103-L)."),
            ["fit", "an4", "15a", "an4-15a", "then", "kw", "103", "l", "kw-103-l"]
        );
        assert_eq!(words("  — \"…\" "), Vec::<String>::new());
    }
}
