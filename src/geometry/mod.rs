//! The geometry of tubes and bends, in inches and degrees.
//!
//! Owns: end cuts and their curves, pieces between two cuts, bends, telescoping. Must not know: materials, parts,
//! drawings, paper.

mod bend;
mod impossible;
mod marks;
mod mitre;
mod piece;
mod saddle;
mod telescope;
mod turn;
mod wrap;

pub use bend::{Bend, Developed, developed, flattened_width};
pub use impossible::{Gap, Impossible};
pub use marks::{equally_spaced, nearest};
pub use mitre::{Mitre, corner_mitre};
pub use piece::{CutPiece, EndCut, Lines};
pub use saddle::{Extreme, Saddle};
pub use telescope::clearance;
pub use wrap::{Wrap, WrapPoint};

#[cfg(test)]
mod tests;
