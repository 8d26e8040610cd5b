//! Writing of documents: HTML pages, PDF, CSV tables.
//!
//! Owns: markup, file formats, file names inside an output folder, cell quoting.
//! Must not know: the model, configurations, how a document was composed, the disk.

pub mod csv;
mod error;
pub mod html;
pub mod pdf;
pub mod stick;

pub use error::EmitError;
