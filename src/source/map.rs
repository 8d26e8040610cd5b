//! The texts that were read, by file id, and how a place in them is named to a person.

use super::Span;

/// A source text in a [`SourceMap`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub u32);

/// A cell of a table: its bytes in the table's text, its row as a spreadsheet numbers it, its column heading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CellPlace {
    pub start: u32,
    pub end: u32,
    pub row: u32,
    pub column: std::sync::Arc<str>,
}

/// How a place is named to a person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// Line and column, both from 1; the column counts characters.
    Text { line: usize, column: usize },
    /// A cell of a table.
    Cell { row: u32, column: String },
}

#[derive(Clone, Debug)]
struct SourceText {
    name: String,
    text: String,
    line_starts: Vec<u32>,
    cells: Vec<CellPlace>,
}

/// All texts that were read, in the order in which they were added.
#[derive(Clone, Debug, Default)]
pub struct SourceMap {
    sources: Vec<SourceText>,
}

impl SourceMap {
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a text. `name` is the path as the author knows it, relative to the manual's folder.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<String>) -> FileId {
        let text = text.into();
        let line_starts = std::iter::once(0)
            .chain(text.bytes().enumerate().filter(|&(_, b)| b == b'\n').map(|(i, _)| i as u32 + 1))
            .collect();
        self.sources.push(SourceText { name: name.into(), text, line_starts, cells: Vec::new() });
        FileId(self.sources.len() as u32 - 1)
    }

    /// Declares the cells of a table's text, ordered by their start.
    pub fn set_cells(&mut self, file: FileId, cells: Vec<CellPlace>) {
        debug_assert!(cells.is_sorted_by_key(|c| c.start));
        self.sources[file.0 as usize].cells = cells;
    }

    pub fn name(&self, file: FileId) -> &str {
        &self.sources[file.0 as usize].name
    }

    pub fn text(&self, file: FileId) -> &str {
        &self.sources[file.0 as usize].text
    }

    /// The text of a span; empty where the span does not fit its file.
    pub fn slice(&self, span: Span) -> &str {
        self.text(span.file).get(span.range()).unwrap_or("")
    }

    /// Every file id, in order.
    pub fn files(&self) -> impl Iterator<Item = FileId> + use<> {
        (0..self.sources.len() as u32).map(FileId)
    }

    /// How the start of `span` is named to a person.
    pub fn place(&self, span: Span) -> Place {
        let source = &self.sources[span.file.0 as usize];
        if !source.cells.is_empty() {
            let at = source.cells.partition_point(|c| c.start <= span.start).saturating_sub(1);
            let cell = &source.cells[at];
            return Place::Cell { row: cell.row, column: cell.column.to_string() };
        }
        let (line, column) = self.line_column(span);
        Place::Text { line, column }
    }

    /// The cells of the row in which `span` starts, in order; none where the file is no table.
    pub fn row(&self, span: Span) -> &[CellPlace] {
        let cells = &self.sources[span.file.0 as usize].cells;
        let at = cells.partition_point(|c| c.start <= span.start).saturating_sub(1);
        let Some(row) = cells.get(at).map(|c| c.row) else { return &[] };
        // Rows are numbered upward in the text.
        let (start, end) = (cells.partition_point(|c| c.row < row), cells.partition_point(|c| c.row <= row));
        &cells[start..end]
    }

    /// Line and column of the start of `span` in its text, both from 1; the column counts characters.
    pub fn line_column(&self, span: Span) -> (usize, usize) {
        let source = &self.sources[span.file.0 as usize];
        let line = source.line_starts.partition_point(|&s| s <= span.start).max(1);
        let start = source.line_starts[line - 1] as usize;
        let column = source.text.get(start..span.start as usize).map_or(1, |s| s.chars().count() + 1);
        (line, column)
    }
}
