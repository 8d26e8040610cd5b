//! Documents to files.
//!
//! Owns: file formats. Must not know: model, resolve, trade.

pub mod pdf;
