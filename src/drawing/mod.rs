//! Drawings that the compiler makes itself: one scene, drawn alike as SVG and as PDF.
//!
//! Owns: the scene (paths, hatches, text with values, dimensions, leaders), what becomes of it in ink, and the
//! drawings of end cuts, bends, cables, rows of holes and
//! joints. Must not know: documents, pages, fonts, markup.
//!
//! A [`Drawing`] is built of [`Mark`]s in millimetres of paper, x to the right and y down from its top left corner.
//! Its lines are those of ISO 128-2 and its dimensions those of ISO 129-1, in black alone, so that a grey print loses
//! nothing. [`Drawing::ink`] turns marks into strokes, fills and texts: dashes, arrowheads and hatches are worked out
//! here, once, so that both back ends draw the same. Values in text stay values until a back end writes them in the
//! manual's units. Text is always level: nothing is read from the side.
//!
//! To draw something new: make a `Drawing`, push marks, and put it in a document as `BlockKind::Drawing` with a
//! caption; the drawing's `alt` says in words all that it shows.

mod bent;
mod bytes;
mod cable;
mod dash;
mod dimension;
mod flat_end;
mod hatch;
mod hole_row;
mod ink;
mod jig;
mod joint_section;
mod path;
mod scene;
mod template;
mod tiles;
mod tube;

pub use bent::bent_piece;
pub use cable::cable;
pub use flat_end::flat_end;
pub use hole_row::hole_row;
pub use ink::{Ink, Tone};
pub use jig::one_jig;
pub use joint_section::{Hatching, joint_section};
pub use path::{Path, PathSegment};
pub use scene::{Align, ArrowSide, Drawing, LineType, Mark, Point, Text, Word, plain_words};
pub use template::{PrintScale, strip_template, wrap_template};
pub use tiles::PaperSheet;
pub use tube::{draws_shortest, tube_piece};

#[cfg(test)]
mod tests;
