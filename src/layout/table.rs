//! Tables: column widths, rows as slabs, the head again on each page.
//!
//! Owns: how a table is set in a column. Must not know: pages.

use std::sync::Arc;

use super::columns::Measures;
use super::composer::{Composer, Stand};
use super::fonts::FaceStyle;
use super::frame::{Problem, Role, TagId};
use super::lines::{natural_width, widest_word};
use super::para::{Para, TextLook};
use super::slab::Slab;
use super::{bars, marks};
use crate::document::{CellAlign, Column, ColumnKind, Inline, Inlines, Table, TableRole, TableRow, Width};

/// Room at either side of a cell and above and below its text, in points.
const PAD_X: f64 = 5.5;
const PAD_Y: f64 = 2.2;

pub fn table(c: &mut Composer, table: &Table) {
    if table.columns.is_empty() {
        return;
    }
    let style = c.setting.style;
    let tag = c.new_tag(Role::Table);
    let mut gap = c.size * 0.7;
    if !table.caption.is_empty() {
        let look = TextLook::new(FaceStyle::Bold, c.size, style.text);
        let caption = c.new_tag_in(Role::Caption, tag);
        let para = c.para(&table.caption, look);
        c.set_para(&para, look, caption, Stand::kept(gap));
        gap = 3.0;
    }
    let mut size = c.size;
    let mut cells = SetCells::shape(c, table, size);
    let (x, width) = (c.x, c.width);
    if cells.least() > width {
        size = (c.size * 0.84).max(8.0);
        cells = SetCells::shape(c, table, size);
        c.problems.push(Problem::TableTight { origin: c.origin.clone() });
    }
    let widths = cells.measures.share(width);
    let grid = Grid { x, size, widths };

    let head_tag = c.new_tag_in(Role::TableHead, tag);
    let head = cells.has_head().then(|| {
        let row = c.new_tag_in(Role::Row, head_tag);
        let tags: Vec<TagId> = table.columns.iter().map(|_| c.new_tag_in(Role::HeadOfColumn, row)).collect();
        let look = TextLook::new(FaceStyle::Bold, style.small.min(size), style.muted);
        let mut slab = row_slab(c, table, &cells.head, &tags, look, &grid);
        slab.items.push(c.decoration(x, slab.height, marks::line(width, 0.0, style.accent, 1.0)));
        slab.before = gap;
        slab.keep = true;
        slab
    });
    let again = head.as_ref().map(|h| Arc::new(h.untagged()));
    let has_head = head.is_some();
    if let Some(head) = head {
        c.push(head);
    }
    let body = c.new_tag_in(Role::TableBody, tag);
    let count = table.rows.len();
    // What is set again above the rows that follow: the head, and the subheading that they stand under.
    let mut over = again.clone();
    for (i, (row, paras)) in table.rows.iter().zip(&cells.rows).enumerate() {
        let tags = row_tags(c, table, row, body);
        let subhead = is_subhead(table, row);
        let face = if subhead { FaceStyle::Bold } else { FaceStyle::Regular };
        let look = TextLook::new(face, size, style.text);
        if let Some(anchor) = &row.anchor {
            c.anchor(anchor);
        }
        let mut slabs = row_slabs(c, table, paras, &tags, look, &grid);
        let parts = slabs.len();
        for (part, slab) in slabs.iter_mut().enumerate() {
            if i == 0 && part == 0 && !has_head {
                slab.before = gap;
            }
            if part + 1 == parts {
                let strong = if subhead { style.muted } else { style.hairline };
                slab.items.push(c.decoration(x, slab.height, marks::line(width, 0.0, strong, 0.5)));
            }
            slab.head = if subhead { again.clone() } else { over.clone() };
            // The first rows stay with the head, the last two together; a subheading stays with its rows.
            slab.keep = parts == 1 && i + 1 < count && (subhead || (count > 2 && (i == 0 || i + 2 == count)));
        }
        if subhead {
            over = Some(Arc::new(continued(c, table, row, &tags, look, &grid, again.as_deref())));
        }
        let bar = bars::begin(c, &row.origin);
        for slab in slabs {
            c.push(slab);
        }
        bars::end(c, bar, tags.first().copied().unwrap_or(body));
    }
}

