//! Source files: where they come from, what they hold, and places in them.
//!
//! Owns: the `Files` and `Output` traits (the only ways to read and write), the `Shelf` of what is kept between runs, the map of source texts, spans.
//! Must not know: what a file means, how a message is printed.

mod disk;
mod files;
mod hex;
mod map;
mod output;
mod shelf;
mod snapshot;
mod span;

pub use disk::Disk;
pub use files::{FileEntry, Files, LoadError, Memory};
pub use hex::hex;
pub use map::{CellPlace, FileId, Place, SourceMap};
pub use output::{Collected, Output};
pub use shelf::Shelf;
pub use snapshot::Snapshot;
pub use span::{Span, Spanned};
