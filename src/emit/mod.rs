//! Writing of documents: HTML pages and CSV tables.
//!
//! Owns: markup, file names inside an output folder, cell quoting.
//! Must not know: the model, configurations, how a document was composed, the disk.

pub mod csv;
mod error;
pub mod html;

pub use error::EmitError;