/// The head of a table with a subheading under it, for the top of a page that goes on with its rows.
fn continued(
    c: &mut Composer,
    table: &Table,
    row: &TableRow,
    tags: &[TagId],
    look: TextLook,
    grid: &Grid,
    head: Option<&Slab>,
) -> Slab {
    let content: Inlines = row.cells[0].content.iter().cloned().chain([Inline::text(", continued")]).collect();
    let cell = SetCell { para: c.para(&content, look), span: usize::from(row.cells[0].span.max(1)) };
    let mut below = row_slab(c, table, &[cell], tags, look, grid);
    let width = grid.widths.iter().sum();
    below.items.push(c.decoration(grid.x, below.height, marks::line(width, 0.0, c.setting.style.muted, 0.5)));
    let mut over = head.cloned().unwrap_or_default();
    over.stack(below.untagged(), 0.0);
    over
}

fn is_subhead(table: &Table, row: &TableRow) -> bool {
    table.columns.len() > 1 && row.cells.len() == 1 && usize::from(row.cells[0].span) >= table.columns.len()
}

fn row_tags(c: &mut Composer, table: &Table, row: &TableRow, body: TagId) -> Vec<TagId> {
    let row_tag = c.new_tag_in(Role::Row, body);
    let mut column = 0;
    row.cells
        .iter()
        .map(|cell| {
            let names = table.columns.get(column).is_some_and(|c| c.kind == ColumnKind::Name) || is_subhead(table, row);
            let tag = c.new_tag_in(if names { Role::HeadOfRow } else { Role::Cell }, row_tag);
            c.tags[tag.0 as usize].columns = cell.span.max(1);
            column += usize::from(cell.span.max(1));
            tag
        })
        .collect()
}

/// Where a table stands and how wide its columns are, with their padding.
struct Grid {
    x: f64,
    size: f64,
    widths: Vec<f64>,
}

impl Grid {
    /// Left edge and width of the text of a cell from `column` over `span` columns.
    fn cell(&self, column: usize, span: usize) -> (f64, f64) {
        let first = column.min(self.widths.len());
        let last = (column + span).min(self.widths.len());
        let left = self.x + self.widths[..first].iter().sum::<f64>();
        let width = self.widths[first..last].iter().sum::<f64>();
        (left + PAD_X, (width - 2.0 * PAD_X).max(6.0))
    }
}

struct SetCell {
    para: Para,
    span: usize,
}

struct SetCells {
    head: Vec<SetCell>,
    rows: Vec<Vec<SetCell>>,
    measures: Measures,
}

impl SetCells {
    fn shape(c: &mut Composer, table: &Table, size: f64) -> Self {
        let style = c.setting.style;
        let head_look = TextLook::new(FaceStyle::Bold, style.small.min(size), style.muted);
        let head: Vec<SetCell> =
            table.columns.iter().map(|column| SetCell { para: c.para(&column.title, head_look), span: 1 }).collect();
        let rows: Vec<Vec<SetCell>> = table
            .rows
            .iter()
            .map(|row| {
                let face = if is_subhead(table, row) { FaceStyle::Bold } else { FaceStyle::Regular };
                let look = TextLook::new(face, size, style.text);
                row.cells
                    .iter()
                    .map(|cell| SetCell { para: c.para(&cell.content, look), span: usize::from(cell.span.max(1)) })
                    .collect()
            })
            .collect();
        let mut least = vec![2.0 * PAD_X + 6.0; table.columns.len()];
        let mut wished = least.clone();
        let mut widths = Vec::with_capacity(rows.len());
        for cells in std::iter::once(&head).chain(&rows) {
            let mut row = least.iter().map(|_| 0.0).collect::<Vec<f64>>();
            let mut column = 0;
            for cell in cells {
                if cell.span == 1 && column < least.len() {
                    row[column] = natural_width(&cell.para);
                    least[column] = least[column].max(widest_word(&cell.para) + 2.0 * PAD_X + 0.1);
                    wished[column] = wished[column].max(row[column] + 2.0 * PAD_X + 0.1);
                }
                column += cell.span;
            }
            widths.push(row);
        }
        let weight = |column: &Column| match column.width {
            Width::Fit => 0.0,
            Width::Share(w) => f64::from(w.max(1)),
        };
        let weights = table.columns.iter().map(weight).collect();
        let measures = Measures { padding: 2.0 * PAD_X, least, wished, rows: widths, weights };
        Self { head, rows, measures }
    }

