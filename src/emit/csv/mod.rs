//! CSV tables for spreadsheet programs.
//!
//! Owns: byte order mark, line ends, quoting, and cells that a spreadsheet would run as a formula.
//! Must not know: what the rows mean beyond the columns of a pick list.
//!
//! A cell such as `0104` or `3-4` is written as it is; many spreadsheet programs read it as a number or a
//! date all the same. CSV has no way to say that a cell is text.

mod pick_list;
mod sheet;
mod table;

pub use pick_list::pick_list_csv;
pub use sheet::sheet_csv;
pub use table::Csv;
