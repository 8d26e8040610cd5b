//! What the compiler has to say to the author: findings, with their place and the way out.
//!
//! Owns: the `Diagnostic` type, its collection and order. Must not know: rules, documents, terminals'
//! settings beyond what `render` is told.

mod diagnostic;
mod near;
mod refusal;
mod render;

pub use diagnostic::{Diagnostic, Diagnostics, Level, Note, Sink, merge};
pub use near::{did_you_mean, did_you_mean_or, nearest};
pub use refusal::Refusal;
pub use render::{Colour, Format, render};