    fn has_head(&self) -> bool {
        self.head.iter().any(|h| !h.para.is_empty())
    }

    fn least(&self) -> f64 {
        self.measures.least.iter().sum()
    }
}

/// A cell over several columns belongs to none of them: it starts at the left.
fn cell_align(table: &Table, column: usize, span: usize) -> CellAlign {
    table.columns.get(column).filter(|_| span == 1).map_or(CellAlign::Start, |c| c.align)
}

fn row_slab(c: &mut Composer, table: &Table, cells: &[SetCell], tags: &[TagId], look: TextLook, grid: &Grid) -> Slab {
    let mut parts = row_slabs(c, table, cells, tags, look, grid);
    let mut slab = parts.remove(0);
    for part in parts {
        slab.stack(part, 0.0);
    }
    slab
}

/// A row as slabs: one, or several where it is taller than half a page.
fn row_slabs(
    c: &mut Composer,
    table: &Table,
    cells: &[SetCell],
    tags: &[TagId],
    look: TextLook,
    grid: &Grid,
) -> Vec<Slab> {
    let pad = match table.role {
        TableRole::PickList => PAD_Y + 1.5,
        // Room to write by hand.
        TableRole::Measures => PAD_Y + c.setting.style.tick * 0.3,
        _ => PAD_Y,
    };
    let mut columns: Vec<std::vec::IntoIter<Slab>> = Vec::with_capacity(cells.len());
    let mut column = 0;
    for (i, cell) in cells.iter().enumerate() {
        let lines = match tags.get(i) {
            Some(&tag) if column < grid.widths.len() => {
                c.lines(&cell.para, look, tag, grid.cell(column, cell.span), cell_align(table, column, cell.span))
            }
            _ => Vec::new(),
        };
        columns.push(lines.into_iter());
        column += cell.span;
    }
    let limit = (c.page_height * 0.5).max(60.0);
    let mut out = Vec::new();
    let mut waiting: Vec<Option<Slab>> = columns.iter_mut().map(Iterator::next).collect();
    loop {
        let mut part = Slab { height: c.setting.style.line(grid.size), ..Slab::default() };
        let mut cells: Vec<Slab> = Vec::with_capacity(columns.len());
        for (lines, next) in columns.iter_mut().zip(&mut waiting) {
            let mut cell = Slab::default();
            while let Some(line) = next.take() {
                if cell.height + line.height > limit && cell.height > 0.0 {
                    *next = Some(line);
                    break;
                }
                cell.stack(line, 0.0);
                *next = lines.next();
            }
            cells.push(cell);
        }
        // The first lines of a row's cells stand on one line, also beside a blank to write in.
        part.baseline = cells.iter().filter_map(|cell| cell.baseline).reduce(f64::max);
        for mut cell in cells {
            let lower = cell.baseline.zip(part.baseline).map_or(0.0, |(here, there)| there - here);
            cell.shift(0.0, lower);
            part.height = part.height.max(cell.height + lower);
            part.items.append(&mut cell.items);
            part.links.append(&mut cell.links);
        }
        let inner = part.height;
        part.shift(0.0, pad);
        part.height = inner + 2.0 * pad;
        out.push(part);
        if waiting.iter().all(Option::is_none) {
            return out;
        }
    }
}
