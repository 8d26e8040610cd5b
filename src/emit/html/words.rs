//! The words of pages, for the search.

use crate::document::{Block, BlockKind, Field, Inline, plain_text};
use crate::units::UnitStyle;

/// All text of some blocks, a space between any two.
pub fn text_of(blocks: &[Block], units: UnitStyle) -> String {
    let mut out = String::new();
    push_blocks(blocks, units, &mut out);
    out
}

fn push_line(inlines: &[Inline], units: UnitStyle, out: &mut String) {
    out.push_str(&plain_text(inlines, units));
    out.push(' ');
}

fn push_fields(fields: &[Field], units: UnitStyle, out: &mut String) {
    for field in fields {
        push_line(&field.value, units, out);
    }
}

fn push_blocks(blocks: &[Block], units: UnitStyle, out: &mut String) {
    for block in blocks {
        match &block.kind {
            BlockKind::Heading { text, .. } | BlockKind::Paragraph(text) => push_line(text, units, out),
            BlockKind::List { items, .. } => items.iter().for_each(|item| push_blocks(&item.blocks, units, out)),
            BlockKind::Table(table) => {
                table.rows.iter().flat_map(|row| &row.cells).for_each(|cell| push_line(&cell.content, units, out));
            }
            BlockKind::Safety { blocks, .. } | BlockKind::Quote(blocks) | BlockKind::Footnote { blocks, .. } => {
                push_blocks(blocks, units, out);
            }
            BlockKind::Figure(figure) => {
                push_line(&figure.caption, units, out);
                figure.callouts.iter().for_each(|callout| push_line(&callout.text, units, out));
            }
            BlockKind::Drawing(drawn) => push_line(&drawn.caption, units, out),
            BlockKind::Fields(fields) => push_fields(fields, units, out),
            BlockKind::StepHead(head) => push_fields(&head.facts, units, out),
            BlockKind::Group(group) => push_blocks(&group.blocks, units, out),
            BlockKind::SignOff { role } => push_line(role, units, out),
            BlockKind::Preformatted(text) => {
                out.push_str(text);
                out.push(' ');
            }
            BlockKind::Contents(_) | BlockKind::Rule => {}
        }
    }
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
