//! The geometry of tubes and bends, in inches and degrees.
//!
//! Owns: end cuts and their curves, pieces between two cuts, bends, telescoping. Must not know: materials, parts,
//! drawings, paper.

mod bend;
mod impossible;
mod mitre;
mod piece;
mod saddle;
mod telescope;
mod turn;

pub use bend::{Bend, developed};
pub use impossible::{Gap, Impossible};
pub use mitre::{Mitre, corner_mitre};
pub use piece::{EndCut, Lines, Piece};
pub use saddle::{Extreme, Saddle};
pub use telescope::clearance;

#[cfg(test)]
mod tests;
