//! What the shop must know before it cuts: pieces of tube with both ends worked out, bends laid out flat, cables with
//! what they are cut to, rows of holes.
//!
//! Owns: putting together what parts, stock and the work of steps say about a piece. Must not know: documents,
//! drawings, rules.

mod bend;
mod bond;
mod cable;
mod hole_row;
mod tube;

pub use bend::{BendFault, BentPiece, BentShape, FlatEnd, bent_piece, flat_end};
pub use bond::{GluedBond, bonds};
pub use cable::{CableFault, CableFaultKind, CableRun, cable_faults, cables};
pub use hole_row::{hole_row, nearest_mark, tape_step};
pub use tube::{EndWork, TubeFault, TubePiece, TubeWork, on_tape, tube_size};
