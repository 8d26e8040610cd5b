//! From text to spanned trees: YAML, tables (CSV and workbooks), Markdown, conditions.
//!
//! Owns: reading without stopping at the first fault. Must not know: what a key or a column means.

mod condition;
mod csv_rows;
mod hidden;
pub mod markdown;
mod numbers;
mod step_file;
mod table;
mod text;
mod workbook;
mod yaml;

pub use condition::{Condition, parse_condition};
pub use step_file::{StepFile, parse_step_file};
pub use table::{SourceRow, SourceTable, parse_csv};
pub use text::{DecodedText, decode, utf8_or_report};
pub use workbook::parse_workbook;
pub use yaml::{Node, NodeKind, parse_yaml};
