//! How places and columns of text are written.

use crate::source::{Place, SourceMap, Span};

/// `parts.csv, row 41, column ICE` or `steps/frame/keel.md:12`.
pub(super) fn place(sources: &SourceMap, span: Span) -> String {
    let name = sources.name(span.file);
    match sources.place(span) {
        Place::Text { line, .. } => format!("{name}:{line}"),
        Place::Cell { row, column } => format!("{name}, row {row}, column {column}"),
    }
}

/// Lines whose cells stand below one another, two spaces apart and set in by two. The last cell of a line is not filled
/// up.
pub(super) fn aligned(rows: &[Vec<String>]) -> String {
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let wide = |c: usize| rows.iter().filter_map(|r| r.get(c)).map(|t| t.chars().count()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..count).map(wide).collect();
    let mut text = String::new();
    for row in rows {
        let mut line = String::new();
        for (cell, width) in row.iter().zip(&widths) {
            line.push_str("  ");
            line.push_str(cell);
            line.extend(std::iter::repeat_n(' ', width - cell.chars().count()));
        }
        text.push_str(line.trim_end());
        text.push('\n');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::aligned;

    #[test]
    fn cells_stand_below_one_another() {
        let rows =
            [vec!["1.1".to_owned(), "keel".to_owned()], vec!["10.12".to_owned(), "é".to_owned(), "x".to_owned()]];
        assert_eq!(aligned(&rows), "  1.1    keel\n  10.12  é     x\n");
    }
}
