//! What the shop must know before it cuts: pieces of tube with both ends worked out.
//!
//! Owns: putting together what parts, stock and the cuts of steps say about a piece. Must not know: documents,
//! drawings, rules.

mod tube;

pub use tube::{on_tape, EndWork, TubeFault, TubePiece, tube_piece, tube_size};
